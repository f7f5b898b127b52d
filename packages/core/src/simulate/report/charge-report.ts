import { MONTH_NAMES } from '../../math/index.js';
import type { Assembled } from '../inputs/assemble.js';
import type { Ledger } from '../ledger/ledger.js';
import { LIMIT_COLD, LIMIT_FULL, LIMIT_NONE, LIMIT_RATING, LIMIT_SOURCE, type LoopOutput } from '../loop/loop.js';
import { CHARGE_CAUSES, type ChargeCause, type ChargeReport, type DailyRow } from '../types.js';
import { dayBounds, FULL_SOC } from './summarise.js';

/** Days whose lowest states of charge are this close count as equally low: a cut-off is met to rounding only. */
const SAME_SOC = 1e-3;

/** What held the charge back, over the run and on its worst day. */
export function chargeReportOf(
  assembled: Assembled,
  out: LoopOutput,
  ledger: Ledger,
  daily: readonly DailyRow[],
): ChargeReport {
  const { input, engine } = assembled;
  const { stepH, steps, startSoc } = input;
  const worst = worstDay(daily);
  const bounds = dayBounds(assembled)[worst];
  const { soc, limit } = out;
  const { pvAvailableW, pvHarvestW, alternatorW, mainsW } = ledger;
  const hasRelay = engine?.charger.kind === 'relay';
  const [hours, engineHours, spilledWh] = [noCauses(), noCauses(), noCauses()];
  const worstHours = noCauses();
  let acceptanceFromSoc = Infinity;
  for (let i = 0; i < steps; i++) {
    const spilled = (pvAvailableW[i]! - pvHarvestW[i]!) * stepH;
    const cause = causeOf(limit[i]!, soc[i]!, alternatorW[i]!, mainsW[i]!, hasRelay);
    // Too little light to wake its controller: nothing charged, and the sun was the reason.
    const spilledBy = cause < 0 ? SUN : cause;
    if (spilled !== 0) spilledWh[spilledBy] = spilledWh[spilledBy]! + spilled;
    if (cause < 0) continue;
    hours[cause] = hours[cause]! + stepH;
    if (engine) engineHours[cause] = engineHours[cause]! + engine.share[i]! * stepH;
    if (bounds && i >= bounds.from && i < bounds.to) worstHours[cause] = worstHours[cause]! + stepH;
    if (cause === ACCEPTANCE) acceptanceFromSoc = Math.min(acceptanceFromSoc, i > 0 ? soc[i - 1]! : startSoc);
  }
  const day = { date: daily[worst]!.date, lowestSoc: daily[worst]!.lowestSoc, hours: byCause(worstHours) };
  return {
    hours: byCause(hours),
    engineHours: byCause(engineHours),
    spilledWh: byCause(spilledWh),
    ...(acceptanceFromSoc <= 1 && { acceptanceFromSoc }),
    worstDay: day,
    text: sentence(
      daily.length > 1 ? `On the worst day, ${dateText(day.date)},` : `On ${dateText(day.date)}`,
      day.hours,
      bounds ? (bounds.to - bounds.from) * stepH : 24,
    ),
  };
}

function noCauses(): Float64Array {
  return new Float64Array(CHARGE_CAUSES.length);
}

function byCause(values: Float64Array): Record<ChargeCause, number> {
  return Object.fromEntries(CHARGE_CAUSES.map((cause, k) => [cause, values[k]!])) as Record<ChargeCause, number>;
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

const place = (cause: ChargeCause) => CHARGE_CAUSES.indexOf(cause);
const SUN = place('sun');
const ENGINE = place('engine');
const MAINS = place('mains');
const RATING = place('rating');
const RELAY = place('relay');
const ACCEPTANCE = place('acceptance');
const COLD = place('cold');
const FULL = place('full');

/** The place in CHARGE_CAUSES of what held a step's charge back, by what the loop says; −1 when nothing was there to charge from. */
function causeOf(limit: number, soc: number, alternatorW: number, mainsW: number, hasRelay: boolean): number {
  switch (limit) {
    case LIMIT_NONE:
      return -1;
    case LIMIT_RATING:
      return RATING;
    case LIMIT_COLD:
      return COLD;
    case LIMIT_FULL:
      // Of lead-acid the well that takes the charge can be full while the battery is not.
      return soc >= FULL_SOC ? FULL : ACCEPTANCE;
    case LIMIT_SOURCE:
      return alternatorW > 0 ? ENGINE : mainsW > 0 ? MAINS : SUN;
    default:
      return hasRelay && alternatorW > 0 ? RELAY : ACCEPTANCE;
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

function dateText(iso: string): string {
  return `${Number(iso.slice(8, 10))} ${MONTH_NAMES[Number(iso.slice(5, 7)) - 1]}`;
}

function hoursText(hours: number): string {
  return hours < 1 ? `${Math.round(60 * hours)} min` : `${Number(hours.toPrecision(2))} h`;
}
