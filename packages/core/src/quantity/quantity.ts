import { DIMENSIONS, type Dimension, type DimensionSpec } from './dimension.js';
import { awgSectionMm2, readGauge } from './gauge.js';
import { unitOf } from './mathjs-unit.js';

/** What is wrong with a text that should be a quantity. */
export type QuantityFault = 'not_a_quantity' | 'bare_number' | 'wrong_unit' | 'unknown_unit';

/** A text is no quantity of the wanted dimension. `message` says what was found and what is right. */
export class QuantityError extends Error {
  override readonly name = 'QuantityError';
  constructor(
    readonly code: QuantityFault,
    message: string,
    /** a guess at what was meant, such as "did you mean 50 Ah?" */
    readonly hint?: string,
  ) {
    super(message);
  }
}

const NUMBER = /^([+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:e[+-]?\d+)?)\s*(.*)$/is;
const PER_DAY = /\s*(?:\/\s*(?:d|day)|per\s+day|an?\s+day|daily|times\s+(?:a|per)\s+day)$/i;

/**
 * Reads `number unit`, nothing else: the text is never evaluated.
 * @param text such as "100 Ah", "6 mm2", "10 AWG" (as a section), "-0.36 %/degC", "12 times a day"
 * @param bare a number without unit is understood to be in the dimension's own unit
 * @returns the number in the dimension's unit (`DIMENSIONS[dimension].unit`; ratios 0..1), always finite
 * @throws QuantityError
 */
export function parseQuantity(text: string, dimension: Dimension, bare = false): number {
  const spec: DimensionSpec = DIMENSIONS[dimension];
  const clean = text
    .normalize('NFC')
    .replace(/[\u2212\u2013]/g, '-')
    .replace(/\s+/g, ' ')
    .trim();
  if (dimension === 'section' && /awg/i.test(clean)) return gaugeSection(clean);
  const match = NUMBER.exec(clean);
  if (!match) throw notAQuantity(clean, spec);
  const value = Number(match[1]);
  const unit = match[2]!.trim();
  if (!Number.isFinite(value))
    throw new QuantityError(
      'not_a_quantity',
      `${shown(clean)} is too large a number; write ${spec.say}, such as ${spec.example}`,
    );
  if (unit === '') {
    if (bare || dimension === 'count' || dimension === 'ratio') return value;
    throw bareNumber(match[1]!, spec);
  }
  return convert(value, match[1]!, unit, dimension, spec);
}

/** The error for a number that came without its unit. */
export function bareNumber(number: string | number, spec: DimensionSpec): QuantityError {
  return new QuantityError(
    'bare_number',
    `${number} has no unit where ${spec.say} is needed`,
    `write it with its unit, such as ${number} ${spec.written}`,
  );
}

function convert(value: number, number: string, unit: string, dimension: Dimension, spec: DimensionSpec): number {
  let name = unit;
  if (spec.perDay) {
    name = unit.replace(PER_DAY, '');
    if (dimension === 'count') {
      if (/^(times)?$/i.test(name)) return value;
      throw unknownUnit(number, unit, spec);
    }
    if (spec.perDay === 'needed' && name === unit) throw wrongUnit(number, unit, spec);
  }
  const known = spelling(name, spec.spellings) ?? tidyUnit(name);
  if (known === spec.unit) return value;
  if (dimension === 'ratio' || dimension === 'perKelvin') {
    if (known === '%' || known === '%/K') return value / 100;
    throw isKnownUnit(tidyUnit(unit)) ? wrongUnit(number, unit, spec) : unknownUnit(number, unit, spec);
  }
  const found = unitOf(value, known);
  if (!found) throw unknownUnit(number, unit, spec);
  if (!found.equalBase(unitOf(1, spec.unit)!)) throw wrongUnit(number, unit, spec);
  const converted = found.toNumber(spec.unit);
  if (!Number.isFinite(converted)) throw notAQuantity(`${number} ${unit}`, spec);
  return converted;
}

function spelling(unit: string, spellings: DimensionSpec['spellings']): string | undefined {
  const plain = unit.replace(/\s*([/*])\s*/g, '$1');
  if (Object.hasOwn(spellings, plain)) return spellings[plain];
  const alike = new Set(
    Object.keys(spellings)
      .filter((key) => key.toLowerCase() === plain.toLowerCase())
      .map((key) => spellings[key]),
  );
  return alike.size === 1 ? [...alike][0] : undefined;
}

function tidyUnit(unit: string): string {
  return unit
    .replace(/²/g, '^2')
    .replace(/³/g, '^3')
    .replace(/\b(m|mm|cm)([23])\b/g, '$1^$2')
    .replace(/[°º]\s*(?=[CF])/g, 'deg')
    .replace(/[Ωω]/g, 'ohm');
}

function isKnownUnit(unit: string): boolean {
  return /^%/.test(unit) || unitOf(1, unit) !== undefined || ALL_SPELLINGS.has(unit);
}
const ALL_SPELLINGS: ReadonlySet<string> = new Set(
  Object.values(DIMENSIONS).flatMap((spec) => Object.keys(spec.spellings)),
);

function gaugeSection(text: string): number {
  const gauge = readGauge(text);
  const area = gauge === undefined ? undefined : awgSectionMm2(gauge);
  if (area === undefined)
    throw new QuantityError(
      'not_a_quantity',
      `${shown(text)} is no wire gauge; write it as 10 AWG or 1/0 AWG (40 to 4/0)`,
    );
  return area;
}

function wrongUnit(number: string, unit: string, spec: DimensionSpec): QuantityError {
  const mixUps = spec.mixUps ?? {};
  const meant = Object.hasOwn(mixUps, tidyUnit(unit)) ? mixUps[tidyUnit(unit)] : undefined;
  const energy = spec.unit === 'Ah' ? unitOf(Number(number), tidyUnit(unit)) : undefined;
  if (energy?.equalBase(unitOf(1, 'Wh')!))
    return new QuantityError(
      'wrong_unit',
      `${number} ${unit} where ${spec.say} is needed`,
      `divide by the voltage: at 12.8 V it is ${Number((energy.toNumber('Wh') / 12.8).toPrecision(3))} Ah`,
    );
  if (/^a\.?h/i.test(unit) && spec.perDay === 'needed')
    return new QuantityError(
      'wrong_unit',
      `${number} ${unit} where ${spec.say} is needed`,
      `multiply by the voltage: at 12 V it is ${Number(number) * 12} Wh/day`,
    );
  return new QuantityError(
    'wrong_unit',
    `${number} ${unit} where ${spec.say} is needed`,
    meant ? `did you mean ${number} ${meant}?` : `such as ${spec.example}`,
  );
}

function unknownUnit(number: string, unit: string, spec: DimensionSpec): QuantityError {
  if (isKnownUnit(tidyUnit(unit))) return wrongUnit(number, unit, spec);
  const comma = /^,\d/.test(unit);
  return new QuantityError(
    'unknown_unit',
    `${shown(`${number}${comma ? '' : ' '}${unit}`)} is not ${spec.say}`,
    comma ? 'the decimal sign is a point, as in 2.5' : `such as ${spec.example}`,
  );
}

function notAQuantity(text: string, spec: DimensionSpec): QuantityError {
  return new QuantityError('not_a_quantity', `${shown(text)} is not ${spec.say}`, `write it like ${spec.example}`);
}

/** Quoted, and no longer than a line. */
export function shown(text: string): string {
  return JSON.stringify(text.length > 60 ? `${text.slice(0, 57)}...` : text);
}
