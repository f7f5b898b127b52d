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
  const dayH = bounds ? (bounds.to - bounds.from) * stepH : 24;
  const { date, lowestSoc } = daily[worst]!;
  return {
    hours: byCause(hours),
    engineHours: byCause(engineHours),
    spilledWh: byCause(spilledWh),
    ...(acceptanceFromSoc <= 1 && { acceptanceFromSoc }),
    worstDay: {
      date,
      lowestSoc,
      hours: byCause(worstHours),
      idleHours: dayH - worstHours.reduce((sum, causeH) => sum + causeH, 0),
    },
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
