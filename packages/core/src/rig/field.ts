import * as z from 'zod';
import {
  bareNumber,
  closest,
  DIMENSIONS,
  type Dimension,
  formatQuantity,
  parseClock,
  parseQuantity,
  parseWindows,
  QuantityError,
  shown,
} from '../quantity/index.js';
import type { Limit } from './types.js';

/** A value is not what its field needs. */
export class FieldError extends Error {
  constructor(
    readonly code: string,
    message: string,
    readonly hint?: string,
  ) {
    super(message);
  }
}

/** What an editor shows of a field, in the words of JSON Schema. */
export interface FieldNote {
  readonly description: string;
  readonly type?: string | readonly string[];
  readonly examples?: readonly unknown[];
  readonly enum?: readonly unknown[];
  readonly pattern?: string;
  readonly minimum?: number;
  readonly maximum?: number;
}

/** A leaf of the file: `read` turns what was written into what the program uses, or throws. */
export function field<T>(note: FieldNote, read: (value: unknown) => T) {
  return z
    .unknown()
    .transform((value, context): T => {
      try {
        if (value === undefined) throw new FieldError('missing', `is missing: ${note.description}`, example(note));
        if (value === null) throw new FieldError('missing', `is empty: ${note.description}`, example(note));
        return read(value);
      } catch (error) {
        if (!(error instanceof FieldError || error instanceof QuantityError)) throw error;
        context.issues.push({
          code: 'custom',
          message: error.message,
          input: value,
          params: { code: error.code, hint: error.hint },
        });
        return z.NEVER;
      }
    })
    .meta({ ...note });
}

function example(note: FieldNote): string | undefined {
  const one = note.enum ? note.enum.join(', ') : note.examples?.[0];
  return one === undefined ? undefined : note.enum ? `one of ${one}` : `such as ${one}`;
}

/** For messages: the kind and the beginning of what was found. */
export function found(value: unknown): string {
  if (value === null) return 'nothing';
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'object') return 'a group of keys';
  return typeof value === 'string' ? shown(value) : String(value);
}

export interface QuantityRange {
  /** in the dimension's unit, both ends included */
  readonly min: number;
  readonly max: number;
  /** a number without unit is understood */
  readonly bare?: boolean;
}

/** "100 Ah" and the like -> a number in the dimension's unit, within the range. */
export function quantity(dimension: Dimension, description: string, range: QuantityRange, sample?: string) {
  const spec = DIMENSIONS[dimension];
  const bare = range.bare === true || dimension === 'ratio' || dimension === 'count';
  return field<number>(
    {
      description: `${description} (${spec.say})`,
      type: bare ? ['string', 'number'] : 'string',
      examples: [sample ?? spec.example],
      ...(!bare && { pattern: '\\d.*[A-Za-z%°Ω²³]|[Aa][Ww][Gg]' }),
    },
    (value) => readQuantity(value, dimension, range),
  );
}

export function readQuantity(value: unknown, dimension: Dimension, range: QuantityRange): number {
  const spec = DIMENSIONS[dimension];
  const bare = range.bare === true || dimension === 'ratio' || dimension === 'count';
  if (typeof value === 'number' && !bare) throw bareNumber(value, spec);
  if (typeof value !== 'number' && typeof value !== 'string')
    throw new FieldError('wrong_type', `found ${found(value)} where ${spec.say} is needed`, `such as ${spec.example}`);
  const number = typeof value === 'number' ? value : parseQuantity(value, dimension, bare);
  if (!(number >= range.min && number <= range.max)) {
    const [low, high] = [formatQuantity(range.min, dimension), formatQuantity(range.max, dimension)];
    const percent = dimension === 'ratio' && number > 1 && number <= 100 && String(value).trim() === String(number);
    throw new FieldError(
      'out_of_range',
      `${found(value).replaceAll('"', '')} is out of range: ${low} to ${high}`,
      percent ? `did you mean ${number} %?` : undefined,
    );
  }
  return number;
}

/** A plain number, such as a count or a price. */
export function number(
  description: string,
  range: { readonly min: number; readonly max: number; readonly whole?: boolean; readonly belowHint?: string },
) {
  return field<number>(
    { description, type: range.whole ? 'integer' : 'number', minimum: range.min, maximum: range.max },
    (value) => {
      if (typeof value !== 'number')
        throw new FieldError(
          'wrong_type',
          `found ${found(value)} where a ${range.whole ? 'whole ' : ''}number is needed`,
        );
      if (!(value >= range.min && value <= range.max))
        throw new FieldError(
          'out_of_range',
          `${value} is out of range: ${range.min} to ${range.max}`,
          value < range.min ? range.belowHint : undefined,
        );
      if (range.whole && !Number.isInteger(value)) throw new FieldError('wrong_type', `${value} is not a whole number`);
      return value;
    },
  );
}

/** @param otherwise words that people use for one of them, or for several: what to write instead, or why to choose */
export function choice<const T extends string>(
  description: string,
  options: readonly T[],
  otherwise: readonly { readonly says: RegExp; readonly is?: T; readonly hint?: string }[] = [],
) {
  return field<T>({ description, enum: options }, (value) => {
    const text = typeof value === 'string' ? value.trim() : value;
    const exact = options.find((option) => typeof text === 'string' && option.toLowerCase() === text.toLowerCase());
    if (exact !== undefined) return exact;
    const other = otherwise.find(({ says }) => typeof text === 'string' && says.test(text));
    if (other?.is !== undefined) return other.is;
    if (other?.hint !== undefined)
      throw new FieldError('wrong_choice', `${found(value)} does not say which kind`, other.hint);
    const near = typeof text === 'string' ? closest(text, options) : undefined;
    throw new FieldError(
      'wrong_choice',
      `${found(value)} is not one of ${options.join(', ')}`,
      near && `did you mean ${near}?`,
    );
  });
}

export function text(description: string, sample?: string) {
  return field<string>({ description, type: 'string', ...(sample && { examples: [sample] }) }, (value) => {
    if (typeof value !== 'string' && typeof value !== 'number')
      throw new FieldError('wrong_type', `found ${found(value)} where a text is needed`);
    const trimmed = String(value).trim();
    if (trimmed === '') throw new FieldError('missing', 'is empty', sample && `such as ${sample}`);
    if (/[\n\r\t]/.test(trimmed)) throw new FieldError('wrong_type', 'must stand on one line');
    if (trimmed.length > 200) throw new FieldError('out_of_range', 'is longer than 200 characters');
    return trimmed;
  });
}

/** true, yes and on; false, no and off; undefined for anything else. */
export function isYes(value: unknown): boolean | undefined {
  if (typeof value === 'boolean') return value;
  if (typeof value !== 'string') return undefined;
  const word = value.trim().toLowerCase();
  return ['yes', 'on', 'true'].includes(word) ? true : ['no', 'off', 'false'].includes(word) ? false : undefined;
}

export function yesNo(description: string) {
  return field<boolean>({ description, type: ['boolean', 'string'], examples: ['yes', 'no'] }, (value) => {
    const said = isYes(value);
    if (said === undefined) throw new FieldError('wrong_type', `found ${found(value)} where yes or no is needed`);
    return said;
  });
}

/** A cut-out limit: a state of charge or a voltage. */
export function limit(description: string) {
  return field<Limit>(
    {
      description: `${description} (a state of charge in %, or a voltage)`,
      type: ['string', 'number'],
      examples: ['10 %', '11.2 V'],
    },
    (value) => {
      if (typeof value === 'string' && /v(olts?)?\s*$/i.test(value))
        return { kind: 'voltage', voltageV: readQuantity(value, 'voltage', { min: 5, max: 70 }) };
      try {
        return { kind: 'soc', soc: readQuantity(value, 'ratio', { min: 0, max: 1 }) };
      } catch (error) {
        if (error instanceof FieldError && error.code === 'out_of_range') throw error;
        throw new FieldError(
          'wrong_unit',
          `${found(value)} is neither a state of charge nor a voltage`,
          'write 10 % or 11.2 V',
        );
      }
    },
  );
}

/** "22:30" -> hours of local civil time. */
export function clockHour(description: string, sample = '09:00') {
  return field<number>({ description: `${description} (local time)`, type: 'string', examples: [sample] }, (value) => {
    const point = typeof value === 'string' ? parseClock(value) : undefined;
    if (point?.kind !== 'clock')
      throw new FieldError('wrong_type', `found ${found(value)} where a clock time is needed`, `such as "${sample}"`);
    return point.hour;
  });
}

export function windows(description: string) {
  return field(
    { description, type: 'string', examples: ['sunset to 22:30', '09:00 to 17:00 and 20:00 to 22:00'] },
    (value) => {
      if (typeof value !== 'string')
        throw new FieldError(
          'wrong_type',
          `found ${found(value)} where a time window is needed`,
          'such as "09:00 to 17:00"',
        );
      return parseWindows(value);
    },
  );
}

/** Keys with their fields, and no others. The message of an unknown key is the list of the keys there are: see `issues.ts`. */
export function part<const Shape extends z.core.$ZodLooseShape>(
  description: string,
  shape: Shape,
  /** looks across the keys, once each is right by itself, and reports with `wrong` */
  check: (value: PartOf<Shape>, context: z.core.$RefinementCtx) => void = () => {},
) {
  return z
    .strictObject(shape, {
      error: (issue) => (issue.code === 'unrecognized_keys' ? Object.keys(shape).join(' ') : undefined),
    })
    .superRefine(check)
    .meta({ description });
}

/** What a part of this shape is once read. */
export type PartOf<Shape extends z.core.$ZodLooseShape> = z.output<z.ZodObject<Shape, z.core.$strict>>;

/** Reports, from a check across the keys of one part, what is wrong at one of them. */
export function wrong(
  context: z.core.$RefinementCtx,
  at: readonly (string | number)[],
  message: string,
  hint?: string,
  code = 'contradiction',
): void {
  context.addIssue({ code: 'custom', path: [...at], message, params: { code, hint } });
}

/** `off: yes` leaves a part out, for a what-if. */
export const offField = yesNo('leaves it out, for a what-if').optional();
