import type * as z from 'zod';
import { DIMENSIONS, type Dimension } from '../quantity/index.js';
import { FieldError, field, found, part, readQuantity, wrong } from './field.js';
import type { MonthlyClimate } from './types.js';

/** Twelve values: a list of texts with units, or one text of twelve numbers with the unit at its end. */
function twelve(dimension: Dimension, description: string, range: { min: number; max: number }, sample: string) {
  return field<number[]>(
    { description: `${description}; twelve values, January first`, type: ['string', 'array'], examples: [sample] },
    (value) => {
      const items = Array.isArray(value) ? value : typeof value === 'string' ? spread(value) : undefined;
      if (!items)
        throw new FieldError('wrong_type', `found ${found(value)} where twelve values are needed`, `such as ${sample}`);
      if (items.length !== 12)
        throw new FieldError(
          'out_of_range',
          `found ${items.length} values where twelve are needed`,
          `such as ${sample}`,
        );
      return items.map((item: unknown) => readQuantity(item, dimension, range));
    },
  );
}

function spread(text: string): string[] {
  const match = /^((?:[-+−]?[\d.]+[\s,]+)*[-+−]?[\d.]+)\s*([^\d\s.,+-].*)$/.exec(text.trim());
  return match ? match[1]!.split(/[\s,]+/).map((number) => `${number} ${match[2]}`) : [text];
}

export const monthsPart = part(
  "the owner's own months, used instead of the table of places",
  {
    irradiation: twelve(
      'irradiation',
      'mean daily irradiation on the flat',
      { min: 0, max: 15 },
      '1.6 2.4 3.8 5.0 6.1 6.8 6.9 6.0 4.6 3.0 1.9 1.4 kWh/m2/day',
    ).optional(),
    maxTemperature: twelve(
      'temperature',
      'mean of the daily highest temperature',
      { min: -60, max: 60 },
      '12 13 15 17 20 24 27 27 24 20 15 13 degC',
    ).optional(),
    minTemperature: twelve(
      'temperature',
      'mean of the daily lowest temperature',
      { min: -80, max: 50 },
      '4 5 6 8 11 14 16 16 14 11 7 5 degC',
    ).optional(),
  },
  (months, context) => {
    const { maxTemperature: high, minTemperature: low } = months;
    const month = high && low ? high.findIndex((value, i) => value < low[i]!) : -1;
    if (month >= 0)
      wrong(
        context,
        ['maxTemperature'],
        `in month ${month + 1} the highest temperature (${high![month]} ${DIMENSIONS.temperature.written}) is below the lowest (${low![month]})`,
      );
  },
);

export const snowPart = part('snow by month', {
  ground: twelve(
    'ratio',
    'share of the time that it lies on the ground',
    { min: 0, max: 1 },
    '60 60 30 0 0 0 0 0 0 0 10 40 %',
  ),
  panels: twelve(
    'ratio',
    'share of the light that it keeps from the panels; 0 % where they are swept each morning',
    { min: 0, max: 1 },
    '30 30 10 0 0 0 0 0 0 0 5 20 %',
  ).optional(),
});

export function resolveMonths(months: z.output<typeof monthsPart> | undefined): { months?: Partial<MonthlyClimate> } {
  if (!months) return {};
  return {
    months: {
      ...(months.irradiation && { ghiKwhM2Day: months.irradiation }),
      ...(months.maxTemperature && { tMaxC: months.maxTemperature }),
      ...(months.minTemperature && { tMinC: months.minTemperature }),
    },
  };
}
