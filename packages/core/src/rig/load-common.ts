import { cablePart, resolveCable } from './cable-part.js';
import type { Defaults } from './defaults.js';
import { offField, type PartOf, quantity, text, yesNo } from './field.js';
import type { LoadCommon } from './types.js';

/** What every load may say. */
export const commonShape = {
  name: text('what you call it', 'lights'),
  off: offField,
  critical: yesNo('it must not fail: its cable may drop 3 %, not 10 %').optional(),
  cable: cablePart.optional(),
  surge: quantity('current', 'start-up current', { min: 0, max: 2000 }, '10 A').optional(),
  starterSide: yesNo('fed by the starter battery').optional(),
};

/** @param isCritical what a load of this kind is when it does not say */
export function resolveCommon(
  load: PartOf<typeof commonShape>,
  isCritical: boolean,
  path: string,
  defaults: Defaults,
): LoadCommon {
  return {
    name: load.name,
    critical: isCritical
      ? defaults.plain(load.critical, `${path}.critical`, true, 'a fridge must not fail')
      : (load.critical ?? false),
    ...resolveCable(load.cable, `${path}.cable`, defaults),
    ...(load.surge !== undefined && { surgeA: load.surge }),
    starterSide: load.starterSide ?? false,
  };
}
