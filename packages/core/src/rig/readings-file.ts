import { parseQuantity, QuantityError } from '../quantity/index.js';
import { isDate } from './civil-date.js';
import { ConfigError } from './config-error.js';
import { FieldError, field, found, number, part, quantity, wrong } from './field.js';
import { refuseOtherKind } from './file-kind.js';
import { inOrder, issuesOf } from './issues.js';
import { requireText } from './sound.js';
import { Source } from './source.js';
import { dateField } from './stop-part.js';

/** An energy, or a charge that the battery's nominal voltage turns into one. */
export type EnergyRead =
  | { readonly kind: 'energy'; readonly wh: number }
  | { readonly kind: 'charge'; readonly ah: number };

/** What a display showed over a span of days. */
export interface TotalRead {
  /** local civil date, ISO, and how many days from there */
  readonly from: string;
  readonly days: number;
  /** that the solar controllers gave, and that all loads took: in all [Wh or Ah] */
  readonly solar?: EnergyRead;
  readonly used?: EnergyRead;
  /** days on which the battery was full, and times that it was cut off as empty */
  readonly full?: number;
  readonly empty?: number;
  /** lowest state of charge, 0..1 */
  readonly lowest?: number;
  /** how far energies may be off, 9 times in 10, as a share */
  readonly trust: number;
}

/** A day's row of a display. */
export interface DayRead {
  readonly date: string;
  readonly solar?: EnergyRead;
  readonly lowest?: number;
  readonly highest?: number;
}

/** A single look at a display. */
export interface MomentRead {
  /** local civil date, ISO, and hour, 0..24 */
  readonly date: string;
  readonly hour: number;
  readonly soc?: number;
  readonly voltageV?: number;
}

/** Few readings of a vehicle, in place of a log. */
export interface Readings {
  readonly totals: readonly TotalRead[];
  readonly days: readonly DayRead[];
  readonly moments: readonly MomentRead[];
}

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
  },
  (moment, context) => {
    if (moment.soc === undefined && moment.volts === undefined)
      wrong(context, [], 'the moment says nothing', 'add soc: 88 %, or volts: 13.2 V', 'missing');
  },
);

/** Readings as they are written. */
export const readingsFile = part('readings: what a display showed', {
  totals: totalPart.array().meta({ description: 'sums and counts over days' }).optional(),
  days: dayPart.array().meta({ description: 'rows of days' }).optional(),
  moments: momentPart.array().meta({ description: 'single looks at the display' }).optional(),
});

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
    moments: moments.map(({ at, soc, volts }) => ({
      ...at,
      ...(soc !== undefined && { soc }),
      ...(volts !== undefined && { voltageV: volts }),
    })),
  };
}

function times(one: EnergyRead, count: number): EnergyRead {
  return one.kind === 'energy' ? { kind: 'energy', wh: one.wh * count } : { kind: 'charge', ah: one.ah * count };
}
