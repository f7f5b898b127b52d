import { Body, MakeTime, Observer, SearchRiseSet } from 'astronomy-engine';
import { describe, expect, test } from 'vitest';
import { readLog } from '../../../packages/core/src/log/index.js';

const HOUR = 36e5;
const iso = (ms: number) => new Date(ms).toISOString().slice(0, 16).replace('T', ' ');
/** A row every ten minutes from a moment, UTC; the head names columns and units. */
const logOf = (columns: string, from: string, days: number, cells: (ms: number) => readonly number[]) =>
  [
    `time (UTC),${columns}`,
    ...Array.from({ length: days * 144 }, (_, k) => Date.parse(from) + (k * HOUR) / 6).map((ms) =>
      [iso(ms), ...cells(ms)].join(','),
    ),
  ].join('\n');
const isNoon = (ms: number) => (ms / HOUR) % 24 >= 8 && (ms / HOUR) % 24 < 16;
const SPRING = '2026-04-10T00:00Z';

describe('power is voltage times current, whichever of them a log has', () => {
  test('watts and volts: the current of the battery is their quotient', () => {
    const text = logOf('battery voltage (V),battery power (W)', SPRING, 2, (ms) =>
      isNoon(ms) ? [14, 70] : [12.5, -25],
    );
    const [day] = readLog(text, { positive: 'charging' }).daily;
    expect(day!.chargedAh).toBeCloseTo(8 * (70 / 14), 6);
    expect(day!.dischargedAh).toBeCloseTo(16 * (25 / 12.5), 6);
    expect(day!.chargedWh).toBeCloseTo(8 * 70, 6);
    expect(day!.dischargedWh).toBeCloseTo(16 * 25, 6);
  });

  test('amps and volts: the power of the battery is their product', () => {
    const text = logOf('battery voltage (V),battery current (A)', SPRING, 2, (ms) =>
      isNoon(ms) ? [14, 5] : [12.5, -2],
    );
    const [day] = readLog(text, { positive: 'charging' }).daily;
    expect(day!.chargedWh).toBeCloseTo(8 * 14 * 5, 6);
    expect(day!.dischargedWh).toBeCloseTo(16 * 12.5 * 2, 6);
  });

  test('a panel with a voltage of its own: its amps at its volts', () => {
    // 36 V x 5 A are 180 W, of which 13.5 V x 13 A reach the battery and its loads
    const text = logOf('battery voltage (V),battery current (A),PV voltage (V),PV current (A)', SPRING, 2, (ms) =>
      isNoon(ms) ? [13.5, 13, 36, 5] : [12.8, -2, 0, 0],
    );
    expect(readLog(text, { positive: 'charging' }).daily[0]!.harvestWh).toBeCloseTo(8 * 36 * 5, 6);
  });

  test('a solar current alone, loads and an alternator: at the battery’s volts', () => {
    const text = logOf(
      'battery voltage (V),battery current (A),solar current (A),load current (A),alternator current (A)',
      SPRING,
      2,
      (ms) => (isNoon(ms) ? [14, 10, 8, 3, 5] : [12.5, -3, 0, 3, 0]),
    );
    const [day] = readLog(text, { positive: 'charging' }).daily;
    expect(day!.harvestWh).toBeCloseTo(8 * 14 * 8, 6);
    expect(day!.loadWh).toBeCloseTo(8 * 14 * 3 + 16 * 12.5 * 3, 6);
    expect(day!.alternatorWh).toBeCloseTo(8 * 14 * 5, 6);
  });

  test('watts that were logged stand above the product', () => {
    const text = logOf('battery voltage (V),battery current (A),solar current (A),solar power (W)', SPRING, 2, (ms) =>
      isNoon(ms) ? [14, 10, 10, 138] : [12.5, -3, 0, 0],
    );
    expect(readLog(text, { positive: 'charging' }).daily[0]!.harvestWh).toBeCloseTo(8 * 138, 6);
  });
});

// Latitude and longitude differ much, so that one in the place of the other is another night.
describe('the night of a log without the sun in it is that of its place', () => {
  /** Sunrise and sunset by a general-purpose astronomy library. */
  const sunOf = (at: { latDeg: number; lonDeg: number }, ms: number) => {
    const observer = new Observer(at.latDeg, at.lonDeg, 0);
    const found = (direction: 1 | -1) =>
      SearchRiseSet(Body.Sun, observer, direction, MakeTime(new Date(ms)), 1)!.date.getTime();
    return { rise: found(1), set: found(-1) };
  };

  test.each([
    ['a long night in the north-east', { latDeg: 60, lonDeg: 11 }, '2026-01-10T00:00Z'],
    ['a short one in the west', { latDeg: 44, lonDeg: -20 }, '2026-06-10T00:00Z'],
  ])('%s', (_, at, from) => {
    const { rise, set } = sunOf(at, Date.parse(from) + 12 * HOUR - (at.lonDeg / 15 + 12) * HOUR);
    const dayH = ((((set - rise) / HOUR) % 24) + 24) % 24;
    const inDay = (ms: number) => ((((ms - rise) / HOUR) % 24) + 24) % 24 < dayH;
    // 5 A while the sun is up, 1 A after: what is counted as night shows which hours were taken for it
    const text = logOf('battery voltage (V),battery current (A)', from, 3, (ms) => [12.8, inDay(ms) ? -5 : -1]);
    const { daily, picture } = readLog(text, { at, zone: 'UTC', positive: 'charging' });
    expect(picture.nightBy).toBe('sun');
    const { baseLoadW, baseLoadWh } = daily[1]!;
    expect(baseLoadW).toBeCloseTo(12.8, 6);
    const nightH = baseLoadWh! / baseLoadW!;
    // half an hour of dusk at each end is not yet night; rows are ten minutes apart, and the sun moves some minutes a day
    expect(Math.abs(nightH - (24 - dayH - 1))).toBeLessThan(0.5);
  });

  test('sun at night means a wrong zone: judged where the place is, not where its mirror would be', () => {
    const at = { latDeg: -30, lonDeg: 60 }; // solar noon at 8:00 UTC, within a minute in mid-April
    const warningOf = (noonH: number) => {
      const text = logOf('battery voltage (V),battery current (A),solar power (W)', SPRING, 3, (ms) => {
        const watts = 200 * Math.cos(((ms / HOUR) % 24) * (Math.PI / 12) - noonH * (Math.PI / 12)) - 30;
        return [13, 1, Math.max(0, Math.round(watts))];
      });
      const { warnings } = readLog(text, { at, zone: 'UTC', positive: 'charging' });
      return warnings.flatMap((note) => (note.code === 'log_night_harvest' ? [note.args] : []))[0];
    };
    expect(warningOf(8)).toBeUndefined();
    const { dayH, sun } = warningOf(20)!;
    expect(Math.abs(dayH - 12)).toBeGreaterThan(11);
    expect(sun!.nightShare).toBeGreaterThan(0.9);
  });
});
