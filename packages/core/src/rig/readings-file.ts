import { ConfigError } from './config-error.js';
import { refuseOtherKind } from './file-kind.js';
import { inOrder, issuesOf } from './issues.js';
import { readingsFile } from './readings-part.js';
import type { EnergyRead, Readings } from './readings-types.js';
import { requireText } from './sound.js';
import { Source } from './source.js';

const TRUST = 0.05;

/**
 * Reads readings from YAML or JSON text.
 * @throws ConfigError with every fault
 */
export function readReadings(yaml: string, options: { readonly file?: string } = {}): Readings {
  requireText('readReadings', yaml);
  const source = Source.read(yaml, options.file);
  refuseOtherKind(source, 'readings');
  const parsed = readingsFile.safeParse(source.value);
  if (!parsed.success) throw new ConfigError(inOrder(issuesOf(parsed.error, source)));
  const { totals = [], days = [], moments = [] } = parsed.data;
  const dates = days.map(({ date }) => date);
  const twice = dates.findIndex((date, k) => dates.indexOf(date) !== k);
  if (twice >= 0)
    throw new ConfigError([
      source.issue('duplicate', ['days', twice, 'date'], `${dates[twice]} is there twice`, 'keep one of them'),
    ]);
  return {
    totals: totals.map(({ solar, solarPerDay, used, full, empty, lowest, trust = TRUST, from, days: count }) => {
      const sun = solar ?? (solarPerDay && times(solarPerDay, count));
      return {
        from,
        days: count,
        trust,
        ...(sun && { solar: sun }),
        ...(used && { used }),
        ...(full !== undefined && { full }),
        ...(empty !== undefined && { empty }),
        ...(lowest !== undefined && { lowest }),
      };
    }),
    days: days.map(({ date, solar, lowest, highest }) => ({
      date,
      ...(solar && { solar }),
      ...(lowest !== undefined && { lowest }),
      ...(highest !== undefined && { highest }),
    })),
    moments: moments.map(({ at, soc, volts, amps, fridge }) => ({
      ...at,
      ...(soc !== undefined && { soc }),
      ...(volts !== undefined && { voltageV: volts }),
      ...(amps !== undefined && { currentA: amps }),
      ...(fridge !== undefined && { fridgeC: fridge }),
    })),
  };
}

function times(one: EnergyRead, count: number): EnergyRead {
  return one.kind === 'energy' ? { kind: 'energy', wh: one.wh * count } : { kind: 'charge', ah: one.ah * count };
}
