import type { Advice, OptionNamed } from '@stayput/core/model';

/** Options that the command line takes one value at a time, and names so. */
const SINGULAR: Readonly<Partial<Record<OptionNamed['name'], string>>> = { columns: 'column', units: 'unit' };

/** An option as it is typed: `--unit power=kW`, `--date-order dmy`. */
export function optionWord({ name, key, value }: OptionNamed): string {
  const flag = `--${(SINGULAR[name] ?? name).replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`;
  if (value === undefined) return flag;
  const typed = isFreeText(name) || !/[\s"'$;&|()<>]/.test(value) ? value : `"${value.replaceAll('"', '\\"')}"`;
  return key === undefined ? `${flag} ${typed}` : `${flag} ${key}=${typed}`;
}

/** Repeated as it was typed, to be found again. */
const isFreeText = (name: OptionNamed['name']) => name === 'set' || name === 'vary';

/** Advice with its options so. */
export const adviceWords = (parts: Advice) =>
  parts.map((part) => (typeof part === 'string' ? part : optionWord(part))).join('');
