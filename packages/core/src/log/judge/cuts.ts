import type { CompareContext } from '../parts/compare-context.js';
import type { Night } from '../parts/nights.js';
import type { LogFinding } from './finding.js';

/** A night of which so much passed without current, where something always draws [A]. */
const MIN_CUT_H = 0.5;
const MIN_LISTED_A = 0.1;
const MIN_NIGHTS = 2;
const MIN_EARLY = 3;
/** Less is listed than a monitor with a dead band and a zero of its own may leave out [A]: no cut is sure then. */
const SURE_LISTED_A = 0.2;
/** The battery still had charge: it stood so far above where it is to be cut, per 12 V [V]. */
const MARGIN_V = 0.4;
/** Where the rig says its disconnect as a state of charge: the voltage of an empty battery, per 12 V. Common practice, no source. */
const EMPTY_V = { LFP: 12.4, lead: 11.4 } as const;

/** Nights in which everything was off: cut though the battery had charge, or as it should be. */
export function judgeCuts({ rig, dates }: CompareContext, nights: readonly Night[]): LogFinding[] {
  const cut = nights.filter(({ cutShare, hours, listedA }) => cutShare * hours >= MIN_CUT_H && listedA >= MIN_LISTED_A);
  if (cut.length < MIN_NIGHTS) return [];
  const { disconnect, chemistry, nominalV, series } = rig.battery;
  const scale = (nominalV * series) / 12;
  const atV =
    disconnect.kind === 'voltage' ? disconnect.voltageV : EMPTY_V[chemistry === 'LFP' ? 'LFP' : 'lead'] * scale;
  const early = cut.filter(
    ({ listedA, lowestBeforeV }) => listedA >= SURE_LISTED_A && lowestBeforeV > atV + MARGIN_V * scale,
  );
  const isEarly = early.length >= MIN_EARLY && early.length > 0.5 * cut.length;
  const some = isEarly ? early : cut;
  return [
    {
      code: 'load_cut',
      level: isEarly ? 'caution' : 'note',
      path: 'battery.disconnect',
      confidence: some.length >= 4 ? 'high' : 'fair',
      since: dates[some[0]!.day]!,
      args: {
        isEarly: isEarly ? 1 : 0,
        nights: some.map(({ date }) => date),
        lowestV: Math.min(...some.map(({ lowestBeforeV }) => lowestBeforeV)),
        atV,
      },
    },
  ];
}
