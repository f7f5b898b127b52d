import { describe, expect, test } from 'vitest';
import { rowStamps } from '../../../packages/core/src/log/clock/row-stamps.js';
import { judgeSeries } from '../../../packages/core/src/log/judge/compete.js';
import { judgeDraw } from '../../../packages/core/src/log/judge/draw.js';
import type { Night } from '../../../packages/core/src/log/parts/nights.js';
import type { Log } from '../../../packages/core/src/log/replay/replay.js';
import { tripWithin } from '../../../packages/core/src/log/replay/replay.js';
import { zeroOffset } from '../../../packages/core/src/log/replay/zero-offset.js';
import { readRig, readTrip } from '../../../packages/core/src/rig/index.js';

const HOUR_MS = 3_600_000;
/** Noise of its own, the same each time (Park and Miller). */
function noise(seed: number) {
  let state = seed;
  const uniform = () => {
    state = (state * 16807) % 2147483647;
    return state / 2147483647;
  };
  for (let k = 0; k < 5; k++) uniform();
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}

describe('one figure a day: level, step, spell or line', () => {
  const series = (of: (day: number) => number, days = 30, seed = 7) => {
    const draw = noise(seed);
    return Array.from({ length: days }, (_, day) => of(day) + 0.02 * draw());
  };

  test('a step is placed and sized', () => {
    const { kind, fit, standardError } = judgeSeries(
      series((day) => (day < 17 ? 0.2 : 0.65)),
      0.02,
    )!;
    expect(kind).toBe('step');
    expect(fit.from).toBe(17);
    expect(Math.abs(fit.inside - fit.outside - 0.45)).toBeLessThan(3 * standardError + 0.01);
  });

  test('some days in between are a spell, a creep is a line, and noise is a level', () => {
    expect(
      judgeSeries(
        series((day) => (day >= 10 && day < 14 ? 0.6 : 0.2)),
        0.02,
      )!.kind,
    ).toBe('spell');
    expect(
      judgeSeries(
        series((day) => 0.2 + 0.02 * day),
        0.02,
      )!.kind,
    ).toBe('line');
    for (let seed = 1; seed <= 200; seed++)
      expect(
        judgeSeries(
          series(() => 0.2, 30, seed),
          0.02,
        )!.kind,
      ).toBe('level');
  });

  test('two days at the end are not enough for a step', () => {
    expect(
      judgeSeries(
        series((day) => (day < 28 ? 0.2 : 0.65)),
        0.02,
      )!.kind,
    ).not.toBe('step');
  });
});

describe('what is drawn day and night', () => {
  const night = (day: number, floorA: number, listed: Partial<Night> = {}): Night => ({
    day,
    date: `2026-03-${String(day + 1).padStart(2, '0')}`,
    hours: 6,
    floorA,
    listedA: 0.2,
    listedLowA: 0.2,
    listedHighA: 0.2,
    excessA: 0.5,
    outsideC: 10,
    aboveK: 10,
    expectedA: 0.5,
    isContinuous: false,
    byItselfA: 0,
    cutShare: 0,
    lowestBeforeV: 13,
    ...listed,
  });
  const nights = (of: (day: number) => number, listed?: (day: number) => Partial<Night>) => {
    const draw = noise(3);
    return Array.from({ length: 20 }, (_, day) => night(day, of(day) + 0.01 * draw(), listed?.(day)));
  };

  test('a step is told with its date and size, an equal draw from the beginning as that', () => {
    const [step] = judgeDraw(nights((day) => (day < 12 ? 0.2 : 1.1))).findings;
    expect(step).toMatchObject({ code: 'draw_unlisted', since: '2026-03-13' });
    expect(step!.size!.value).toBeCloseTo(0.9, 1);
    const [always] = judgeDraw(nights(() => 0.6)).findings;
    expect(always!.since).toBeUndefined();
    expect(always!.size!.value).toBeCloseTo(0.4, 1);
  });

  test('what is listed for warm nights explains a draw in warm nights', () => {
    const isWarm = (day: number) => day >= 12;
    const fan = (day: number) => (isWarm(day) ? { listedHighA: 1.3 } : {});
    expect(judgeDraw(nights((day) => (isWarm(day) ? 1.25 : 0.2), fan)).findings).toEqual([]);
  });

  test('electronics that nobody lists are no finding', () => {
    expect(judgeDraw(nights(() => 0.27)).findings).toEqual([]);
  });
});

describe('what a stamp marks', () => {
  const reading = (from: string, to: string, stepH: number, holdH?: number) =>
    ({
      time: { headings: ['time'], zone: 'UTC', stepH, ...(holdH && { holdH }) },
      span: { from, to, days: 2 },
    }) as never;

  test.each([
    ['end', '2026-03-01T00:05:00Z', '2026-03-03T00:00:00Z', 1 / 12],
    ['start', '2026-03-01T00:00:00Z', '2026-03-02T23:55:00Z', 1 / 12],
    ['start', '2026-03-01T00:00:00Z', '2026-03-02T23:00:00Z', 1],
    ['end', '2026-03-01T01:00:00Z', '2026-03-03T00:00:00Z', 1],
  ] as const)('%s: rows that fill whole days say so (%s to %s)', (stamps, from, to, stepH) => {
    expect(rowStamps(reading(from, to, stepH), undefined)).toMatchObject({ stamps, by: 'days' });
  });

  test('an option or the heading goes before; rows on change hold until the next', () => {
    const odd = reading('2026-03-01T00:07:00Z', '2026-03-02T13:12:00Z', 1 / 12);
    expect(rowStamps(odd, undefined)).toMatchObject({ stamps: 'start', by: 'assumed', shiftMs: 0 });
    expect(rowStamps(odd, 'end').shiftMs).toBeCloseTo(-HOUR_MS / 12, 6);
    expect(rowStamps(odd, undefined, 'hour ending')).toMatchObject({ stamps: 'end', by: 'heading' });
    expect(rowStamps(reading('2026-03-01T00:01:00Z', '2026-03-03T00:00:00Z', 1 / 60, 0.2), undefined).shiftMs).toBe(0);
  });
});

test('from full to full the counted current is its zero, whatever was drawn in between', () => {
  const { rig } = readRig('battery: { chemistry: LFP, capacity: 100 Ah }\nsolar: [{ power: 200 W }]');
  const rows: { volts: number; amps: number }[] = [];
  for (let day = 0; day < 10; day++)
    for (let hour = 0; hour < 24; hour++) {
      const isFull = hour === 13;
      const drawn = 18 * (1 + 0.1 * (day % 3)); // Ah by night, put back by day with what LFP loses
      const amps = isFull
        ? 0.5
        : hour < 6
          ? -drawn / 6
          : hour >= 8 && hour < 12
            ? drawn / 4 - 0.5 / 4 + (0.005 * drawn) / 4
            : 0;
      rows.push({ volts: isFull ? 14.2 : 13.2, amps });
    }
  const offset = (zero: number) => {
    const log = {
      reading: { time: { stepH: 1 } },
      table: {
        rows: rows.length,
        timeMs: Float64Array.from(rows, (_, k) => k * HOUR_MS),
        values: {
          voltage: Float64Array.from(rows, ({ volts }) => volts),
          current: Float64Array.from(rows, ({ amps }) => amps + zero),
        },
      },
    } as unknown as Log;
    return zeroOffset(rig, log, () => 0)!;
  };
  expect(offset(0)).toMatchObject({ isWrong: false, fulls: 10 });
  expect(Math.abs(offset(0).amps)).toBeLessThan(2 * offset(0).standardError + 0.02);
  expect(offset(-0.3).isWrong).toBe(true);
  expect(Math.abs(offset(-0.3).amps + 0.3)).toBeLessThan(3 * offset(-0.3).standardError);
});

test('days of a trip are cut out of its stops; a drive belongs to its day of arrival', () => {
  const { trip } = readTrip(
    'stops:\n  - { at: [40, 8], from: 2026-03-01, nights: 3 }\n  - { at: [41, 9], nights: 4, drive: 2 h }\n',
  );
  const cut = tripWithin(trip, '2026-03-03', '2026-03-05');
  expect(cut.stops.map(({ from, nights, driveH }) => [from, nights, driveH])).toEqual([
    ['2026-03-03', 1, 0],
    ['2026-03-04', 2, 2],
  ]);
  expect(
    tripWithin(trip, '2026-03-05', undefined).stops.map(({ from, nights, driveH }) => [from, nights, driveH]),
  ).toEqual([['2026-03-05', 3, 0]]);
  expect(() => tripWithin(trip, '2027-01-01', undefined)).toThrow('none of the days');
});
