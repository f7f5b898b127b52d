import { sumOf } from '../../math/index.js';
import type { Replay } from './replay.js';
import { stepDays } from './step-days.js';

/** An hour is judged from so many days, and from this share of its own offer. */
const MIN_DAYS = 3;
const MIN_SHARE = 0.05;
/** A block of shade gives less than this of the other hours' share … */
const SHADED = 0.6;
/** … each of its hours less than this, by so many standard errors, … */
const EACH_SHADED = 0.8;
const SIGNIFICANT_ERRORS = 5;
/** … and holds this share of the day's offer: below lies the first light, which models know badly. */
const MIN_BLOCK = 0.03;
/** The hours beside it hold so much of the day's offer, an hour of good light, and do not give more than a promise can be off by. */
const MIN_OPEN = 0.05;
const MAX_OPEN = 1.2;

/** What the panel gives of its promise in one hour of the local civil day. */
export interface PanelHour {
  readonly hour: number;
  /** harvest over offer in the steps that judge it; NaN = not judged */
  readonly ratio: number;
  /** over days */
  readonly standardError: number;
  readonly days: number;
  /** offered in this hour over all days, judged or not [Wh] */
  readonly offeredWh: number;
  /** of what does not arrive over the day, the share that is lost in this hour; nearest judged hour's ratio taken */
  readonly lostShare: number;
}

/** A part of the day, from its beginning or up to its end, in which the panel gives far less than else. */
export interface ShadedBlock {
  readonly side: 'morning' | 'evening';
  /** local civil hours: from the first up to, not including, the last */
  readonly fromHour: number;
  readonly toHour: number;
  readonly ratio: number;
  /** of the ratio, over days */
  readonly standardError: number;
  /** how far below the open hours' ratio, in standard errors over days */
  readonly errorsBelow: number;
}

/** What the panels gave over what they could have given, by hour of the day. */
export interface PanelHours {
  /** hours with an offer */
  readonly hours: readonly PanelHour[];
  /** over a whole day: each hour weighted by all that it offers, so that hours with a full battery count as well */
  readonly wholeDay: Ratio;
  /** the same over the hours outside the blocks */
  readonly openHours: Ratio;
  /** share of the offer that lies in judged hours */
  readonly judged: number;
  readonly blocks: readonly ShadedBlock[];
}

/** A ratio with how sure it is. */
export interface Ratio {
  readonly ratio: number;
  /** over days */
  readonly standardError: number;
}

/** Harvest and offer of a log's days. */
export interface Gathered {
  readonly days: number;
  /** by hour, then by day: harvest and offer where it can be judged [Wh] */
  readonly gave: readonly Float64Array[];
  readonly offer: readonly Float64Array[];
  /** by hour over all days [Wh] */
  readonly all: Float64Array;
}

/**
 * Harvest over offer by local hour, and what follows from it: the share of a whole day's promise, where it is lost, and whether
 * the day begins or ends in shade. Ratios are of sums; standard errors are those of ratio estimates over days (linearised,
 * Cochran, Sampling Techniques 1977, chapter 6, from memory), as steps of one day share its sky.
 * @param offeredW by the model [W]
 * @param comparable 1 where harvest and offer may be held against each other: free and not clipped
 * @returns undefined when no hour can be judged
 */
export function panelHours(
  replay: Pick<Replay, 'conditions' | 'steps'>,
  offeredW: Float64Array,
  comparable: Uint8Array,
): PanelHours | undefined {
  const sums = gather(replay, offeredW, comparable);
  const ratios = Array.from({ length: 24 }, (_, hour) => hourRatio(sums, hour));
  const judgedHours = ratios.flatMap(({ ratio }, hour) => (Number.isNaN(ratio) ? [] : [hour]));
  if (judgedHours.length === 0) return undefined;
  const lit = sums.all.reduce((sum, wh) => sum + wh, 0);
  const morning = blockOf(sums, judgedHours, 'morning', lit);
  const rest = judgedHours.filter((hour) => !(morning && hour < morning.toHour));
  const evening = blockOf(sums, rest, 'evening', lit);
  const open = rest.filter((hour) => !(evening && hour >= evening.fromHour));
  const nearest = (hour: number) =>
    judgedHours.reduce((best, one) => (Math.abs(one - hour) < Math.abs(best - hour) ? one : best));
  const lostWh = Array.from(sums.all, (wh, hour) => (wh > 0 ? wh * Math.max(0, 1 - ratios[nearest(hour)]!.ratio) : 0));
  const allLostWh = lostWh.reduce((sum, wh) => sum + wh, 0);
  return {
    hours: ratios.flatMap((one, hour) =>
      sums.all[hour]! > 0
        ? [{ hour, ...one, offeredWh: sums.all[hour]!, lostShare: allLostWh > 0 ? lostWh[hour]! / allLostWh : 0 }]
        : [],
    ),
    wholeDay: weighted(sums, judgedHours, (hour) => nearest(hour)),
    openHours: weighted(sums, open, (hour) => (open.includes(hour) ? hour : undefined)),
    judged: judgedHours.reduce((sum, hour) => sum + sums.all[hour]!, 0) / lit,
    blocks: [morning, evening].filter((block) => block !== undefined),
  };
}

/** Harvest and offer by local hour and day. @param comparable 1 where they may be held against each other */
export function gather(
  { conditions, steps }: Pick<Replay, 'conditions' | 'steps'>,
  offeredW: Float64Array,
  comparable: Uint8Array,
): Gathered {
  const { itinerary, grid } = conditions;
  const dayOf = stepDays(conditions);
  const days = itinerary.days.length;
  const byDay = () => Array.from({ length: 24 }, () => new Float64Array(days));
  const sums = { days, gave: byDay(), offer: byDay(), all: new Float64Array(24) };
  for (let i = 0; i < grid.steps; i++) {
    const offerWh = offeredW[i]! * grid.stepH;
    if (!(offerWh > 0)) continue;
    const hour = Math.min(23, Math.floor(itinerary.localHour[i]!));
    sums.all[hour] = sums.all[hour]! + offerWh;
    const gaveW = steps.harvestW[i]!;
    if (comparable[i] === 0 || Number.isNaN(gaveW)) continue;
    const day = dayOf[i]!;
    sums.gave[hour]![day] = sums.gave[hour]![day]! + gaveW * grid.stepH;
    sums.offer[hour]![day] = sums.offer[hour]![day]! + offerWh;
  }
  return sums;
}

function hourRatio({ gave, offer, all }: Gathered, hour: number): Ratio & { days: number } {
  const days = offer[hour]!.filter((wh) => wh > 0).length;
  const [gaveWh, offerWh] = [sumOf(gave[hour]!), sumOf(offer[hour]!)];
  if (days < MIN_DAYS || offerWh < MIN_SHARE * all[hour]!)
    return { ratio: Number.NaN, standardError: Number.NaN, days };
  const ratio = gaveWh / offerWh;
  const squares = gave[hour]!.reduce((sum, wh, day) => sum + (wh - ratio * offer[hour]![day]!) ** 2, 0);
  return { ratio, standardError: Math.sqrt((days / (days - 1)) * squares) / offerWh, days };
}

/** Ratios of hours, each weighted by all that is offered in the hours that it stands for. */
function weighted(sums: Gathered, hours: readonly number[], standsFor: (hour: number) => number | undefined): Ratio {
  const weight = new Float64Array(24);
  sums.all.forEach((wh, hour) => {
    const by = wh > 0 ? standsFor(hour) : undefined;
    if (by !== undefined) weight[by] = weight[by]! + wh;
  });
  const whole = sumOf(weight);
  const influence = new Float64Array(sums.days);
  let ratio = 0;
  for (const hour of hours) {
    const offerWh = sumOf(sums.offer[hour]!);
    const one = sumOf(sums.gave[hour]!) / offerWh;
    const share = weight[hour]! / whole;
    ratio += share * one;
    for (let day = 0; day < sums.days; day++)
      influence[day] = influence[day]! + (share * (sums.gave[hour]![day]! - one * sums.offer[hour]![day]!)) / offerWh;
  }
  const days = influence.filter((_, day) => hours.some((hour) => sums.offer[hour]![day]! > 0)).length;
  return { ratio, standardError: Math.sqrt((days / Math.max(1, days - 1)) * sumOf(influence.map((one) => one * one))) };
}

/** The beginning or end of the day whose hours stand apart from the rest most plainly, if they stand far enough below. */
function blockOf(
  sums: Gathered,
  hours: readonly number[],
  side: ShadedBlock['side'],
  lit: number,
): ShadedBlock | undefined {
  const inward = side === 'morning' ? hours : [...hours].reverse();
  let best: { size: number; squares: number } | undefined;
  const offered = (part: readonly number[]) => part.reduce((sum, hour) => sum + sums.all[hour]!, 0) / lit;
  for (let size = 1; size < inward.length && offered(inward.slice(size)) > MIN_OPEN; size++) {
    const parts = [inward.slice(0, size), inward.slice(size)];
    const squares = parts.reduce((sum, part) => sum + squaresAbout(sums, part), 0);
    if (best === undefined || squares < best.squares) best = { size, squares };
  }
  if (best === undefined) return undefined;
  const shaded = inward.slice(0, best.size);
  const outside = inward.slice(best.size);
  const own = (part: readonly number[]) => weighted(sums, part, (hour) => (part.includes(hour) ? hour : undefined));
  const [inside, open] = [own(shaded), own(outside)];
  const errorsBelow = (open.ratio - inside.ratio) / Math.hypot(inside.standardError, open.standardError);
  const isShaded =
    open.ratio < MAX_OPEN &&
    inside.ratio < SHADED * open.ratio &&
    errorsBelow > SIGNIFICANT_ERRORS &&
    shaded.every((hour) => hourRatio(sums, hour).ratio < EACH_SHADED * open.ratio) &&
    offered(shaded) > MIN_BLOCK;
  if (!isShaded) return undefined;
  const edge = shaded.at(-1)!;
  return {
    side,
    fromHour: side === 'morning' ? shaded[0]! : edge,
    toHour: side === 'morning' ? edge + 1 : shaded[0]! + 1,
    ...inside,
    errorsBelow,
  };
}

/** Spread of some hours' ratios about their common one, by what they offer. */
function squaresAbout(sums: Gathered, hours: readonly number[]): number {
  const { ratio } = weighted(sums, hours, (hour) => (hours.includes(hour) ? hour : undefined));
  return hours.reduce((sum, hour) => sum + sums.all[hour]! * (hourRatio(sums, hour).ratio - ratio) ** 2, 0);
}
