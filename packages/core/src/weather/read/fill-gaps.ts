import { HOUR_MS } from '../../math/index.js';
import type { WeatherColumnName } from './weather-series.js';

/** What people call the columns. */
export const LABEL = {
  ghi: 'global irradiance',
  dni: 'direct irradiance',
  dhi: 'diffuse irradiance',
  air: 'air temperature',
  wind: 'wind speed',
} as const;

/** Intervals filled, and how. */
export interface Filled {
  missing: number;
  interpolated: number;
  borrowed: number;
  left: number;
}

export function gapText(name: WeatherColumnName, filled: Filled, stepMs: number): string {
  const hours = (n: number) => `${Math.round((n * stepMs * 10) / HOUR_MS) / 10} h`;
  const parts = [];
  if (filled.interpolated > 0) parts.push(`${hours(filled.interpolated)} interpolated`);
  if (filled.borrowed > 0) parts.push(`${hours(filled.borrowed)} from the same hours of the neighbouring days`);
  return `${LABEL[name]} ${parts.join(' and ')}`;
}

/** Fills NaN in place. A typical year is a ring. */
export function fillGaps(values: Float64Array, perDay: number, stepMs: number, ring: boolean): Filled {
  const n = values.length;
  const filled: Filled = { missing: 0, interpolated: 0, borrowed: 0, left: 0 };
  const known = Uint8Array.from(values, (v) => (Number.isNaN(v) ? 0 : 1));
  for (let i = 0; i < n; i++) {
    if (known[i] === 1) continue;
    let end = i;
    while (end < n && known[end] === 0) end++;
    const length = end - i;
    filled.missing += length;
    if (length * stepMs <= 3 * HOUR_MS && i > 0 && end < n) {
      const before = values[i - 1]!;
      const after = values[end]!;
      for (let j = i; j < end; j++) values[j] = before + ((after - before) * (j - i + 1)) / (length + 1);
      filled.interpolated += length;
    } else
      for (let j = i; j < end; j++) {
        values[j] = fromNeighbouringDays(values, known, j, perDay, ring);
        if (Number.isNaN(values[j]!)) filled.left++;
        else filled.borrowed++;
      }
    i = end;
  }
  return filled;
}

function fromNeighbouringDays(
  values: Float64Array,
  known: Uint8Array,
  at: number,
  perDay: number,
  ring: boolean,
): number {
  const n = values.length;
  for (let days = 1; days <= 20; days++) {
    let sum = 0;
    let count = 0;
    for (const side of [-1, 1]) {
      let j = at + side * days * perDay;
      if (ring) j = (j + n) % n;
      if (j < 0 || j >= n || known[j] === 0) continue;
      sum += values[j]!;
      count++;
    }
    if (count > 0) return sum / count;
  }
  return Number.NaN;
}
