import { parseQuantity, QuantityError } from '../quantity/index.js';
import { isDate } from './civil-date.js';
import { FieldError, field, found, number, part, quantity, wrong } from './field.js';
import type { EnergyRead } from './readings-types.js';
import { dateField } from './stop-part.js';

const energyField = (description: string, sample: string) =>
  field<EnergyRead>({ description, type: 'string', examples: [sample] }, (value) => {
    if (typeof value !== 'string')
      throw new FieldError(
        'wrong_type',
        `found ${found(value)} where an energy in Wh or a charge in Ah is needed`,
        `such as ${sample}`,
      );
    try {
      const wh = parseQuantity(value, 'energy');
      if (!(wh >= 0)) throw new FieldError('out_of_range', `${value} is below 0`);
      return { kind: 'energy', wh };
    } catch (error) {
      if (!(error instanceof QuantityError) || !/Ah|amp/i.test(value)) throw error;
      const ah = parseQuantity(value, 'charge');
      if (!(ah >= 0)) throw new FieldError('out_of_range', `${value} is below 0`);
      return { kind: 'charge', ah };
    }
  });
const socField = (description: string, sample: string) => quantity('ratio', description, { min: 0, max: 1 }, sample);
const momentField = field<{ date: string; hour: number }>(
  { description: 'local date and time', type: 'string', examples: ['2026-08-02 21:10'] },
  (value) => {
    const match = typeof value === 'string' ? /^\s*(\d{4}-\d{2}-\d{2})[ T]+(\d{1,2}):(\d{2})\s*$/.exec(value) : null;
    const [, date, hour, minute] = match ?? [];
    if (date === undefined || !isDate(date) || Number(hour) > 23 || Number(minute) > 59)
      throw new FieldError(
        'wrong_type',
        `${found(value)} is no date and time`,
        'write year-month-day hour:minute, such as 2026-08-02 21:10',
      );
    return { date, hour: Number(hour) + Number(minute) / 60 };
  },
);

const totalPart = part(
  'what a display adds up over days',
  {
    from: dateField,
    days: number('how many days from there', { min: 1, max: 400, whole: true }),
    solar: energyField('what the solar controllers gave in all', '20.2 kWh').optional(),
    solarPerDay: energyField('or a day, in the mean', '210 Wh').optional(),
    used: energyField('what all loads took in all', '18 kWh').optional(),
    full: number('days on which the battery was full', { min: 0, max: 400, whole: true }).optional(),
    empty: number('times that it was cut off as empty', { min: 0, max: 10_000, whole: true }).optional(),
    lowest: socField('lowest state of charge', '41 %').optional(),
    trust: quantity('ratio', 'how far energies may be off, 9 times in 10', { min: 0.005, max: 1 }, '5 %').optional(),
  },
  (total, context) => {
    if (total.solar && total.solarPerDay)
      wrong(context, ['solarPerDay'], 'both solar and solarPerDay are given', 'keep one of them');
    if (total.full !== undefined && total.full > total.days)
      wrong(
        context,
        ['full'],
        `full on ${total.full} days of ${total.days}`,
        `a battery is full on ${total.days} of ${total.days} days at most`,
      );
  },
);
const dayPart = part(
  'a day',
  {
    date: dateField,
    solar: energyField('what the solar controllers gave', '310 Wh').optional(),
    lowest: socField('lowest state of charge', '62 %').optional(),
    highest: socField('highest state of charge', '100 %').optional(),
  },
  (day, context) => {
    if (day.lowest !== undefined && day.highest !== undefined && day.lowest > day.highest)
      wrong(context, ['lowest'], 'the lowest state of charge is above the highest', 'change them round');
  },
);
const momentPart = part(
  'a single look at the display',
  {
    at: momentField,
    soc: socField('state of charge', '88 %').optional(),
    volts: quantity('voltage', 'at the battery', { min: 0, max: 80 }, '13.2 V').optional(),
    amps: quantity(
      'current',
      'with volts: its current meanwhile, positive while charging',
      { min: -2000, max: 2000 },
      '-2 A',
    ).optional(),
    fridge: quantity('temperature', 'inside the first fridge', { min: -40, max: 50 }, '6 degC').optional(),
  },
  (moment, context) => {
    if (moment.amps !== undefined && moment.volts === undefined)
      wrong(context, ['amps'], 'amps go with volts', 'add volts: 13.2 V', 'missing');
    else if (moment.soc === undefined && moment.volts === undefined && moment.fridge === undefined)
      wrong(context, [], 'the moment says nothing', 'add soc: 88 %, or volts: 13.2 V, or fridge: 6 degC', 'missing');
  },
);

/** Readings as they are written. */
export const readingsFile = part('readings: what a display showed', {
  totals: totalPart.array().meta({ description: 'sums and counts over days' }).optional(),
  days: dayPart.array().meta({ description: 'rows of days' }).optional(),
  moments: momentPart.array().meta({ description: 'single looks at the display' }).optional(),
});
