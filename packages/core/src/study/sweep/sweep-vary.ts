import { option } from '../../message/index.js';
import { compileExpression, ExpressionError, shown } from '../../quantity/index.js';
import { ConfigError } from '../../rig/index.js';

/** One quantity that a sweep varies, and the values it takes in turn; long ranges are never written out. */
export interface Vary {
  /** as written: battery.capacity, solar[0].tilt, loads.fridge.setpoint */
  readonly path: string;
  /** of every value, when all are numbers with the same unit; '' = numbers without a unit; absent = texts */
  readonly unit?: string;
  readonly count: number;
  /** the value as it is put into the file, from 0 */
  textAt(index: number): string;
  /** the same for a table: the number alone when there is a common unit */
  cellAt(index: number): number | string;
}

interface Item {
  readonly count: number;
  readonly unit: string | undefined;
  textAt(index: number): string;
  cellAt(index: number): number | string;
}

/** Values of one varied key that are compared one by one for duplicates; ranges beyond cannot hold any but by overlap. */
const MAX_COMPARED = 100_000;

/**
 * Reads `path=values`: a list with commas, whose items are values or ranges `first:step:last` (or `first:last`, in steps of
 * one) as mathjs writes them, both ends included: "battery.capacity=50:25:200 Ah", "battery.chemistry=LFP,AGM". A unit
 * after the last item holds for all bare numbers before it. A clock time (09:30, 10:20) is no range, and neither is
 * anything in quotes or brackets.
 * @throws ConfigError
 */
export function parseVary(text: string): Vary {
  const equals = text.indexOf('=');
  const path = text.slice(0, Math.max(0, equals)).trim();
  const refuse = (message: string, hint?: string) => varyError(path, text, message, hint);
  const example = 'write path=first:step:last unit, such as battery.capacity=50:25:200 Ah, or a list with commas';
  if (path === '') throw refuse(`${shown(text)} does not say what to vary`, example);
  if (/\p{Cc}/u.test(text)) throw refuse('there is a line break or a control character in it');
  const parts = splitOutside(text.slice(equals + 1), ',').map((part) => part.trim());
  if (parts.every((part) => part === '')) throw refuse('it has no values', example);
  if (parts.includes('')) throw refuse('there is an empty place in the list', 'is there a comma too many?');
  const common = rangeOf(parts.at(-1)!)?.unit ?? numberOf(parts.at(-1)!)?.unit ?? '';
  const items = parts.map((part) => itemOf(part, common, refuse));
  const vary = joined(path, items);
  refuseDuplicates(vary, refuse);
  return vary;
}

export function varyError(path: string, text: string, message: string, hint?: string): ConfigError {
  return new ConfigError([
    { code: 'vary', path, option: option('vary', text || undefined), message, ...(hint && { hint }) },
  ]);
}

type Refuse = (message: string, hint?: string) => ConfigError;

function itemOf(part: string, commonUnit: string, refuse: Refuse): Item {
  const range = rangeOf(part);
  if (range) return rangeItem(range, part, commonUnit, refuse);
  const number = numberOf(part);
  if (number) {
    const unit = number.unit || commonUnit;
    const value = number.value;
    return { count: 1, unit, textAt: () => withUnit(value, unit), cellAt: () => value };
  }
  return { count: 1, unit: undefined, textAt: () => part, cellAt: () => unquoted(part) };
}

/** Numbers in a row between colons, the last with a unit or without; nothing else looks like a range. */
function rangeOf(part: string): { readonly bounds: readonly string[]; readonly unit: string } | undefined {
  if (/^([01]\d|2[0-3]):[0-5]\d$/.test(part) || /["'[\]{}]/.test(part)) return undefined;
  const bounds = part.split(':').map((bound) => bound.trim());
  if (bounds.length < 2) return undefined;
  const [last = '', unit = ''] = arithmeticThenUnit(bounds.at(-1)!) ?? [];
  const numbers = [...bounds.slice(0, -1), last];
  const isArithmetic = (bound: string) => /\d/.test(bound) && arithmeticThenUnit(bound)?.[1] === '';
  return numbers.every(isArithmetic) ? { bounds: numbers, unit } : undefined;
}

/** "100/4 Ah" as "100/4" and "Ah" */
function arithmeticThenUnit(text: string): [string, string] | undefined {
  const found = /^((?:[\d.()+*/^\s-]|(?<=[\d.])[eE](?=[+-]?\d))+)(.*)$/.exec(text);
  if (!found) return undefined;
  // What divides belongs to the unit when no number follows: 3 /day
  const slash = /\s*\/\s*$/.exec(found[1]!)?.[0] ?? '';
  return [found[1]!.slice(0, found[1]!.length - slash.length).trim(), (slash.trim() + found[2]!).trim()];
}

function numberOf(part: string): { readonly value: number; readonly unit: string } | undefined {
  const found = /^([+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?)\s*((?:\/\s*)?[\p{L}%°º][^:,]*)?$/u.exec(part);
  if (!found || !Number.isFinite(Number(found[1]))) return undefined;
  return { value: Number(found[1]), unit: found[2] ?? '' };
}

function rangeItem(
  { bounds, unit: own }: { readonly bounds: readonly string[]; readonly unit: string },
  part: string,
  commonUnit: string,
  refuse: Refuse,
): Item {
  if (bounds.length > 3) throw refuse(`${shown(part)} has ${bounds.length} parts`, 'a range is first:step:last');
  const unit = own || commonUnit;
  const [first, step, last] = (bounds.length === 2 ? [bounds[0]!, '1', bounds[1]!] : bounds).map((bound) =>
    arithmetic(bound, refuse),
  ) as [number, number, number];
  if (step === 0) throw refuse(`the step of ${shown(part)} is 0`, 'first:step:last, with a step above 0');
  if ((last - first) / step < 0) {
    const [low, high] = [Math.min(first, last), Math.max(first, last)];
    throw refuse(
      `${shown(part)} never gets from ${first} to ${last} in steps of ${step}`,
      `did you mean ${withUnit(`${low}:${Math.abs(step)}:${high}`, unit)}?`,
    );
  }
  // The last value counts although the steps to it are rounded: 0:0.1:0.3 has four.
  const count = Math.floor(((last - first) / step) * (1 + 1e-12) + 1e-9) + 1;
  const at = (index: number) => Number((first + index * step).toPrecision(12));
  return { count, unit, textAt: (index) => withUnit(at(index), unit), cellAt: at };
}

function arithmetic(text: string, refuse: Refuse): number {
  try {
    const value = compileExpression(text, []).evaluate({});
    if (Number.isFinite(value)) return value;
  } catch (error) {
    if (!(error instanceof ExpressionError)) throw error;
    throw refuse(error.message, error.hint);
  }
  throw refuse(`${shown(text)} is no finite number`);
}

function joined(path: string, items: readonly Item[]): Vary {
  const [first] = items;
  const isOneUnit = items.every(({ unit }) => unit !== undefined && unit === first!.unit);
  const find = (index: number): [Item, number] => {
    let left = index;
    for (const item of items) {
      if (left < item.count) return [item, left];
      left -= item.count;
    }
    throw new RangeError(`${path} has no value ${index}`);
  };
  const textAt = (index: number) => {
    const [item, at] = find(index);
    return item.textAt(at);
  };
  return {
    path,
    ...(isOneUnit && { unit: first!.unit! }),
    count: items.reduce((sum, { count }) => sum + count, 0),
    textAt,
    cellAt: (index) => {
      const [item, at] = find(index);
      return isOneUnit ? item.cellAt(at) : unquoted(item.textAt(at));
    },
  };
}

function refuseDuplicates({ count, textAt }: Vary, refuse: Refuse): void {
  const known = new Set<string>();
  for (let i = 0; i < Math.min(count, MAX_COMPARED); i++) {
    const text = textAt(i);
    if (known.has(text)) throw refuse(`the value ${shown(text)} is given twice`, 'give each value once');
    known.add(text);
  }
}

const withUnit = (value: number | string, unit: string) => (unit === '' ? `${value}` : `${value} ${unit}`);
const unquoted = (text: string) => /^"([^"\\]*)"$|^'([^']*)'$/.exec(text)?.slice(1).join('') ?? text;

/** Splits at a sign that stands outside quotes and brackets. */
function splitOutside(text: string, sign: string): string[] {
  const parts = [''];
  let depth = 0;
  let quote = '';
  for (const character of text) {
    if (quote) quote = character === quote ? '' : quote;
    else if (character === '"' || character === "'") quote = character;
    else if ('([{'.includes(character)) depth++;
    else if (')]}'.includes(character)) depth--;
    if (character === sign && depth === 0 && !quote) parts.push('');
    else parts[parts.length - 1] += character;
  }
  return parts;
}
