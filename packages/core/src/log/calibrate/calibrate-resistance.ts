import { batteryModel, resistanceFactor, tableAt } from '../../battery/index.js';
import { halfWidth90, MINUTE_MS, robustSlope, Z90 } from '../../math/index.js';
import type { Battery } from '../../rig/index.js';
import type { BatteryRows } from '../parts/battery-rows.js';
import type { Found, NotIdentifiable } from '../parts/calibrate-types.js';

/** Currents of neighbouring rows must differ by so much [A], and the rows stand so close [ms]. */
const MIN_CHANGE_A = 1.5;
const LONGEST_MS = 15.5 * MINUTE_MS;
const MIN_PAIRS = 20;
const MIN_DAYS = 4;
/** What the rest of the battery does within minutes is not all resistance. Common practice, no source. */
const FORM_ERROR = 0.08;
const WIDEST = 0.6;
const MAX_OHM = 10;
const FIT = { fit: 'resistance', name: 'resistance' } as const;

/** The battery's resistance from the jumps of its voltage when loads come and go: dV/dI while discharging. */
export function calibrateResistance(battery: Battery, rows: BatteryRows, range: string): Found | NotIdentifiable {
  const { voltV, amps, timeMs, soc, cellC, day } = rows;
  if (voltV.every(Number.isNaN)) return { ...FIT, why: 'the log has no voltage' };
  if (amps.every(Number.isNaN)) return { ...FIT, why: 'the log has no battery current' };
  const [x, y, days]: [number[], number[], number[]] = [[], [], []];
  let [socs, warmth] = [0, 0];
  for (let i = 1; i < rows.count; i++) {
    const change = amps[i]! - amps[i - 1]!;
    const isPair =
      amps[i]! < 0 && amps[i - 1]! < 0 && Math.abs(change) > MIN_CHANGE_A && timeMs[i]! - timeMs[i - 1]! <= LONGEST_MS;
    const jump = voltV[i]! - voltV[i - 1]!;
    if (!isPair || Number.isNaN(jump)) continue;
    x.push(change);
    y.push(jump);
    days.push(day[i]!);
    socs += Number.isNaN(soc[i]!) ? 0.6 : soc[i]!;
    warmth += cellC[i]!;
  }
  const found = robustSlope(x, y, days);
  if (found === undefined || x.length < MIN_PAIRS || found.clusters < MIN_DAYS)
    return {
      ...FIT,
      why: `loads switched by more than ${MIN_CHANGE_A} A only ${x.length} times while nothing charged`,
    };
  const { slope, standardError, clusters } = found;
  const half = Math.hypot(halfWidth90(clusters - 1) * standardError, Z90 * FORM_ERROR * slope);
  const mean = { soc: socs / x.length, cellC: warmth / x.length };
  const ohmic = (ohm: number) => ohmicPart(battery, ohm, mean);
  const [value, low, high] = [slope, slope - half, slope + half].map((ohm) => 1000 * ohmic(ohm)) as [
    number,
    number,
    number,
  ];
  if (!(value > 0) || value > 1000 * MAX_OHM || high - low > WIDEST * value)
    return {
      ...FIT,
      why: `the jumps of the voltage leave it too open: ${value.toFixed(1)} mΩ, but from ${low.toFixed(1)} to ${high.toFixed(1)}`,
    };
  return {
    ...FIT,
    path: 'battery.resistance',
    value,
    low: Math.max(0, low),
    high,
    unit: 'mΩ',
    before: 1000 * (battery.resistanceOhm ?? usualOhm(battery)),
    by: `${x.length} jumps of the voltage as loads came and went, ${clusters} days`,
    text: `The battery's voltage moves by ${(1000 * slope).toFixed(0)} mV for each ampere; at 25 °C and half charged that is ${value.toFixed(1)} mΩ. What lies between the cells and where the monitor measures is in it.`,
    applyTo: (rig) => ({ ...rig, battery: { ...rig.battery, resistanceOhm: value / 1000 } }),
    writes: [
      {
        path: ['battery', 'resistance'],
        value: `${value.toFixed(1)} mohm`,
        comment: `Found in the log of ${range}: ${value.toFixed(1)} mohm (${Math.max(0, low).toFixed(1)} to ${high.toFixed(1)}), joints up to the monitor included.`,
      },
    ],
  };
}

/** The part that a rig file names, of what voltage and current show: at 25 °C, half charged, without polarisation [Ω]. */
function ohmicPart(battery: Battery, ohm: number, { soc, cellC }: { soc: number; cellC: number }): number {
  const at25 = ohm / resistanceFactor(battery.chemistry, cellC);
  const at = (resistanceOhm: number) => tableAt(batteryModel({ ...battery, resistanceOhm }).dischargeOhm, soc);
  const [none, one] = [at(0), at(1)];
  return (at25 - none) / (one - none);
}

/** What the model takes when the rig does not say [Ω]. */
function usualOhm({ resistanceOhm: _, ...battery }: Battery): number {
  const usual = batteryModel(battery).dischargeOhm;
  const at = (ohm: number) => tableAt(batteryModel({ ...battery, resistanceOhm: ohm }).dischargeOhm, 0.5);
  return (tableAt(usual, 0.5) - at(0)) / (at(1) - at(0));
}
