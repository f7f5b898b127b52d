import { changePoint, percentile, sumOf } from '../../math/index.js';
import { gather } from './panel-hours.js';
import type { Replay } from './replay.js';

/** A day counts when so much of the light of a mean day could be judged on it. */
const MIN_DAY = 0.2;
/** Of the higher level, the lower one is at most this: seasons move a model's error by a tenth. Common practice, no source. */
const MAX_LEFT = 0.85;
/** Days of the two levels hardly mix: so many of the lower ones lie below so many of the higher. */
const APART = 0.9;
const MAX_ITERATIONS = 30;

/** A day from which the panel gives another share of its promise. */
export interface PanelChange {
  /** first day of the new level */
  readonly date: string;
  /** of the promise of a whole day, each over its own days */
  readonly before: number;
  readonly since: number;
  readonly daysBefore: number;
  readonly daysSince: number;
  /** standard error of their difference, over days */
  readonly standardError: number;
}

/**
 * The day from which the panel gives another share of its promise: the plainest step (`changePoint`) in the days' ratios of harvest
 * to offer. Days are judged over different hours, and shade takes some hours more than others, so an hour's own share and a
 * day's are fitted together as a product (alternating ratios of sums, as in iterative proportional fitting), and the day's taken.
 * What light is wrongly told by a file of another year scatters days so far that the two levels mix: then nothing is found.
 * @param offeredW of light that the panel itself did not tell [W]
 * @param comparable 1 where harvest and offer may be held against each other
 * @returns undefined with fewer than six judged days, or without a step
 */
export function panelChange(
  replay: Pick<Replay, 'conditions' | 'steps'>,
  offeredW: Float64Array,
  comparable: Uint8Array,
): PanelChange | undefined {
  const { days, gave, offer, all } = gather(replay, offeredW, comparable);
  const meanDayWh = sumOf(all) / days;
  const judged = Array.from({ length: days }, (_, day) => day).filter(
    (day) => sumOf(offer.map((hour) => hour[day]!)) > MIN_DAY * meanDayWh,
  );
  const hours = gave.map((_, hour) => hour).filter((hour) => sumOf(judged.map((day) => offer[hour]![day]!)) > 0);
  if (judged.length === 0) return undefined;
  const gaveWh = (day: number) => sumOf(hours.map((hour) => gave[hour]![day]!));
  const ofDay = new Float64Array(days).fill(1);
  const ofHour = new Float64Array(24).fill(1);
  const promisedWh = (day: number) => sumOf(hours.map((hour) => offer[hour]![day]! * ofHour[hour]!));
  for (let turn = 0; turn < MAX_ITERATIONS; turn++) {
    for (const hour of hours)
      ofHour[hour] =
        sumOf(judged.map((day) => gave[hour]![day]!)) / sumOf(judged.map((day) => offer[hour]![day]! * ofDay[day]!));
    const level = sumOf(hours.map((hour) => all[hour]! * ofHour[hour]!)) / sumOf(hours.map((hour) => all[hour]!));
    if (!(level > 0)) return undefined;
    for (const hour of hours) ofHour[hour] = ofHour[hour]! / level;
    for (const day of judged) ofDay[day] = Math.max(0, gaveWh(day) / promisedWh(day));
  }
  const dates = replay.conditions.itinerary.days.map(({ date }) => date);
  const step = changePoint(
    judged.map((day) => ({ date: dates[day]!, share: ofDay[day]! })),
    ({ share }) => share,
  );
  if (step === undefined) return undefined;
  const parts = [judged.filter((day) => dates[day]! < step.date), judged.filter((day) => dates[day]! >= step.date)];
  const [before, since] = parts.map((part) => sumOf(part.map(gaveWh)) / sumOf(part.map(promisedWh))) as [
    number,
    number,
  ];
  const [low, high] = before < since ? parts : [parts[1]!, parts[0]!];
  const at = (part: readonly number[], share: number) =>
    percentile(
      part.map((day) => ofDay[day]!),
      share,
    );
  if (Math.min(before, since) > MAX_LEFT * Math.max(before, since)) return undefined;
  if (at(low!, APART) > at(high!, 1 - APART)) return undefined;
  return {
    date: step.date,
    before,
    since,
    daysBefore: parts[0]!.length,
    daysSince: parts[1]!.length,
    standardError: step.standardError,
  };
}
