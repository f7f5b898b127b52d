import { batteryShape, checkBattery } from './battery-part.js';
import { number, part, quantity, text, wrong } from './field.js';
import { chargerPartOf } from './power-part.js';
import { checkSolar, solarShape } from './solar-part.js';

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
  panels: part('a solar module that could be bought', { ...solarShape, ...lineShape }, (panel, context) => {
    checkSolar(panel, context);
    if (panel.count === 0) wrong(context, ['count'], 'a line of a parts list holds one at least');
  })
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
