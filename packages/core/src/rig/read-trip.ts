import { closest, shown } from '../quantity/index.js';
import { ConfigError } from './config-error.js';
import { Defaults } from './defaults.js';
import { refuseOtherKind } from './file-kind.js';
import { inOrder, issuesOf } from './issues.js';
import type { ReadOptions } from './read-rig.js';
import { requireText } from './sound.js';
import { isGroup, MAX_FAULTS, Source } from './source.js';
import { resolveStop } from './stop-part.js';
import { tripFile } from './trip-file.js';
import type { ConfigIssue, DefaultTaken, Trip } from './types.js';

/** How a trip is read. */
export interface ReadTripOptions extends ReadOptions {
  /** names of the rig's loads, so that a misspelt one in `use` is found */
  readonly loads?: readonly string[];
  /** names of the rig's arrays, so that a misspelt one in `shade` is found */
  readonly arrays?: readonly string[];
}

/**
 * Reads a trip from YAML or JSON text.
 * @throws ConfigError with every fault
 */
export function readTrip(yaml: string, options: ReadTripOptions = {}): { trip: Trip; defaults: DefaultTaken[] } {
  requireText('readTrip', yaml);
  const source = Source.read(yaml, options.file, options.set);
  refuseOtherKind(source, 'trip');
  const parsed = tripFile.safeParse(source.value);
  const issues = [
    ...(parsed.success ? [] : issuesOf(parsed.error, source)),
    ...unknownNames(source, 'use', 'load', options.loads),
    ...unknownNames(source, 'shade', 'array', options.arrays),
  ];
  if (!parsed.success || issues.length > 0) throw new ConfigError(inOrder(issues));
  const defaults = new Defaults();
  const { name, startSoc, weather, start, stops } = parsed.data;
  const trip: Trip = {
    name: defaults.plain(name, 'name', 'trip', 'it has no name'),
    startSoc: defaults.quantity(startSoc, 'startSoc', 1, 'ratio', 'you leave with a full battery'),
    weather:
      weather ?? defaults.take('weather', { kind: 'climate' }, 'climate', 'the usual weather of place and season'),
    ...(start && start.hour > 0 && { startH: start.hour }),
    stops: stops.map((stop, i) =>
      resolveStop(i === 0 && start ? { from: start.date, ...stop } : stop, `stops[${i}]`, defaults),
    ),
  };
  return { trip, defaults: defaults.taken };
}

/** Parts that a stop names under `key`, but that the rig does not have. */
function unknownNames(
  source: Source,
  key: 'use' | 'shade',
  what: 'load' | 'array',
  known: readonly string[] | undefined,
): ConfigIssue[] {
  const stops = isGroup(source.value) ? source.value.stops : undefined;
  if (!known || !Array.isArray(stops)) return [];
  return stops.flatMap((stop: unknown, i) => {
    const names = isGroup(stop) && isGroup(stop[key]) ? Object.keys(stop[key]) : [];
    return names
      .filter((name) => !known.includes(name))
      .slice(0, MAX_FAULTS)
      .map((name) => {
        const near = closest(name, known);
        const hint = near ? `did you mean ${near}?` : `its ${what}s are ${known.join(', ')}`;
        return source.issue(
          `unknown_${what}`,
          ['stops', i, key, name],
          `the rig has no ${what} ${shown(name)}`,
          hint,
          true,
        );
      });
  });
}
