import { type Load, leaking, lit, type Range, type Rig, type SolarArray, type WeatherChoice } from '../../rig/index.js';
import { type Assembled, climateOf } from '../../simulate/index.js';
import { LIGHT_OFF } from '../yield/yield-range.js';
import type { StayUnknown } from './stay-types.js';

/** The rig with what nobody can know moved so far that stays get shorter (low) or longer (high), and what was moved. */
export interface Ends {
  readonly low: Rig;
  readonly high: Rig;
  /** the heat leak alone, all of its range: nothing else counts in the dark */
  readonly darkLow: Rig;
  readonly darkHigh: Rig;
  readonly unknowns: readonly StayUnknown[];
}

interface Unknown {
  readonly what: StayUnknown['what'];
  readonly assumed: Range;
  /** energy over a year by which the whole of the range shortens and lengthens stays [Wh] */
  readonly lowWh: number;
  readonly highWh: number;
}

/**
 * Several independent unknowns at once: each moved by its share α of its range with α in proportion to its effect on the
 * energy and Σα² = 1. That is the point at which their joint effect is the root of their summed squares while it is linear
 * (the design point of the first-order reliability method; Hasofer & Lind, J. Eng. Mech. Div. ASCE 100, 1974).
 * @param assembled the rig as it is, over a year
 */
export function endsOf(assembled: Assembled, weather: WeatherChoice): Ends {
  const { rig, conditions, solar, fridges, input } = assembled;
  const sum = (columns: readonly Float64Array[]) =>
    columns.reduce((total, column) => total + column.reduce((a, b) => a + b, 0), 0) * input.stepH;
  const unknowns: Unknown[] = [];

  const leaks = rig.loads.flatMap((load) => (load.kind === 'fridge' && !load.starterSide ? [load.heatLeakRange] : []));
  const leak = widest(leaks);
  const fridgeWh = sum(fridges.map(({ columns }) => columns.holdDuty.map((duty, i) => duty * columns.electricW[i]!)));
  if (leak && leak.high > leak.low)
    unknowns.push({
      what: 'heat leak',
      assumed: leak,
      lowWh: fridgeWh * (leak.high - 1),
      highWh: fridgeWh * (1 - leak.low),
    });
  const dirt = widest(rig.solar.map(({ soilingRange }) => soilingRange));
  if (dirt && dirt.high > dirt.low) {
    const wh = (end: keyof Range) =>
      solar.reduce(
        (total, { array, columns }) => total + Math.abs(dirtier(array, end, 1) - 1) * sum([columns.availableW]),
        0,
      );
    unknowns.push({ what: 'soiling', assumed: dirt, lowWh: wh('high'), highWh: wh('low') });
  }
  if (weather.kind !== 'file' && weather.kind !== 'clear' && solar.length > 0) {
    const off = LIGHT_OFF[climateOf(conditions.itinerary.legs[0]!, rig).light];
    const wh = off * sum(solar.map(({ columns }) => columns.availableW));
    unknowns.push({ what: 'irradiation', assumed: { low: 1 - off, high: 1 + off }, lowWh: wh, highWh: wh });
  }

  const joint = (wh: (one: Unknown) => number) => Math.hypot(...unknowns.map(wh)) || 1;
  const jointLowWh = joint(({ lowWh }) => lowWh);
  const jointHighWh = joint(({ highWh }) => highWh);
  const moved = (alpha: (what: StayUnknown['what']) => number, isLow: boolean): Rig => ({
    ...rig,
    loads: rig.loads.map((load) => leakier(load, isLow ? 'high' : 'low', alpha('heat leak'))),
    solar: rig.solar.map((array) => {
      const off = unknowns.find(({ what }) => what === 'irradiation')?.assumed.high ?? 1;
      const light = 1 + (isLow ? -1 : 1) * alpha('irradiation') * (off - 1);
      return lit(array, dirtier(array, isLow ? 'high' : 'low', alpha('soiling')) * light);
    }),
  });
  const share = (what: StayUnknown['what'], isLow: boolean) => {
    const found = unknowns.find((one) => one.what === what);
    if (!found) return 0;
    return isLow ? found.lowWh / jointLowWh : found.highWh / jointHighWh;
  };
  const leakAlone = (what: StayUnknown['what']) => (what === 'heat leak' ? 1 : 0);
  return {
    low: moved((what) => share(what, true), true),
    high: moved((what) => share(what, false), false),
    darkLow: moved(leakAlone, true),
    darkHigh: moved(leakAlone, false),
    unknowns: unknowns.map(({ what, assumed }) => ({ what, assumed, share: share(what, true) ** 2 })),
  };
}

function widest(ranges: readonly Range[]): Range | undefined {
  if (ranges.length === 0) return undefined;
  return { low: Math.min(...ranges.map(({ low }) => low)), high: Math.max(...ranges.map(({ high }) => high)) };
}

/** The heat leak at that end of its range, `alpha` of the way. */
function leakier(load: Load, end: keyof Range, alpha: number): Load {
  return load.kind === 'fridge' ? leaking(load, 1 + alpha * (load.heatLeakRange[end] - 1)) : load;
}

/** Light through the dirt at that end of its range, `alpha` of the way, over that through the dirt as it is taken. */
function dirtier({ losses, soilingRange }: SolarArray, end: keyof Range, alpha: number): number {
  return 1 + alpha * ((1 - soilingRange[end]) / (1 - losses.soiling) - 1);
}
