import { meanOf, percentile } from '../../math/index.js';
import type { Night } from '../parts/nights.js';
import { judgeSeries } from './compete.js';
import { type LogFinding, sizeOf } from './finding.js';

/** Scatter that a night's quiet draw always has [A]. */
const NIGHT_A = 0.02;
/** Electronics that nobody lists (monitor, management system, chargers asleep): one standard error of a careful list [A]. */
const UNLISTED_A = 0.035;
const SIGNIFICANT_ERRORS = 3;
/** A step is told from this on [A]: smaller ones are gauges, alarms and the shunt's own drift. */
const MIN_STEP_A = 0.1;
const MIN_NIGHTS = 4;
/** A night with cuts says nothing of what is always on. */
const CUT = 0.25;

/** What is drawn day and night beyond what the rig lists, as far as nights tell. */
export interface DrawVerdict {
  readonly nights: number;
  /** beyond the list at the end of the log, with its standard error [A]; undefined where nights do not tell */
  readonly beyondA?: number;
  readonly standardError?: number;
  readonly since?: string;
  readonly findings: readonly LogFinding[];
}

/**
 * The quiet draw of the nights against what the rig lists, in any cabin that is likely: a steady draw nobody listed, from the
 * beginning or since a date. A spell of some nights is visitors or weather; a compressor that never stops is the fridge's.
 */
export function judgeDraw(nights: readonly Night[]): DrawVerdict {
  const told = nights.filter(({ floorA, cutShare }) => !Number.isNaN(floorA) && cutShare < CUT);
  if (told.length < MIN_NIGHTS) return { nights: told.length, findings: [] };
  const beyond = told.map(({ floorA, listedLowA, listedHighA }) =>
    floorA > listedHighA ? floorA - listedHighA : floorA < listedLowA ? floorA - listedLowA : 0,
  );
  const verdict = judgeSeries(beyond, NIGHT_A)!;
  const { kind, fit, sigma, standardError } = verdict;
  const listedA = percentile(
    told.map((night) => night.listedA),
    0.5,
  );
  const findings: LogFinding[] = [];
  const isStep = kind === 'step' && Math.abs(fit.inside - fit.outside) >= MIN_STEP_A;
  const first = isStep ? fit.outside : meanOf([...beyond].sort((a, b) => a - b).slice(0, Math.ceil(beyond.length / 2)));
  const firstError = Math.hypot(UNLISTED_A, sigma / Math.sqrt(told.length));
  if (first > SIGNIFICANT_ERRORS * firstError)
    findings.push({
      code: 'draw_unlisted',
      level: 'caution',
      path: 'loads',
      confidence: told.length >= 7 ? 'high' : 'fair',
      size: sizeOf(first, firstError, 'A'),
      args: { amps: first, nights: isStep ? fit.from : told.length, listedA },
    });
  const since = isStep ? told[fit.from]!.date : undefined;
  const moreA = fit.inside - fit.outside;
  if (since !== undefined && moreA > 0)
    findings.push({
      code: 'draw_unlisted',
      level: 'caution',
      path: 'loads',
      confidence: told.length - fit.from >= 7 ? 'high' : 'fair',
      size: sizeOf(moreA, Math.max(standardError, 0.02), 'A'),
      since,
      args: {
        amps: moreA,
        beforeA: fit.outside + listedA,
        sinceA: fit.inside + listedA,
        nightsBefore: fit.from,
        nightsSince: told.length - fit.from,
        listedA,
      },
    });
  const beyondA = isStep ? fit.inside : percentile(beyond, 0.5);
  return {
    nights: told.length,
    beyondA,
    standardError: Math.hypot(UNLISTED_A / 2, sigma / Math.sqrt(isStep ? told.length - fit.from : told.length)),
    ...(since !== undefined && { since }),
    findings,
  };
}
