import { describe, expect, test } from 'vitest';
import {
  LIMIT_COLD,
  LIMIT_FULL,
  LIMIT_NONE,
  LIMIT_RATING,
  LIMIT_SOURCE,
  LIMIT_VOLTAGE,
} from '../../../packages/core/src/simulate/loop/loop.js';
import { chargeReportOf } from '../../../packages/core/src/simulate/report/charge-report.js';
import { CHARGE_CAUSES, type ChargeCause, type DailyRow } from '../../../packages/core/src/simulate/types.js';
import { byHand, emptyLedger, TWO_DAYS } from './by-hand.js';

const rigWith = (charger: string) => `
battery: { chemistry: LFP, capacity: 100 Ah }
solar: [{ power: 100 W }]
alternator: { charger: { kind: ${charger} } }
mains: { current: 20 A }
`;
/** Days of 23 and 24 h in steps of a quarter of an hour: 92 and 96. The engine runs from 10:00 to 12:00 of the first. */
const laid = (charger = 'dcdc') => {
  const { assembled, out } = byHand(rigWith(charger), TWO_DAYS.replace('nights: 1', 'drive: 2 h, nights: 1'), 0.25);
  return { assembled, out, ledger: emptyLedger(assembled.input.steps) };
};
const row = (date: string, lowestSoc: number, unservedWh = 0) => ({ date, lowestSoc, unservedWh }) as DailyRow;
const DAILY = [row('2026-06-10', 0.3), row('2026-06-11', 0.6)];
const report = ({ assembled, out, ledger }: ReturnType<typeof laid>, daily: readonly DailyRow[] = DAILY) =>
  chargeReportOf(assembled, out, ledger, daily);
/** All causes at 0 but these. */
const only = (hours: Partial<Record<ChargeCause, number>>) => ({
  ...Object.fromEntries(CHARGE_CAUSES.map((cause) => [cause, 0])),
  ...hours,
});

describe('what held a step back', () => {
  const one = (
    limit: number,
    { charger = 'dcdc', soc = 0.5, alternatorW = 0, mainsW = 0 } = {},
  ): ChargeCause | undefined => {
    const run = laid(charger);
    run.out.limit[20] = limit;
    run.out.soc[20] = soc;
    run.ledger.alternatorW[20] = alternatorW;
    run.ledger.mainsW[20] = mainsW;
    const { hours } = report(run);
    const [cause, ...others] = CHARGE_CAUSES.filter((name) => hours[name] !== 0);
    expect(others).toEqual([]);
    if (cause) expect(hours[cause]).toBe(0.25);
    return cause;
  };

  test.each<[ChargeCause | undefined, number, Parameters<typeof one>[1]]>([
    [undefined, LIMIT_NONE, {}],
    ['sun', LIMIT_SOURCE, {}],
    ['engine', LIMIT_SOURCE, { alternatorW: 1 }],
    ['mains', LIMIT_SOURCE, { mainsW: 1 }],
    ['engine', LIMIT_SOURCE, { alternatorW: 1, mainsW: 1 }],
    ['rating', LIMIT_RATING, { alternatorW: 1 }],
    ['acceptance', LIMIT_VOLTAGE, {}],
    ['acceptance', LIMIT_VOLTAGE, { alternatorW: 1 }],
    ['acceptance', LIMIT_VOLTAGE, { charger: 'relay' }],
    ['relay', LIMIT_VOLTAGE, { charger: 'relay', alternatorW: 1 }],
    ['cold', LIMIT_COLD, { alternatorW: 1 }],
    ['full', LIMIT_FULL, { soc: 0.99 }],
    // of lead-acid the well that takes the charge can be full while the battery is not
    ['acceptance', LIMIT_FULL, { soc: 0.98 }],
  ])('%s: limit %d with %o', (cause, limit, facts) => {
    expect(one(limit, facts)).toBe(cause);
  });
});

test('hours of the run, of the engine and of the worst day are recorded by cause', () => {
  const run = laid();
  run.out.limit.fill(LIMIT_RATING, 40, 50).fill(LIMIT_COLD, 100, 104); // 10:00 to 12:30; on the second day
  const { hours, engineHours, worstDay } = report(run);
  expect(hours).toEqual(only({ rating: 2.5, cold: 1 }));
  expect(engineHours).toEqual(only({ rating: 2 }));
  expect(worstDay).toEqual({ date: '2026-06-10', lowestSoc: 0.3, hours: only({ rating: 2.5 }), idleHours: 20.5 });
  const second = report(run, [row('2026-06-10', 0.6), row('2026-06-11', 0.3)]);
  expect(second.worstDay).toEqual({ date: '2026-06-11', lowestSoc: 0.3, hours: only({ cold: 1 }), idleHours: 23 });
  const { engine: _, ...without } = run.assembled;
  expect(report({ ...run, assembled: without }).engineHours).toEqual(only({}));
});

test('the days are told apart at midnight', () => {
  const run = laid();
  run.out.limit.fill(LIMIT_COLD, 91, 93);
  expect(report(run).worstDay.hours.cold).toBe(0.25);
  expect(report(run, [row('2026-06-10', 0.6), row('2026-06-11', 0.3)]).worstDay.hours.cold).toBe(0.25);
});

test('sun that was not taken is recorded by what held it back; too little to wake the controller is the sun’s own doing', () => {
  const run = laid();
  const { pvAvailableW, pvHarvestW } = run.ledger;
  pvAvailableW.fill(100, 40, 60);
  pvHarvestW.fill(60, 40, 60);
  pvAvailableW.fill(2, 30, 40);
  run.out.limit.fill(LIMIT_RATING, 40, 48).fill(LIMIT_COLD, 48, 60);
  expect(report(run).spilledWh).toEqual(only({ rating: 80, cold: 120, sun: 5 }));
});

test('acceptance holds back from the charge before the lowest such step', () => {
  const run = laid();
  run.out.soc.fill(0.7);
  run.out.soc[29] = 0.65;
  expect(report(run)).not.toHaveProperty('acceptanceFromSoc');
  run.out.limit.fill(LIMIT_VOLTAGE, 30, 32);
  expect(report(run).acceptanceFromSoc).toBe(0.65);
  run.out.limit[0] = LIMIT_VOLTAGE; // began with 50 %
  expect(report(run).acceptanceFromSoc).toBe(0.5);
  const full = laid();
  full.out.soc.fill(1);
  full.out.soc[5] = 0.98;
  full.out.limit[5] = LIMIT_VOLTAGE;
  expect(report(full).acceptanceFromSoc).toBe(1);
});

describe('the worst day', () => {
  test.each([
    ['is the one of the lowest charge', [0.4, 0.2], [9, 0], '2026-06-11'],
    ['of equally low ones is the one with most unserved', [0.2, 0.2], [3, 9], '2026-06-11'],
    ['may be low to a thousandth only', [0.2009, 0.2], [9, 3], '2026-06-10'],
    ['may be low to just a thousandth', [0.201, 0.2], [9, 3], '2026-06-10'],
    ['is no longer equal beyond that', [0.2011, 0.2], [9, 3], '2026-06-11'],
    ['of wholly equal ones is the first', [0.2, 0.2], [3, 3], '2026-06-10'],
  ])('%s', (_what, lowest, unserved, date) => {
    const daily = ['2026-06-10', '2026-06-11'].map((day, k) => row(day, lowest[k]!, unserved[k]!));
    expect(report(laid(), daily).worstDay.date).toBe(date);
  });
});

describe('the hours of the worst day', () => {
  test('are counted by cause, and the rest of the day as idle', () => {
    const run = laid();
    run.out.limit.fill(LIMIT_VOLTAGE, 0, 3).fill(LIMIT_SOURCE, 3, 39).fill(LIMIT_COLD, 39, 45);
    // 0.75 h, 9 h, 1.5 h of 23
    expect(report(run).worstDay).toMatchObject({ hours: { acceptance: 0.75, sun: 9, cold: 1.5 }, idleHours: 11.75 });
  });

  test('name each cause', () => {
    const run = laid('relay');
    const { out, ledger } = run;
    out.limit.fill(LIMIT_SOURCE, 0, 64);
    ledger.alternatorW.fill(1, 0, 32);
    ledger.mainsW.fill(1, 32, 60);
    out.limit.fill(LIMIT_RATING, 64, 76).fill(LIMIT_VOLTAGE, 76, 84).fill(LIMIT_FULL, 84, 90);
    ledger.alternatorW.fill(1, 76, 84);
    out.soc.fill(1, 84, 90);
    expect(report(run).worstDay.hours).toEqual({
      engine: 8,
      mains: 7,
      rating: 3,
      relay: 2,
      full: 1.5,
      sun: 1,
      acceptance: 0,
      cold: 0,
    });
  });

  test('are those of that day, though others came before it', () => {
    const run = laid();
    run.out.limit.fill(LIMIT_COLD, 100, 104);
    // 1 h of the 24 h of the second day
    const { worstDay } = report(run, [row('2026-06-10', 0.6), row('2026-06-11', 0.3)]);
    expect(worstDay).toMatchObject({ hours: { cold: 1 }, idleHours: 23 });
  });

  test('are all idle where nothing charged', () => {
    expect(report(laid()).worstDay.idleHours).toBe(23);
  });
});
