import { describe, expect, test } from 'vitest';
import { LIMIT_COLD, LIMIT_FULL, LIMIT_VOLTAGE } from '../../../packages/core/src/simulate/loop/loop.js';
import { warningsOf } from '../../../packages/core/src/simulate/report/warnings.js';
import type { DailyRow, LoadRow, Summary } from '../../../packages/core/src/simulate/types.js';
import { byHand, TWO_DAYS } from './by-hand.js';

/** Invented: nothing is amiss with it, wherever it stands. */
const SOUND = `
battery: { chemistry: LFP, capacity: 100 Ah }
alternator: { charger: { kind: dcdc } }
mains: { current: 20 A }
cabin: { heated: 18 degC }
loads:
  - { name: fridge, kind: fridge, volume: 40 L, setpoint: 4 degC }
  - { name: freezer, kind: fridge, volume: 30 L, setpoint: -18 degC, insulation: 60 mm, compressor: 60 W }
`;
type Laid = ReturnType<typeof byHand>;

/** What the run warns of when all else is well. */
function told({ assembled, out }: Laid, { hoursOff = 0, daily = [] as Partial<DailyRow>[], loads = [] as LoadRow[] }) {
  return warningsOf(assembled, out, { hoursOff } as Summary, daily as DailyRow[], loads);
}
const sound = (change: (laid: Laid) => void = () => {}, rig = SOUND, trip = TWO_DAYS) => {
  const laid = byHand(rig, trip);
  change(laid);
  return laid;
};
const load = (row: Partial<LoadRow>): LoadRow[] => [
  { name: 'fridge', servedWh: 1, unservedWh: 0, dutyCycle: 0.5, ...row },
];

test('nothing is amiss, so nothing is said', () => {
  expect(
    told(sound(), { daily: [{ highestSoc: 0.2 }], loads: load({ cutOuts: 0, warmHours: 0, warmestC: 4.5 }) }),
  ).toEqual([]);
  expect(told(sound(), { loads: [{ name: 'lamp', servedWh: 1, unservedWh: 0, dutyCycle: 1 }] })).toEqual([]);
});

describe('the battery cut off', () => {
  const off = (steps: readonly number[], share = 0) =>
    sound(({ out }) => {
      for (const step of steps) out.onShare[step] = share;
    });

  test('is counted by its spells, and dated by the first in the local time of the stop', () => {
    const laid = off([5, 6, 60]);
    const { startMs } = laid.assembled.conditions.grid;
    expect(told(laid, { hoursOff: 1.5 })).toEqual([
      {
        code: 'loads_off',
        component: 'battery',
        firstMs: startMs + 2.5 * 3.6e6,
        count: 2,
        args: { hours: 1.5, firstAt: '2026-06-10 02:30' },
      },
    ]);
  });

  test('counts from the first step, and for a part of a step', () => {
    expect(told(off([0, 1], 0.9), { hoursOff: 0.1 })).toMatchObject([
      { count: 1, args: { hours: 0.1, firstAt: '2026-06-10 00:00' } },
    ]);
  });

  test('is dated by the clock of the second stop from its beginning: 23 h later it is midnight there', () => {
    const firstAt = (step: number) => told(off([step]), { hoursOff: 0.5 })[0]!.args;
    expect(firstAt(45)).toMatchObject({ firstAt: '2026-06-10 22:30' });
    expect(firstAt(46)).toMatchObject({ firstAt: '2026-06-11 00:00' });
    // 30 h after 00:00 at UTC+1 it is 07:00 at UTC+2
    expect(firstAt(60)).toMatchObject({ firstAt: '2026-06-11 07:00' });
  });
});

describe('a fridge', () => {
  test.each([
    [1, 1, 0.62, 0.62],
    [5, 2, 0.11, 0.62],
  ])('that cut out %d times, %d by the cable', (cutOuts, cutOutsByDrop, cutOutLowestSoc, cutOutHighestSoc) => {
    const loads = load({ cutOuts, cutOutsByDrop, cutOutLowestSoc, cutOutHighestSoc });
    expect(told(sound(), { loads })).toEqual([
      {
        code: 'fridge_cut_out',
        component: 'fridge',
        count: cutOuts,
        args: {
          name: 'fridge',
          cutOuts,
          byDrop: cutOutsByDrop,
          lowestSoc: cutOutLowestSoc,
          highestSoc: cutOutHighestSoc,
        },
      },
    ]);
  });

  test('whose food was warm: for how long, how warm, and what is too warm', () => {
    expect(told(sound(), { loads: load({ warmHours: 3.5, warmestC: 9.04, warmAboveC: 5 }) })).toEqual([
      {
        code: 'food_warm',
        component: 'fridge',
        args: { name: 'fridge', hours: 3.5, warmestC: 9.04, warmAboveC: 5 },
      },
    ]);
  });

  /** Steps at which the second of the two fridges has power, would need to run all the time, and is warm all the same. */
  const flatOut = ({ fed = 1, needs = 0.98, insideC = -16.9 }) =>
    sound(({ assembled, out }) => {
      const [, freezer] = assembled.fridges;
      for (const step of [10, 11, 12]) {
        freezer!.columns.holdDuty[step] = needs;
        out.fridgeC[assembled.input.steps + step] = insideC;
        out.onShare[step] = fed;
      }
      for (let i = 0; i < assembled.input.steps; i++) out.fridgeC[i] = 4;
    });

  test('that ran without pause and still got warm has too small a compressor', () => {
    expect(told(flatOut({}), {})).toEqual([
      {
        code: 'fridge_cannot_hold',
        component: 'freezer',
        count: 3,
        args: { name: 'freezer', hours: 1.5, setpointC: -18 },
      },
    ]);
  });

  test.each([
    ['it had no power', { fed: 0.99 }],
    ['it had pauses', { needs: 0.97 }],
    ['it held within a kelvin', { insideC: -17 }],
  ])('that is warm, but %s, is not called too small', (_why, facts) => {
    expect(told(flatOut(facts), { hoursOff: 0.01 }).map(({ code }) => code)).not.toContain('fridge_cannot_hold');
  });
});

test('an inverter asked for more than its rating', () => {
  const laid = sound(undefined, `${SOUND}\ninverter: { rating: 300 W }`);
  expect(told(laid, {})).toEqual([]);
  const inverter = laid.assembled.inverter!;
  const over = { ...inverter, columns: { ...inverter.columns, overloadedSteps: 3 } };
  expect(told({ ...laid, assembled: { ...laid.assembled, inverter: over } }, {})).toEqual([
    {
      code: 'inverter_overloaded',
      component: 'inverter',
      count: 3,
      args: { hours: 1.5 },
    },
  ]);
});

test('a battery too cold to be charged is told with the hours that cost, other limits are not', () => {
  const limited = (limit: number) => sound(({ out }) => out.limit.fill(limit, 7, 12));
  expect(told(limited(LIMIT_COLD), {})).toEqual([
    {
      code: 'cold_charge',
      component: 'battery',
      args: { hours: 2.5 },
    },
  ]);
  for (const limit of [LIMIT_FULL, LIMIT_VOLTAGE]) expect(told(limited(limit), {})).toEqual([]);
});

describe('lead-acid wants a full charge once a week', () => {
  const lead = SOUND.replace('LFP', 'AGM');
  const days = (...highest: number[]) => highest.map((highestSoc) => ({ highestSoc }));
  const without = (count: number) => Array<number>(count).fill(0.98);

  test('a longer gap is told by its length', () => {
    expect(told(sound(undefined, lead), { daily: days(...without(8)) })).toEqual([
      {
        code: 'rarely_full',
        component: 'battery',
        count: 8,
        args: { days: 8 },
      },
    ]);
  });

  test('the longest of several gaps counts, wherever it lies', () => {
    const gaps = days(...without(3), 1, ...without(9), 0.99, ...without(8));
    expect(told(sound(undefined, lead), { daily: gaps })).toMatchObject([{ count: 9 }]);
  });

  test('a week is no gap, nor is it between two full days; LFP does not mind', () => {
    expect(told(sound(undefined, lead), { daily: days(...without(7), 0.99, ...without(7)) })).toEqual([]);
    expect(told(sound(), { daily: days(...without(30)) })).toEqual([]);
  });
});

describe('what the trip offers and the rig cannot take', () => {
  const trip = TWO_DAYS.replace('nights: 1 }', 'nights: 1, mains: 3 h, drive: 2 h }');
  const no = (key: string) => SOUND.replace(new RegExp(`^${key}:.*$`, 'm'), '');

  test('hours on mains', () => {
    expect(told(sound(undefined, no('mains'), trip), {})).toEqual([
      {
        code: 'mains_without_charger',
        component: 'mains',
        args: { hours: 3 },
      },
    ]);
  });

  test('hours of driving', () => {
    expect(told(sound(undefined, no('alternator'), trip), {})).toEqual([
      {
        code: 'drive_without_alternator',
        component: 'alternator',
        args: { hours: 2 },
      },
    ]);
  });

  test('is not told of a rig that takes it, nor of a trip that does not offer it', () => {
    expect(told(sound(undefined, SOUND, trip), {})).toEqual([]);
    expect(told(sound(undefined, no('mains')), {})).toEqual([]);
    expect(told(sound(undefined, no('alternator')), {})).toEqual([]);
  });
});

describe('a cold cabin', () => {
  const unheated = SOUND.replace(/^cabin:.*$/m, '');
  const colder = (byK: number, rig = unheated) =>
    sound(({ assembled }) => assembled.conditions.cabinC.fill(8 - byK), rig);

  test('that nobody heats is told with its mean', () => {
    const laid = colder(0.2);
    laid.assembled.conditions.cabinC.fill(3.8, 0, 47); // of 94 steps: (3.8 + 7.8) / 2
    expect(told(laid, {})).toEqual([
      {
        code: 'cabin_not_heated',
        component: 'cabin',
        args: { meanC: expect.closeTo(5.8, 9) },
      },
    ]);
  });

  test('is not told of from 8 °C on, nor where it is heated', () => {
    expect(told(colder(0), {})).toEqual([]);
    expect(told(colder(10, SOUND), {}).map(({ code }) => code)).toEqual(['cabin_not_warm']);
  });
});

test('of the notes on the weather, that its file was shifted is passed on', () => {
  const { assembled, out } = sound();
  const notes = [
    { code: 'climate_place', text: 'from the table' },
    { code: 'weather_shift', text: 'moved by an hour' },
  ] as const;
  const laid = { assembled: { ...assembled, conditions: { ...assembled.conditions, notes } }, out };
  expect(told(laid as Laid, {})).toEqual([
    { code: 'weather_shift', component: 'weather', args: { text: 'moved by an hour' } },
  ]);
});

test('a load on the starter battery is left out by name', () => {
  const winch = sound(undefined, `${SOUND}  - { name: winch, current: 100 A, starterSide: true }`);
  expect(told(winch, {})).toEqual([{ code: 'starter_side', component: 'winch', args: { name: 'winch' } }]);
});

test('the gravest comes first: no power, then spoilt food, then what only costs', () => {
  const laid = sound(({ out }) => {
    out.onShare[9] = 0;
    out.limit[4] = LIMIT_COLD;
  }, `${SOUND}  - { name: winch, current: 100 A, starterSide: true }`);
  const loads = load({
    cutOuts: 1,
    cutOutsByDrop: 1,
    cutOutLowestSoc: 0.5,
    cutOutHighestSoc: 0.5,
    warmHours: 1,
    warmestC: 9,
    warmAboveC: 5,
  });
  expect(told(laid, { hoursOff: 0.5, loads }).map(({ code }) => code)).toEqual([
    'loads_off',
    'fridge_cut_out',
    'food_warm',
    'cold_charge',
    'starter_side',
  ]);
});
