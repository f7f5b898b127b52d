import { resistanceFactor } from '../../battery/index.js';
import { MINUTE_MS, percentile } from '../../math/index.js';
import type { BatteryRows } from '../parts/battery-rows.js';
import type { CompareContext } from '../parts/compare-context.js';
import { judgeSeries } from './compete.js';
import { type LogFinding, sizeOf } from './finding.js';

/** Neighbouring rows whose currents differ by so much of the capacity [1/h], and at least so much [A], show volts per ampere. */
const MIN_CHANGE_C = 0.05;
const MIN_CHANGE_A = 5;
const LONGEST_MS = 15.5 * MINUTE_MS;
/** A voltage within this of float may be the controller's, per 12 V [V]. */
const HELD_WITHIN_V = 0.1;
const MIN_PAIRS = 2;
const MIN_DAYS = 8;
/** Volts per ampere at one battery differ from day to day by this share at least. */
const DAY_SCATTER = 0.12;
/** A rise that matters: this many times, and so many volts at the largest current, per 12 V. */
const MIN_TIMES = 1.5;
const MIN_SAG_V = 0.15;

/** Volts per ampere as loads come and go, day by day: a joint or cable in the main path that has got worse. */
export function judgeMainPath({ rig, dates }: CompareContext, rows: BatteryRows): LogFinding[] {
  const { voltV, amps, timeMs, cellC, day, count } = rows;
  const { battery } = rig;
  const least = Math.max(MIN_CHANGE_A, MIN_CHANGE_C * battery.capacityAh * battery.count);
  const scale = (battery.nominalV * battery.series) / 12;
  // near float and above, the controller sets the voltage and no resistance
  const heldV = battery.charge.floatV - HELD_WITHIN_V * scale;
  const byDay = new Map<number, number[]>();
  let mostA = 0;
  for (let i = 1; i < count; i++) {
    const change = amps[i]! - amps[i - 1]!;
    const jump = voltV[i]! - voltV[i - 1]!;
    const isPair =
      Math.abs(change) > least &&
      timeMs[i]! - timeMs[i - 1]! <= LONGEST_MS &&
      Math.min(amps[i]!, amps[i - 1]!) < 0 &&
      Math.max(voltV[i]!, voltV[i - 1]!) < heldV;
    if (!isPair || Number.isNaN(jump)) continue;
    mostA = Math.max(mostA, Math.abs(change));
    const own = byDay.get(day[i]!) ?? [];
    byDay.set(day[i]!, own);
    const warmth = Number.isNaN(cellC[i]!) ? 1 : resistanceFactor(battery.chemistry, cellC[i]!);
    own.push(jump / change / warmth);
  }
  const points = [...byDay]
    .filter(([, own]) => own.length >= MIN_PAIRS)
    .map(([at, own]) => ({ date: dates[at]!, ohm: percentile(own, 0.5) }))
    .filter(({ ohm }) => ohm > 0);
  if (points.length < MIN_DAYS) return [];
  const verdict = judgeSeries(
    points.map(({ ohm }) => Math.log(ohm)),
    DAY_SCATTER,
  )!;
  if (verdict.kind !== 'step' && verdict.kind !== 'line') return [];
  const { before, since, from } = levels(points.map(({ ohm }) => ohm));
  const addedOhm = since - before;
  if (!(since > MIN_TIMES * before) || addedOhm * mostA < MIN_SAG_V * scale) return [];
  return [
    {
      code: 'main_resistance',
      level: 'caution',
      path: 'battery.cable',
      confidence: verdict.gain > 20 ? 'high' : 'fair',
      size: sizeOf(addedOhm, 0.15 * since, 'ohm'),
      since: points[from]!.date,
      args: { beforeOhm: before, sinceOhm: since, sagV: addedOhm * mostA, amps: mostA, days: points.length },
    },
  ];
}

/** Two levels with a rise between: the end of the first and the beginning of the second stand where the squares are least. */
function levels(ohms: readonly number[]): { before: number; since: number; from: number } {
  let best = { squares: Infinity, from: 0, to: 0, before: 0, since: 0 };
  const median = (some: readonly number[]) => percentile([...some], 0.5);
  for (let from = 3; from <= ohms.length - 3; from++)
    for (let to = from; to <= Math.min(ohms.length - 3, from + 10); to++) {
      const [before, since] = [median(ohms.slice(0, from)), median(ohms.slice(to))];
      const at = (k: number) =>
        k < from ? before : k >= to ? since : before + ((k - from + 1) / (to - from + 1)) * (since - before);
      const squares =
        ohms.reduce((sum, ohm, k) => sum + Math.min(0.2, (Math.log(ohm) - Math.log(at(k))) ** 2), 0) +
        0.02 * (to - from);
      if (squares < best.squares) best = { squares, from, to, before, since };
    }
  return best;
}
