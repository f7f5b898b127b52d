import type { Accounts } from './account.js';
import type { Assembled } from './assemble.js';
import { LIMIT_COLD, LIMIT_FULL, LIMIT_NONE, LIMIT_RATING, LIMIT_SOURCE, type LoopOutput } from './loop.js';
import { dayBounds, FULL_SOC } from './summarise.js';
import { CHARGE_CAUSES, type ChargeCause, type ChargeReport, type DailyRow } from './types.js';

/** Days whose lowest states of charge are this close count as equally low: a cut-off is met to rounding only. */
const SAME_SOC = 1e-3;

/** What held the charge back, over the run and on its worst day. */
export function chargeReportOf(
  assembled: Assembled,
  out: LoopOutput,
  books: Accounts,
  daily: readonly DailyRow[],
): ChargeReport {
  const { input, engine } = assembled;
  const { stepH, steps, startSoc } = input;
  const worst = worstDay(daily);
  const bounds = dayBounds(assembled)[worst];
  const hours = noCauses();
  const engineHours = noCauses();
  const worstHours = noCauses();
  const spilledWh = noCauses();
  let acceptanceFromSoc = Infinity;
  for (let i = 0; i < steps; i++) {
    const spilled = (books.pvAvailableW[i]! - books.pvHarvestW[i]!) * stepH;
    const cause = causeAt(assembled, out, books, i);
    // Too little light to wake its controller: nothing charged, and the sun was the reason.
    if (spilled !== 0) spilledWh[cause ?? 'sun'] += spilled;
    if (cause === undefined) continue;
    hours[cause] += stepH;
    if (engine) engineHours[cause] += engine.share[i]! * stepH;
    if (bounds && i >= bounds.from && i < bounds.to) worstHours[cause] += stepH;
    if (cause === 'acceptance') acceptanceFromSoc = Math.min(acceptanceFromSoc, i > 0 ? out.soc[i - 1]! : startSoc);
  }
  const day = { date: daily[worst]!.date, lowestSoc: daily[worst]!.lowestSoc, hours: worstHours };
  return {
    hours,
    engineHours,
    spilledWh,
    ...(acceptanceFromSoc <= 1 && { acceptanceFromSoc }),
    worstDay: day,
    text: sentence(
      daily.length > 1 ? `On the worst day, ${dateText(day.date)},` : `On ${dateText(day.date)}`,
      worstHours,
      bounds ? (bounds.to - bounds.from) * stepH : 24,
    ),
  };
}

function noCauses(): Record<ChargeCause, number> {
  return Object.fromEntries(CHARGE_CAUSES.map((cause) => [cause, 0])) as Record<ChargeCause, number>;
}

function worstDay(daily: readonly DailyRow[]): number {
  const lowest = Math.min(...daily.map((row) => row.lowestSoc));
  let worst = -1;
  daily.forEach((row, k) => {
    if (row.lowestSoc > lowest + SAME_SOC) return;
    if (worst < 0 || row.unservedWh > daily[worst]!.unservedWh) worst = k;
  });
  return worst;
}

/** Undefined when nothing was there to charge from. */
function causeAt({ engine }: Assembled, out: LoopOutput, books: Accounts, i: number): ChargeCause | undefined {
  switch (out.limit[i]) {
    case LIMIT_NONE:
      return undefined;
    case LIMIT_RATING:
      return 'rating';
    case LIMIT_COLD:
      return 'cold';
    case LIMIT_FULL:
      // Of lead-acid the well that takes the charge can be full while the battery is not.
      return out.soc[i]! >= FULL_SOC ? 'full' : 'acceptance';
    case LIMIT_SOURCE:
      return books.alternatorW[i]! > 0 ? 'engine' : books.mainsW[i]! > 0 ? 'mains' : 'sun';
    default:
      return engine?.charger.kind === 'relay' && books.alternatorW[i]! > 0 ? 'relay' : 'acceptance';
  }
}

const WORDS: Readonly<Record<ChargeCause, string>> = {
  sun: 'the sun',
  engine: 'the alternator',
  mains: 'the mains',
  rating: 'the permitted current',
  relay: 'the small voltage across the relay and its cables',
  acceptance: 'the battery’s acceptance',
  cold: 'the cold',
  full: 'a full battery',
};
/** Shorter than this is not worth its words [h]. */
const BRIEF_H = 0.25;

/** "On the worst day, 12 Oct, the sun was the limit (9 h), then the battery’s acceptance (1 h)." */
function sentence(on: string, hours: Readonly<Record<ChargeCause, number>>, dayH: number): string {
  const ranked = CHARGE_CAUSES.filter((cause) => hours[cause] >= BRIEF_H).sort((a, b) => hours[b] - hours[a]);
  const [first, ...others] = ranked.map((cause) => `${WORDS[cause]}|(${hoursText(hours[cause])})`);
  if (first === undefined) return `${on} nothing charged the battery.`;
  const then = others.map((one) => `, then ${one.replace('|', ' ')}`).join('');
  const idleH = dayH - CHARGE_CAUSES.reduce((sum, cause) => sum + hours[cause], 0);
  const idle = idleH >= 1 ? `; in the other ${hoursText(idleH)} nothing charged` : '';
  return `${on} ${first.replace('|', ' was the limit ')}${then}${idle}.`;
}

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'] as const;

function dateText(iso: string): string {
  return `${Number(iso.slice(8, 10))} ${MONTHS[Number(iso.slice(5, 7)) - 1]}`;
}

function hoursText(hours: number): string {
  return hours < 1 ? `${Math.round(60 * hours)} min` : `${Number(hours.toPrecision(2))} h`;
}
