import { batteryPart } from './battery-part.js';
import { ensemblePart } from './ensemble-part.js';
import { part, quantity, text } from './field.js';
import { loadPart } from './load-part.js';
import { monthsPart, snowPart } from './months-part.js';
import { alternatorPart, cabinPart, inverterPart, mainsPart } from './power-part.js';
import { solarPart } from './solar-part.js';

/** A rig as it is written. */
export const rigFile = part('a rig: what is bolted in', {
  name: text('what you call it', 'Heron').optional(),
  currency: text('of every price', 'EUR').optional(),
  battery: batteryPart,
  solar: solarPart.array().meta({ description: 'one entry for each array with a controller of its own' }).optional(),
  alternator: alternatorPart.optional(),
  mains: mainsPart.optional(),
  inverter: inverterPart.optional(),
  cabin: cabinPart.optional(),
  loads: loadPart.array().meta({ description: 'everything that uses power' }).optional(),
  months: monthsPart.optional(),
  albedo: quantity('ratio', 'share of light that the ground throws back', { min: 0, max: 1 }, '20 %').optional(),
  snow: snowPart.optional(),
  ensemble: ensemblePart.optional(),
});
