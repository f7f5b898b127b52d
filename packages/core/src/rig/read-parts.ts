import type * as z from 'zod';
import { bankScale, resolveBattery } from './battery-part.js';
import { ConfigError } from './config-error.js';
import { Defaults } from './defaults.js';
import { refuseOtherKind } from './file-kind.js';
import { inOrder, issuesOf } from './issues.js';
import { partsFile } from './parts-file.js';
import { resolveCharger } from './power-part.js';
import { resolveSolar } from './solar-part.js';
import { requireText } from './sound.js';
import { Source } from './source.js';
import type { DefaultTaken, Part, PartsList } from './types.js';

/**
 * Reads a parts list from YAML or JSON text.
 * @throws ConfigError with every fault
 */
export function readParts(
  yaml: string,
  options: { readonly file?: string } = {},
): { parts: PartsList; defaults: DefaultTaken[] } {
  requireText('readParts', yaml);
  const source = Source.read(yaml, options.file);
  refuseOtherKind(source, 'parts');
  const parsed = partsFile.safeParse(source.value);
  const issues = [
    ...(parsed.success ? [] : issuesOf(parsed.error, source)),
    ...source.duplicateNames(['batteries', 'panels', 'chargers']),
  ];
  if (!parsed.success || issues.length > 0) throw new ConfigError(inOrder(issues));
  const defaults = new Defaults();
  return { parts: resolveParts(parsed.data, defaults), defaults: defaults.taken };
}

function resolveParts(file: z.output<typeof partsFile>, defaults: Defaults): PartsList {
  const { limits, target } = file;
  return {
    name: defaults.plain(file.name, 'name', 'parts', 'it has no name'),
    batteries: (file.batteries ?? []).map((line, i) => ({
      ...partOf(line),
      battery: resolveBattery(line, `batteries[${i}]`, defaults),
    })),
    // A controller that is not named is sized for a 12 V bank; whoever joins panels to a bank sizes it anew.
    panels: (file.panels ?? []).map((line, i) => ({
      ...partOf(line),
      array: resolveSolar(line, line.name, bankScale({ nominalV: 12, series: 1 }), `panels[${i}]`, defaults),
    })),
    chargers: (file.chargers ?? []).map((line, i) => ({
      ...partOf(line),
      charger: resolveCharger(line, undefined, `chargers[${i}]`, defaults),
    })),
    limits: {
      ...(limits?.batteries !== undefined && { batteries: limits.batteries }),
      ...(limits?.panels !== undefined && { panels: limits.panels }),
      ...(limits?.mass !== undefined && { massKg: limits.mass }),
      ...(limits?.price !== undefined && { price: limits.price }),
      ...(limits?.area !== undefined && { areaM2: limits.area }),
    },
    target: {
      unservedHours: defaults.quantity(
        target?.unservedHours,
        'target.unservedHours',
        0,
        'duration',
        'no hour without power',
      ),
      years: defaults.quantity(target?.years, 'target.years', 0.9, 'ratio', '9 of 10 weather years'),
    },
  };
}

function partOf(line: { name: string; mass: number; price: number; area?: number | undefined }): Part {
  return {
    name: line.name,
    massKg: line.mass,
    price: line.price,
    ...(line.area !== undefined && { areaM2: line.area }),
  };
}
