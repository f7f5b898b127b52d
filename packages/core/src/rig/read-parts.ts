import type * as z from 'zod';
import { bankScale, batteryShape, checkBattery, resolveBattery } from './battery-part.js';
import { ConfigError } from './config-error.js';
import { Defaults } from './defaults.js';
import { number, part, quantity, text } from './field.js';
import { refuseOtherKind } from './file-kind.js';
import { inOrder, issuesOf } from './issues.js';
import { chargerPartOf, resolveCharger } from './power-part.js';
import { checkSolar, resolveSolar, solarShape } from './solar-part.js';
import { Source } from './source.js';
import type { DefaultTaken, Part, PartsList } from './types.js';

/** What every line of a parts list says beside the part itself. */
const lineShape = {
  name: text('what you call it', 'LFP 100'),
  mass: quantity('mass', 'mass of one', { min: 0, max: 1000 }, '11.5 kg'),
  price: number('price of one', { min: 0, max: 1e6 }),
  area: quantity('area', 'area that one takes', { min: 0.01, max: 10 }, '0.9 m2').optional(),
};

/** A parts list as it is written. */
export const partsFile = part('a parts list: what could be bought', {
  name: text('what you call it').optional(),
  batteries: part('a battery that could be bought', { ...batteryShape, ...lineShape }, checkBattery)
    .array()
    .meta({ description: 'batteries to choose from' })
    .optional(),
  panels: part('a solar module that could be bought', { ...solarShape, ...lineShape }, checkSolar)
    .array()
    .meta({ description: 'solar modules to choose from' })
    .optional(),
  chargers: chargerPartOf(lineShape)
    .array()
    .meta({ description: 'chargers on the alternator to choose from' })
    .optional(),
  limits: part('what must not be exceeded', {
    batteries: number('most batteries', { min: 0, max: 100, whole: true }).optional(),
    panels: number('most modules', { min: 0, max: 100, whole: true }).optional(),
    mass: quantity('mass', 'mass of everything bought', { min: 0, max: 10_000 }, '60 kg').optional(),
    price: number('price of everything bought', { min: 0, max: 1e7 }).optional(),
    area: quantity('area', 'area of roof', { min: 0, max: 1000 }, '2.2 m2').optional(),
  }).optional(),
  target: part('what must be reached', {
    unservedHours: quantity(
      'duration',
      'hours a year without power that are allowed',
      { min: 0, max: 8784, bare: true },
      '0 h',
    ).optional(),
    years: quantity('ratio', 'share of weather years that must meet it', { min: 0.01, max: 1 }, '90 %').optional(),
  }).optional(),
});

/**
 * Reads a parts list from YAML or JSON text.
 * @throws ConfigError with every fault
 */
export function readParts(
  yaml: string,
  options: { readonly file?: string } = {},
): { parts: PartsList; defaults: DefaultTaken[] } {
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
