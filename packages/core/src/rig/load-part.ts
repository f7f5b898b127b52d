import * as z from 'zod';
import type { Defaults } from './defaults.js';
import { fridgePart, resolveFridge } from './fridge-part.js';
import { resolveScheduled, scheduledPart } from './scheduled-part.js';
import type { Load } from './types.js';

export const loadPart = z
  .discriminatedUnion('kind', [scheduledPart, fridgePart], {
    error: (issue) =>
      issue.code === 'invalid_union' ? 'kind must be fridge; leave it out for any other load' : undefined,
  })
  .meta({ description: 'something that uses power' });

/** @param scale nominal voltage of the bank over 12 V */
export function resolveLoad(load: z.output<typeof loadPart>, scale: number, path: string, defaults: Defaults): Load {
  if (load.off) return leftOut(load.name);
  return load.kind === 'fridge' ? resolveFridge(load, scale, path, defaults) : resolveScheduled(load, path, defaults);
}

/** A load that takes nothing, under its own name, so that trips can name it. */
function leftOut(name: string): Load {
  return {
    kind: 'scheduled',
    name,
    draw: { kind: 'power', powerW: 0 },
    when: [],
    everyDays: 1,
    share: 0,
    inverter: false,
    critical: false,
    starterSide: false,
  };
}
