import type { DefaultTaken } from '@stayput/core';
import { oneLine } from './style.js';
import type { Tabled } from './table.js';

/** What a file leaves open, what was taken for it, and why. */
export function defaultsTabled(taken: readonly DefaultTaken[]): Tabled<DefaultTaken> {
  return [
    taken,
    [
      { head: 'Default taken', cell: ({ path }) => path },
      { head: 'is', cell: ({ text, why }) => oneLine(`${text}: ${why}`), wrap: true },
    ],
  ];
}
