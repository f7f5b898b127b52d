import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { compareLog, readLogTable } from '../../../packages/core/src/log/index.js';
import { readRig, readTrip } from '../../../packages/core/src/rig/index.js';
import { GIVEN } from '../../realities/given.js';
import { invent } from '../../realities/invented/invent.js';

// The vehicles are invented by a generator whose physics are not the model's; what is said of one log must not hang on how it is written.

interface Told {
  readonly rig: string;
  readonly trip: string;
  readonly log: string;
  readonly station: string;
  readonly given: Record<string, unknown>;
  readonly stamps?: 'start' | 'end' | 'instant';
}

function findingsOf({ rig: rigText, trip: tripText, log, station, given, stamps }: Told) {
  const { rig } = readRig(rigText);
  const { trip } = readTrip(tripText);
  const { latDeg, lonDeg } = trip.stops[0]!.at!;
  const read = readLogTable(log, { ...given, at: { latDeg, lonDeg }, sort: true });
  const weatherFile = { name: 'station.csv', text: station };
  return compareLog(rig, read, { trip, weatherFile, ...(stamps && { stamps }) }).findings;
}

const above = (findings: ReturnType<typeof findingsOf>) =>
  findings.filter(({ level }) => level !== 'note').map(({ code, since }) => (since ? `${code} ${since}` : code));

/** A log as cells, to be written anew. */
function cellsOf(log: string) {
  const [head = '', ...lines] = log.trim().split('\n');
  const delimiter = head.includes('\t') ? '\t' : head.includes(';') ? ';' : ',';
  return { head: head.split(delimiter), rows: lines.map((line) => line.split(delimiter)), delimiter };
}
const textOf = (head: readonly string[], rows: readonly (readonly string[])[], delimiter: string) =>
  `${[head, ...rows].map((row) => row.join(delimiter)).join('\n')}\n`;

describe('an invented vehicle', () => {
  const vehicle = (seed: number, kind?: string) =>
    invent(seed, kind) as unknown as Told & { want?: { since?: string } };

  test('of sound parts nothing above a note is said', () => {
    for (const seed of [710_001, 710_002, 710_003, 710_004]) expect(above(findingsOf(vehicle(seed)))).toEqual([]);
  });

  test('a draw left on is told with its date, however the log is written', () => {
    const heads = { volts: 'Battery V', amps: 'Battery A', soc: 'SoC %', sun: 'Solar W' };
    const plainly = {
      isOnChange: false,
      isMoment: false,
      comma: false,
      milli: false,
      sign: 1,
      dates: 'iso',
      gap: undefined,
    };
    const van = invent(720_000, 'draw since', { form: { ...plainly, stepMin: 10, heads } }) as unknown as Told & {
      want: { since: string };
    };
    const plain = above(findingsOf(van));
    expect(plain).toHaveLength(1);
    expect(plain[0]).toMatch(/^draw_unlisted 20/);
    const days = Math.abs(Date.parse(plain[0]!.slice(14)) - Date.parse(van.want.since)) / 86_400_000;
    expect(days).toBeLessThanOrEqual(2);
    const { head, rows, delimiter } = cellsOf(van.log);
    const amps = 2;
    const volts = 1;
    const each = (change: (row: string[]) => string[]) => rows.map((row) => change([...row]));
    const milli = textOf(
      head.map((name, k) => (k === volts ? 'Battery mV' : k === amps ? 'Battery mA' : name)),
      each((row) => row.map((cell, k) => (k === volts || k === amps ? String(Math.round(1000 * Number(cell))) : cell))),
      delimiter,
    );
    expect(above(findingsOf({ ...van, log: milli })), 'mV and mA').toEqual(plain);
    const turned = textOf(
      head,
      each((row) => row.map((cell, k) => (k === amps ? String(-Number(cell)) : cell))),
      delimiter,
    );
    const other = { ...van.given, positive: 'discharging' };
    expect(above(findingsOf({ ...van, log: turned, given: other })), 'other sign').toEqual(plain);
    const comma = textOf(
      head,
      each((row) => row.map((cell, k) => (k === 0 ? cell : cell.replace('.', ',')))),
      ';',
    );
    expect(above(findingsOf({ ...van, log: comma })), 'decimal comma').toEqual(plain);
    // every row elsewhere, the same each time
    const shuffled = rows.map((_, k) => rows[(k * 7919) % rows.length]!);
    expect(new Set(shuffled).size).toBe(rows.length);
    expect(above(findingsOf({ ...van, log: textOf(head, shuffled, delimiter) })), 'shuffled').toEqual(plain);
  });
});

test('of two faults in one vehicle both are found, and neither spoils the other', () => {
  const form = { stepMin: 5, isOnChange: false, isMoment: false, gap: undefined };
  type Pair = Told & {
    truth: { days: number; faults: { day: number; keeps?: number; watts?: number }[] };
    out: { volts: Float64Array };
  };
  const both = invent(730_000, 'panel since', { form, second: 'draw since' }) as unknown as Pair;
  const [panel, draw] = both.truth.faults;
  const findings = findingsOf(both).filter(({ level }) => level !== 'note');
  expect(findings.map(({ code }) => code).sort()).toEqual(['draw_unlisted', 'panel_step']);
  const sizeOf = (code: string) => findings.find((one) => one.code === code)!.size!.value;
  expect(Math.abs(sizeOf('panel_step') - (1 - panel!.keeps!))).toBeLessThan(0.05);
  // amps of so many watts, at the volts of those nights while the battery was on
  const nightV = both.out.volts.filter(
    (volts, minute) => minute >= draw!.day * 1440 && minute % 1440 < 360 && volts > 11,
  );
  const amps = draw!.watts! / (nightV.reduce((sum, volts) => sum + volts, 0) / nightV.length);
  expect(Math.abs(sizeOf('draw_unlisted') - amps)).toBeLessThan(0.05);
});

const shared = new URL('../../../../shared/realities/', import.meta.url);

describe.skipIf(!existsSync(shared))('the vehicles of ../shared/realities (skipped without them)', () => {
  const text = (url: URL) => readFileSync(url, 'utf8');
  const camel = (option: string) => option.slice(2).replace(/-(.)/g, (_, letter: string) => letter.toUpperCase());
  const told = (name: string): Told => {
    const words = (GIVEN as Record<string, string[]>)[name]!;
    const given: Record<string, unknown> = {};
    for (let k = 0; k < words.length; k += 2) {
      const [what, heading] = words[k + 1]!.split('=');
      given[camel(words[k]!)] = heading === undefined ? words[k + 1] : undefined;
      if (heading !== undefined) given.columns = { [what!]: heading };
    }
    return {
      rig: text(new URL(`../../realities/${name}.yaml`, import.meta.url)),
      trip: text(new URL(`../../realities/${name}-trip.yaml`, import.meta.url)),
      log: text(new URL(`${name}/log.csv`, shared)),
      station: text(new URL(`${name}/station.csv`, shared)),
      given,
    };
  };

  test.each(['r01', 'r04', 'r06'])('%s: shuffled rows change nothing that is said', (name) => {
    const van = told(name);
    const { head, rows, delimiter } = cellsOf(van.log);
    const step = [7919, 7907, 7901].find((one) => rows.length % one !== 0)!;
    const shuffled = rows.map((_, k) => rows[(k * step) % rows.length]!);
    expect(above(findingsOf({ ...van, log: textOf(head, shuffled, delimiter) }))).toEqual(above(findingsOf(van)));
  });
});
