import {
  type BatteryModel,
  batteryModel,
  dischargeSagV,
  ocvAt,
  resistanceFactor,
  tableAt,
} from '../../battery/index.js';
import { fitWithin, Z90 } from '../../math/index.js';
import type { Battery } from '../../rig/index.js';
import type { BatteryRows } from './battery-rows.js';
import type { Found, NotIdentifiable } from './calibrate-types.js';

const FIT = { fit: 'capacity', name: 'capacity' } as const;
/**
 * How well the rested curve of a chemistry is known for one maker's battery, one standard error. As a whole it is off by OFFSET_V;
 * beside that its shape is, per 12 V [V]; and along the charge, so that a knee is placed no better than CURVE_SOC of the capacity.
 * Together they are half to two thirds of what `batteryModel` states as its accuracy. Common practice, no source.
 */
const CURVE_V = { LFP: 0.1, lead: 0.05 } as const;
const CURVE_SOC = 0.025;
/** Lead-acid gives more at small currents than at the rated one, and less in the cold: one standard error of what that makes. */
const RATE = { LFP: 0, lead: 0.08 } as const;
/** A fit that rests on what was taken in all, within this, has found a bound and no capacity. */
const AT_BOUND = 1.02;
const OFFSET_V = 0.1;
/** The curve of LFP falls from here on. */
const KNEE_SOC = 0.12;
/** What is taken is binned by this share of the rated capacity; a bin counts from so many rows. */
const BIN = 0.05;
const MIN_ROWS = 4;
/** Neighbouring bins share the error of the curve's shape: so many say as much as one, where no knee tells. */
const BINS_ALIKE = 3;
const MIN_BINS = 4;
/** Hours of discharge after which the voltage of the charge before has gone. Common practice, no source. */
const REST_H = { LFP: 1, lead: 3 } as const;
const WIDEST = 0.6;
/** A capacity with its 90 % interval [Ah], and how it was estimated. */
export interface CapacityEstimate {
  readonly ah: number;
  readonly low: number;
  readonly high: number;
  readonly by: string;
  readonly text: string;
}

/**
 * What is left of the battery, from its voltage over what was taken since it was last full, which needs a sloping curve or the
 * knee at its end. What a monitor's counter takes for 100 % is its setting, and no measurement.
 */
export function calibrateCapacity(battery: Battery, rows: BatteryRows, range: string): Found | NotIdentifiable {
  const bankAh = battery.capacityAh * battery.count;
  const estimate = capacityByVoltage(battery, rows);
  if (typeof estimate === 'string') return { ...FIT, why: estimate };
  const health = estimate.ah / bankAh;
  const share = (ah: number) => (100 * ah) / bankAh;
  const comment = `Found in the log of ${range}, by ${estimate.by}: ${estimate.ah.toFixed(0)} Ah (${estimate.low.toFixed(0)} to ${estimate.high.toFixed(0)})${eachOf(battery, estimate.ah)}.`;
  return {
    ...FIT,
    path: health <= 1 ? 'battery.health' : 'battery.capacity',
    value: estimate.ah,
    low: estimate.low,
    high: estimate.high,
    unit: 'Ah',
    before: bankAh * battery.health,
    by: estimate.by,
    text: estimate.text,
    applyTo: (rig) => ({ ...rig, battery: withCapacity(rig.battery, estimate.ah) }),
    writes:
      health <= 1
        ? [{ path: ['battery', 'health'], value: `${share(estimate.ah).toFixed(1)} %`, comment }]
        : [
            { path: ['battery', 'capacity'], value: `${(estimate.ah / battery.count).toFixed(1)} Ah`, comment },
            ...(battery.health < 1 ? [{ path: ['battery', 'health'], value: '100 %' }] : []),
          ],
  };
}

/** What stands in the file is each battery's; what a log tells is the bank's. */
const eachOf = ({ count }: Battery, bankAh: number) =>
  count > 1 ? ` in the whole bank, ${(bankAh / count).toFixed(1)} Ah in each of its ${count} batteries` : '';

/** The battery that has so much left: less than rated is its health, more a larger rating. */
function withCapacity(battery: Battery, ah: number): Battery {
  const health = ah / (battery.capacityAh * battery.count);
  return health <= 1 ? { ...battery, health } : { ...battery, capacityAh: ah / battery.count, health: 1 };
}

interface Bin {
  readonly takenAh: number;
  readonly amps: number;
  readonly volts: number;
  readonly ohmFactor: number;
}

/** Capacity from the rested voltage over the charge taken since full; or, in words, why it cannot be estimate. */
export function capacityByVoltage(battery: Battery, rows: BatteryRows): CapacityEstimate | string {
  const scale = (battery.nominalV * battery.series) / 12;
  const nothing = 'cannot be estimated from voltage';
  if (rows.voltV.every(Number.isNaN)) return `${nothing}: the log has none`;
  const bins = binsOf(battery, rows);
  if (bins.length < MIN_BINS)
    return `${nothing}: after a full charge the battery was hardly discharged while its charge could be counted`;
  const bankAh = battery.capacityAh * battery.count;
  const kind = battery.chemistry === 'LFP' ? 'LFP' : 'lead';
  const model = batteryModel({ ...battery, health: 1 });
  const deepest = bins.at(-1)!.takenAh;
  const volts = (ah: number, offset: number, { takenAh, amps, ohmFactor }: Bin) => {
    const soc = 1 - takenAh / ah;
    const worn = battery.resistanceOhm === undefined ? bankAh / ah : 1;
    const sagV = soc > 0 ? dischargeSagV(model, soc, amps * ohmFactor) : 0;
    return restedV(model, soc) - sagV - worn * tableAt(model.dischargeOhm, soc) * amps * ohmFactor + offset;
  };
  const observed = Float64Array.of(...bins.map((bin) => bin.volts), 0);
  let values: readonly number[] = [bankAh * battery.health, 0];
  let covariance: readonly (readonly number[])[] = [];
  for (let turn = 0; turn < 4; turn++) {
    const [ah] = values as [number, number];
    const sigma = bins.map((bin) => {
      const perSoc =
        Math.abs(volts(ah * 1.02, 0, bin) - volts(ah * 0.98, 0, bin)) / (0.04 * Math.max(0.05, bin.takenAh / ah));
      return Math.hypot(CURVE_V[kind] * scale, CURVE_SOC * perSoc);
    });
    const outcome = fitWithin({
      observed,
      sigma: Float64Array.of(...sigma, OFFSET_V * scale),
      cluster: observed.map((_, i) => i),
      start: values,
      low: [Math.max(0.1 * bankAh, deepest), -scale],
      high: [3 * bankAh, scale],
      model: ([ah = bankAh, offset = 0]) => Float64Array.of(...bins.map((bin) => volts(ah, offset, bin)), offset),
    });
    values = outcome.values;
    covariance = outcome.covariance;
  }
  const [ah] = values as [number, number];
  const isKnee = kind === 'LFP' && 1 - deepest / ah < KNEE_SOC;
  const half =
    Z90 * Math.hypot(Math.sqrt(covariance[0]![0]! * (isKnee ? 1 : BINS_ALIKE)), CURVE_SOC * ah, RATE[kind] * ah);
  const isAtBound = kind === 'lead' && ah < AT_BOUND * deepest;
  if (!(2 * half < WIDEST * ah) || isAtBound || (kind === 'LFP' && !isKnee))
    return `${nothing}: ${kind === 'LFP' ? 'the curve is flat until the last tenth, which the log does not reach' : 'the battery was not discharged deep enough'}`;
  const [low, high] = [Math.max(ah - half, deepest), ah + half];
  return {
    ah,
    low,
    high,
    by: `voltage against charge counted since full, down to ${deepest.toFixed(0)} Ah taken`,
    text: `The battery's voltage, against the charge counted since it was last full, tells of ${ah.toFixed(0)} Ah (${low.toFixed(0)} to ${high.toFixed(0)}).`,
  };
}

/** Rested voltage; below empty it goes on falling as steeply as in the last percent, so that a fit finds its way back. */
function restedV(model: BatteryModel, soc: number): number {
  const emptyV = ocvAt(model, 0);
  return soc >= 0 ? ocvAt(model, soc) : emptyV + 100 * soc * (ocvAt(model, 0.01) - emptyV);
}

function binsOf(battery: Battery, { takenAh, voltV, amps, restH, cellC, count }: BatteryRows): Bin[] {
  const kind = battery.chemistry === 'LFP' ? 'LFP' : 'lead';
  const widthAh = BIN * battery.capacityAh * battery.count;
  const sums = new Map<number, { rows: number; taken: number; amps: number; volts: number; cellC: number }>();
  for (let i = 0; i < count; i++) {
    if (!(amps[i]! < 0 && restH[i]! >= REST_H[kind] && takenAh[i]! > 0) || Number.isNaN(voltV[i]!)) continue;
    const bin = Math.floor(takenAh[i]! / widthAh);
    const sum = sums.get(bin) ?? { rows: 0, taken: 0, amps: 0, volts: 0, cellC: 0 };
    sums.set(bin, sum);
    sum.rows++;
    sum.taken += takenAh[i]!;
    sum.amps -= amps[i]!;
    sum.volts += voltV[i]!;
    sum.cellC += cellC[i]!;
  }
  return [...sums]
    .sort(([a], [b]) => a - b)
    .filter(([, { rows }]) => rows >= MIN_ROWS)
    .map(([, { rows, taken, amps: drawn, volts, cellC: warmth }]) => ({
      takenAh: taken / rows,
      amps: drawn / rows,
      volts: volts / rows,
      ohmFactor: resistanceFactor(battery.chemistry, warmth / rows),
    }));
}
