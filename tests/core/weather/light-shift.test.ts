import { describe, expect, test } from 'vitest';
import { lightShiftNotes } from '../../../packages/core/src/weather/grid/light-shift.js';
import type { RunIntervals } from '../../../packages/core/src/weather/grid/weather-grid.js';

const HOUR_MS = 3.6e6;

describe('light that stands off the sun', () => {
  const HOURS = [10, 11, 12, 13, 14, 15];
  /** Days of hourly energy; the sun's outside is evenly about solar noon, the file's as told by day. */
  function shift(
    days: number,
    energyOf: (day: number) => Record<number, number>,
    { lonDeg = 0, offsetH = 0, startMs = Date.UTC(2026, 3, 1), outsideWh = 1000 } = {},
  ) {
    const count = days * 24;
    // begun at solar midnight, hour 11 and 12 lie about noon
    const run: RunIntervals = {
      count,
      startMs: startMs - (lonDeg / 15) * HOUR_MS,
      stepMs: HOUR_MS,
      source: new Int32Array(count),
    };
    const given = new Float64Array(count);
    const outside = new Float64Array(count);
    for (let day = 0; day < days; day++) {
      for (const [hour, wh] of Object.entries(energyOf(day))) given[day * 24 + Number(hour)] = wh;
      for (const hour of [11, 12]) outside[day * 24 + hour] = outsideWh / 2;
    }
    return lightShiftNotes('w.csv', run, given, outside, lonDeg, offsetH * HOUR_MS);
  }
  /** 600 Wh whose centre is so many hours after noon. */
  const centred = (hours: number) => {
    const whole = Math.floor(hours);
    const part = hours - whole;
    const energy = Object.fromEntries(HOURS.map((hour) => [hour, 0]));
    for (const [hour, share] of [
      [11 + whole, 0.5 * (1 - part)],
      [12 + whole, 0.5],
      [13 + whole, 0.5 * part],
    ] as const)
      energy[hour] = (energy[hour] ?? 0) + 600 * share;
    return energy;
  };

  test.each([
    [0.55, undefined],
    [0.65, /late.*Apr 0\.[67] h;/],
    [1.5, /late.*Apr 1\.5 h;/],
    [-0.55, undefined],
    [-0.65, /early.*Apr 0\.[67] h;/],
    [-1, /early.*Apr 1\.0 h;/],
  ])('by %d h: %s', (hours, text) => {
    const notes = shift(30, () => centred(hours));
    if (text === undefined) expect(notes).toEqual([]);
    else {
      expect(notes.map((n) => n.code)).toEqual(['weather_light_shift']);
      expect(notes[0]!.text).toMatch(new RegExp(`^w\\.csv: the light stands ${text.source}.*clock`));
    }
  });

  test('three days of a month are enough, two are not', () => {
    expect(shift(3, () => centred(1))).toHaveLength(1);
    expect(shift(2, () => centred(1))).toEqual([]);
  });

  test('days with less than 300 Wh, of the file’s or of the sun’s, say nothing', () => {
    const faint = (wh: number) => shift(3, () => ({ 12: wh / 2, 13: wh / 2 }));
    expect(faint(302)).toHaveLength(1);
    expect(faint(298)).toEqual([]);
    expect(shift(3, () => centred(1), { outsideWh: 302 })).toHaveLength(1);
    expect(shift(3, () => centred(1), { outsideWh: 298 })).toEqual([]);
  });

  test('the clearer half of the days decides, by its median', () => {
    const day = (clear: boolean, hours: number) =>
      Object.fromEntries(Object.entries(centred(hours)).map(([h, wh]) => [h, clear ? wh : wh * 0.6]));
    expect(shift(9, (d) => day(d % 2 === 0, d % 2 === 0 ? 1 : 0))).toHaveLength(1);
    expect(shift(9, (d) => day(d % 2 === 0, d % 2 === 0 ? 0 : 1))).toEqual([]);
    // five clear days: three in the middle do not move it, nor do two far off
    expect(shift(9, (d) => day(d % 2 === 0, d === 0 || d === 8 ? 2 : 0))).toEqual([]);
    expect(shift(9, (d) => day(d % 2 === 0, d === 0 || d === 8 ? 0 : 1))[0]!.text).toContain('1.0 h');
    expect(shift(9, (d) => day(d % 2 === 0, [1, 0, -2, 0, 2, 0, 2, 0, -1][d]!))[0]!.text).toMatch(/late.*Apr 1\.0 h/);
  });

  test('early and late months each have their note, and each month its figure', () => {
    const notes = shift(
      365,
      (d) => {
        const month = new Date(Date.UTC(2026, 0, 1 + d)).getUTCMonth();
        return centred(month === 2 ? -1 : month === 7 ? 1.5 : month === 9 ? -2 : 0);
      },
      { startMs: Date.UTC(2026, 0, 1) },
    );
    expect(notes.map((n) => n.text.replace(/;.*/, ''))).toEqual([
      expect.stringMatching(/early .* in Mar 1\.0 h, Oct 2\.0 h$/),
      expect.stringMatching(/late .* in Aug 1\.5 h$/),
    ]);
  });

  test.each([
    [0, 0],
    [90, 6],
    [-179, -12],
    [179, 12],
    [-60, -4],
  ])('at %d° east days are the sun’s, and months the file’s clock’s, %d h ahead of UTC', (lonDeg, offsetH) => {
    const last = shift(3, () => centred(1), { lonDeg, offsetH, startMs: Date.UTC(2026, 0, 29) });
    expect(last.map((n) => n.text)).toEqual([expect.stringContaining('in Jan 1.0 h;')]);
    const first = shift(3, () => centred(1), { lonDeg, offsetH, startMs: Date.UTC(2026, 1, 1) });
    expect(first.map((n) => n.text)).toEqual([expect.stringContaining('in Feb 1.0 h;')]);
  });
});
