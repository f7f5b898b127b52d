import type { Trip } from '@stayput/core';
import { closest } from '@stayput/core/model';
import { InputError } from '../failure.js';

const KINDS = ['clear', 'climate', 'dull'] as const;

/** A kind of made weather, or the name of a file. A misspelt kind is refused rather than taken for a file, as in a trip. */
export function weatherChoice(text: string): Trip['weather'] {
  const kind = KINDS.find((one) => one === text.trim().toLowerCase());
  if (kind) return { kind };
  const near = /[./\\]/.test(text) ? undefined : closest(text, KINDS);
  if (near)
    throw new InputError(
      `--weather ${text} is not one of ${KINDS.join(', ')}, or a file's name (did you mean ${near}?)`,
    );
  return { kind: 'file', path: text };
}
