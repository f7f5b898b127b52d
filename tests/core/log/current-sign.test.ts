import { describe, expect, test } from 'vitest';
import { createSignEvidence } from '../../../packages/core/src/log/columns/current-sign.js';
import { createNightDraw } from '../../../packages/core/src/log/read/base-load.js';
import type { LogColumnName } from '../../../packages/core/src/log/types.js';

const STEP_H = 1 / 6;

/** What rows ten minutes apart (or `everyH`) say of a battery column. */
function evidence(
  columns: readonly LogColumnName[],
  rows: readonly (readonly number[])[],
  { of = 'current', everyH = STEP_H }: { of?: 'current' | 'power'; everyH?: number } = {},
) {
  const seen = createSignEvidence(columns, of);
  const all = rows.map((values, k) => ({ timeMs: k * everyH * 36e5, values: Float64Array.from(values) }));
  all.slice(1).forEach((row, k) => void seen.observe(all[k] as never, row as never));
  return seen;
}
const many = <T>(count: number, row: (k: number) => T): T[] => Array.from({ length: count }, (_, k) => row(k));

describe('which way a current counts', () => {
  /** A 100 Ah counter that goes down and up by 3 A, the current's sign as asked. */
  const counted = (sense: 1 | -1, ah = 100, amps = 3) => {
    let soc = 0.8;
    return many(400, (k) => {
      const flow = Math.floor(k / 100) % 2 === 0 ? -amps : amps;
      const row = [sense * flow, soc] as const;
      soc += (flow * STEP_H) / ah;
      return row;
    });
  };

  test.each([
    [1, 'charging'],
    [-1, 'discharging'],
  ] as const)('by the state of charge: sense %d is %s', (sense, positive) => {
    const seen = evidence(['current', 'soc'], counted(sense));
    expect(seen.verdict()).toEqual({ positive, by: 'state of charge' });
    expect(seen.isUnsigned()).toBe(false);
    expect(seen.isFlowing()).toBe(true);
  });

  test.each([50, 100, 280])('the charge of a whole turn of a counter of %d Ah', (ah) => {
    expect(Math.abs(evidence(['current', 'soc'], counted(-1, ah, ah / 30)).counterAh() / ah - 1)).toBeLessThan(0.02);
  });

  test('a counter says nothing of power, nor while it is set or held at full', () => {
    expect(evidence(['power', 'soc'], counted(1), { of: 'power' }).counterAh()).toBeNaN();
    const jumps = many(100, (k) => [2, k % 2 === 0 ? 0.5 : 0.6]);
    expect(evidence(['current', 'soc'], jumps).counterAh()).toBeNaN();
    const full = many(100, (k) => [2, k % 2 === 0 ? 0.99 : 1]);
    expect(evidence(['current', 'soc'], full).counterAh()).toBeNaN();
  });

  test.each([
    [1, 'charging'],
    [-1, 'discharging'],
  ] as const)('by Ohm’s law, without a counter: sense %d is %s', (sense, positive) => {
    const rows = many(100, (k) => {
      const amps = [5, -3, 0, 8, -6][k % 5]!;
      return [sense * amps, 13 + 0.01 * amps];
    });
    expect(evidence(['current', 'voltage'], rows).verdict()).toEqual({ positive, by: 'voltage' });
  });

  test.each([
    [1, 'charging'],
    [-1, 'discharging'],
  ] as const)('by the sun, with nothing else: sense %d is %s', (sense, positive) => {
    const rows = many(144, (k) => (k % 72 < 36 ? [sense * 6, 100] : [sense * -2, 0]));
    expect(evidence(['power', 'solarPower'], rows, { of: 'power' }).verdict()).toEqual({ positive, by: 'sun' });
    const amps = rows.map(([x, light]) => [x!, light! / 13]);
    expect(evidence(['current', 'solarCurrent'], amps).verdict()).toMatchObject({ positive, by: 'sun' });
  });

  test('the state of charge decides before the voltage, and that before the sun', () => {
    const rows = counted(1).map(([amps, soc]) => [amps, soc, 13 - 0.01 * amps]);
    expect(evidence(['current', 'soc', 'voltage'], rows).verdict()?.by).toBe('state of charge');
  });

  test('nothing is decided by few rows, by rows far apart, or by evidence that points both ways', () => {
    expect(
      evidence(
        ['current', 'voltage'],
        many(30, (k) => [k % 2, 13 + 0.1 * (k % 2)]),
      ).verdict(),
    ).toBeUndefined();
    expect(evidence(['current', 'soc'], counted(1), { everyH: 2.5 }).verdict()).toBeUndefined();
    const mixed = many(200, (k) => [k % 2 === 0 ? 5 : 0, 13 + (k % 4 < 2 ? 0.1 : -0.1) * (k % 2)]);
    expect(evidence(['current', 'voltage'], mixed).verdict()).toBeUndefined();
    expect(
      evidence(
        ['current', 'voltage'],
        many(50, () => [0, 13]),
      ).isFlowing(),
    ).toBe(false);
  });
});

describe('a column without a sign, which cannot say which way', () => {
  test('never negative while the counter both rises and falls', () => {
    let soc = 0.8;
    const rows = many(200, (k) => {
      soc += Math.floor(k / 50) % 2 === 0 ? -0.002 : 0.002;
      return [3, soc];
    });
    expect(evidence(['current', 'soc'], rows).isUnsigned()).toBe(true);
    expect(
      evidence(
        ['current', 'soc'],
        rows.map(([amps, at]) => [-amps!, at!]),
      ).isUnsigned(),
    ).toBe(true);
    expect(
      evidence(
        ['current', 'soc'],
        rows.map(([amps, at], k) => [k % 2 ? amps! : -amps!, at!]),
      ).isUnsigned(),
    ).toBe(false);
  });

  test('the battery gives in the dark, and light makes the figure grow', () => {
    // 2 A drawn at night shown as 2; by day 6 A go in, shown as 6
    const rows = many(288, (k) => [k % 144 < 72 ? 6 : 2, k % 144 < 72 ? 100 : 0]);
    expect(evidence(['current', 'solarPower'], rows).isUnsigned()).toBe(true);
    // with a sign the draw is lessened by light: 2 A out at night, 0.5 A out by day
    const signed = many(288, (k) => [k % 144 < 72 ? 0.5 : 2, k % 144 < 72 ? 100 : 0]);
    expect(evidence(['current', 'solarPower'], signed).isUnsigned()).toBe(false);
  });

  test('a larger figure lifts the voltage when it is high, and lowers it when it is low', () => {
    const rows = many(600, (k) => {
      const amps = 2 + 4 * (k % 2);
      return [amps, Math.floor(k / 100) % 2 === 0 ? 12.5 - 0.02 * amps : 13.8 + 0.02 * amps];
    });
    expect(evidence(['current', 'voltage'], rows).isUnsigned()).toBe(true);
    const drawn = many(600, (k) => [2 + 4 * (k % 2), (k % 200 < 100 ? 12.5 : 13) - 0.02 * (2 + 4 * (k % 2))]);
    expect(evidence(['current', 'voltage'], drawn).isUnsigned()).toBe(false);
  });
});

describe('the draw of a night', () => {
  const STEP = 1 / 12;
  /** A fridge of 4 A, a third of the time, over what is always on. */
  const nightOf = (alwaysA: number, rows = 120) => {
    const night = createNightDraw();
    for (let k = 0; k < rows; k++) {
      const amps = alwaysA + (k % 12 < 4 ? 4 : 0);
      night.add(amps, 13 * amps, STEP);
    }
    return night;
  };

  test.each([0.15, 0.45, 1.2])('%d A always on are found under a fridge that comes and goes', (amps) => {
    const night = nightOf(amps);
    expect(Math.abs(night.alwaysA()! - amps)).toBeLessThan(0.02); // a bin
    expect(night.hours()).toBeCloseTo(10, 9);
    expect(night.meanA()).toBeCloseTo(amps + 4 / 3, 9);
    expect(night.meanW()).toBeCloseTo(13 * (amps + 4 / 3), 9);
    expect(night.energyWh()).toBeCloseTo(130 * (amps + 4 / 3), 9);
  });

  test('noise of a monitor does not pull it down to the quietest row', () => {
    const night = createNightDraw();
    for (let k = 0; k < 200; k++) night.add(0.5 + 0.1 * Math.sin(k * 2.4), 0, STEP);
    expect(Math.abs(night.alwaysA()! - 0.5)).toBeLessThan(0.03);
  });

  test('eleven rows say nothing, twelve do; an emptied night is empty', () => {
    expect(nightOf(0.3, 11).alwaysA()).toBeUndefined();
    const night = nightOf(0.3, 12);
    expect(Math.abs(night.alwaysA()! - 0.3)).toBeLessThan(0.02); // a bin
    night.clear();
    expect([night.alwaysA(), night.meanA(), night.meanW(), night.energyWh(), night.hours()]).toEqual([
      undefined,
      undefined,
      undefined,
      0,
      0,
    ]);
  });

  test('draws beyond the bins count as the largest, and a power that is not known is left out', () => {
    const night = createNightDraw();
    for (let k = 0; k < 20; k++) night.add(55, Number.NaN, STEP);
    expect(night.alwaysA()).toBeGreaterThan(19.9);
    expect(night.energyWh()).toBe(0);
    expect(night.meanA()).toBeCloseTo(55, 9);
  });
});
