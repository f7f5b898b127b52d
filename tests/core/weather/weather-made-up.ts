/** Made-up weather text for the tests of this folder: smooth days at no real place. */
import { expect } from 'vitest';
import { ConfigError, type ConfigIssue } from '../../../packages/core/src/rig/index.js';

/** Mean of an hour that begins at `hour`: 800 W/m² at noon, up from 6 to 18. */
export function madeUpLight(hour: number): number {
  const h = (((hour + 0.5) % 24) + 24) % 24;
  return Math.max(0, 800 * Math.sin((Math.PI * (h - 6)) / 12));
}

export function madeUpAir(hour: number): number {
  return 12 + 6 * Math.sin((Math.PI * ((hour % 24) - 9)) / 12);
}

export const pad = (n: number): string => String(n).padStart(2, '0');

/** A year of hours as an EPW, at 40 N 60 W, UTC−4; `change` may alter or drop (undefined) a line's fields. */
export function madeUpEpw(
  change: (fields: string[], month: number, day: number, hour: number) => string[] | undefined = (f) => f,
  options: { year?: (month: number) => number; leap?: boolean; lineEnd?: string; header?: string[] } = {},
): string {
  const lines = options.header ?? [
    'LOCATION,Nowhere,-,XXX,invented,000000,40.00,-60.00,-4.0,100.0',
    'DESIGN CONDITIONS,0',
    'TYPICAL/EXTREME PERIODS,0',
    'GROUND TEMPERATURES,0',
    'HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0',
    'COMMENTS 1,invented',
    'COMMENTS 2,',
    'DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31',
  ];
  const out = [...lines];
  const year = options.year ?? ((month: number) => 1990 + (month % 5));
  const calendar = options.leap ? 2024 : 2023;
  for (let ms = Date.UTC(calendar, 0, 1); ms < Date.UTC(calendar + 1, 0, 1); ms += 3.6e6) {
    const at = new Date(ms);
    const [month, day, hour] = [at.getUTCMonth() + 1, at.getUTCDate(), at.getUTCHours() + 1];
    const light = madeUpLight(hour - 1);
    const fields = [
      year(month), month, day, hour, 0, '?9', madeUpAir(hour - 1).toFixed(1), 5, 60, 101000, 0, 0, 300,
      light.toFixed(0), (light * 0.9).toFixed(0), (light * 0.3).toFixed(0), 0, 0, 0, 0, 180, 2.5, 5, 5, 20, 77777, 9, 0, 0,
    ].map(String); // biome-ignore format: one record
    const changed = change(fields, month, day, hour);
    if (changed !== undefined) out.push(changed.join(','));
  }
  return out.join(options.lineEnd ?? '\n');
}

/** Days of hourly rows under a heading, from 5 July 2026; `cells` gets the begin of the hour as if UTC. */
export function madeUpCsv(
  heading: string,
  cells: (beginMs: number, hour: number) => (string | number)[],
  days = 3,
): string {
  const lines = [heading];
  for (let i = 0; i < days * 24; i++) {
    const begin = Date.UTC(2026, 6, 5) + i * 3.6e6;
    lines.push(cells(begin, i % 24).join(','));
  }
  return lines.join('\n');
}

export const iso = (ms: number): string => new Date(ms).toISOString().slice(0, 16);

/** A table of two days from 5 July 2026; `cells` gets the beginning of each row as if UTC, and its hour of the day. */
export function madeUpTable(
  heading: string,
  cells: (ms: number, hour: number) => (string | number)[],
  stepMin = 60,
  days = 2,
) {
  const rows = Array.from({ length: (days * 1440) / stepMin }, (_, i) => {
    const at = (i * stepMin) / 60;
    return cells(Date.UTC(2026, 6, 5) + at * 3.6e6, at % 24).join(',');
  });
  return [heading, ...rows].join('\n');
}

/** What is wrong with a file, as its reader says; a file of weather has lines and no paths. */
export function issuesOf(act: () => unknown): readonly ConfigIssue[] {
  try {
    act();
  } catch (error) {
    expect(error).toBeInstanceOf(ConfigError);
    const { issues } = error as ConfigError;
    expect(issues.every((issue) => issue.path === '')).toBe(true);
    return issues;
  }
  throw new Error('was done without complaint');
}
