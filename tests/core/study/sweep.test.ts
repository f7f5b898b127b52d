import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { percentile } from '../../../packages/core/src/math/index.js';
import { readRig, readTrip } from '../../../packages/core/src/rig/index.js';
import { assemble, conditionsFor, simulateUnder } from '../../../packages/core/src/simulate/index.js';
import { openSweep, outcomeOf, SWEEP_FIGURES, type SweepRequest } from '../../../packages/core/src/study/index.js';

const rig = {
  text: readFileSync(new URL('../../../examples/heron.yaml', import.meta.url), 'utf8'),
  file: 'heron.yaml',
};
const trip = {
  text: 'stops: [{ at: [41.7, -8.8], from: 2026-11-03, nights: 12 }, { at: [43.6, -8.1], nights: 3, drive: 2 h }]',
};
const sweep = (vary: string[], more: Partial<SweepRequest> = {}) => openSweep({ rig, trip, vary, ...more });
const rowsOf = (vary: string[], more: Partial<SweepRequest> = {}) => {
  const opened = sweep(vary, more);
  return opened.rows(0, opened.plan.variants);
};

/** The same variant by itself, nothing shared. */
function alone(set: string[], year = 0) {
  const { rig: read } = readRig(rig.text, { set });
  const { trip: readTripToo } = readTrip(trip.text);
  const conditions = conditionsFor(read, readTripToo, { year });
  return { read, conditions, startSoc: readTripToo.startSoc };
}

describe('a sweep', () => {
  test('each row is the variant run by itself, to the last bit: battery, load, panel, cabin, and back', () => {
    const vary = [
      'cabin.gain=2,8 degC',
      'solar[0].tilt=0,40 deg',
      'loads.lights.power=9,60 W',
      'battery.capacity=50,100 Ah',
    ];
    const rows = rowsOf(vary);
    expect(rows).toHaveLength(16);
    for (const { values, answers } of rows) {
      const [gain, tilt, power, capacity] = values;
      const { read, conditions, startSoc } = alone([
        `cabin.gain=${gain} degC`,
        `solar[0].tilt=${tilt} deg`,
        `loads.lights.power=${power} W`,
        `battery.capacity=${capacity} Ah`,
      ]);
      const outcome = outcomeOf(assemble(read, conditions, startSoc));
      expect(answers).toEqual([...SWEEP_FIGURES.map(([key]) => outcome[key]), 0]);
    }
  });

  test('its figures are those of a whole simulation', () => {
    const { columns, rows } = sweep(['battery.capacity=30,100 Ah']);
    for (const { values, answers } of rows(0, 2)) {
      const { read, conditions, startSoc } = alone([`battery.capacity=${values[0]} Ah`]);
      const { summary } = simulateUnder(read, conditions, startSoc);
      const figure = (key: string) => answers[columns.findIndex((column) => column.key === key)]!;
      expect(figure('lowestSoc')).toBeCloseTo(summary.lowestSoc, 12);
      for (const key of ['pvHarvestWh', 'loadWh', 'unservedWh', 'hoursOff', 'equivalentCycles'] as const)
        expect(Math.abs(figure(key) - summary[key]), key).toBeLessThanOrEqual(1e-9 * Math.max(1, summary[key]));
    }
  });

  test('whatever was asked before, a row is the same', () => {
    const vary = ['solar[0].tilt=0:10:60 deg', 'battery.capacity=50:50:150 Ah'];
    const straight = rowsOf(vary);
    const opened = sweep(vary);
    const mixed = [20, 3, 11, 3, 0].map((variant) => opened.rows(variant, variant + 1)[0]);
    expect(mixed).toEqual([20, 3, 11, 3, 0].map((variant) => straight[variant]));
  });

  test('a larger battery goes less low, and its capacity is a number under its unit', () => {
    const opened = sweep(['battery.capacity=50:50:200 Ah']);
    expect(opened.plan.varied[0]).toMatchObject({ path: 'battery.capacity', unit: 'Ah' });
    const rows = opened.rows(0, 4);
    expect(rows.map(({ values }) => values[0])).toEqual([50, 100, 150, 200]);
    const lowest = rows.map(({ answers }) => answers[0]!);
    expect(lowest.toSorted((a, b) => a - b)).toEqual(lowest);
  });

  test('over several weather years each figure has the percentiles of the years by themselves', () => {
    const opened = sweep(['battery.capacity=40,80 Ah'], { years: 4 });
    const [, row] = opened.rows(0, 2);
    const outcomes = [0, 1, 2, 3].map((year) => {
      const { read, conditions, startSoc } = alone(['battery.capacity=80 Ah'], year);
      return outcomeOf(assemble(read, conditions, startSoc));
    });
    const figure = (key: string) => row!.answers[opened.columns.findIndex((column) => column.key === key)];
    expect(new Set(outcomes.map(({ lowestSoc }) => lowestSoc)).size).toBe(4);
    for (const [suffix, share] of [
      ['P10', 0.1],
      ['P50', 0.5],
      ['P90', 0.9],
    ] as const)
      expect(figure(`lowestSoc${suffix}`)).toBe(
        percentile(
          outcomes.map(({ lowestSoc }) => lowestSoc),
          share,
        ),
      );
    expect(figure('yearsServed')).toBe(outcomes.filter(({ unservedHours }) => unservedHours < 1e-6).length / 4);
  });

  describe('over weather files of several years', () => {
    /** A year of days by hand: light by the season, and 40 % of it in weather that differs by year. */
    const year = (of: number) => ({
      name: `${of}.csv`,
      text: [
        'date,light kWh/m2,tmin C,tmax C',
        ...Array.from({ length: 365 }, (_, i) => {
          const date = new Date(Date.UTC(of, 0, 1 + i)).toISOString().slice(0, 10);
          const kwh = (3 - 2 * Math.cos((2 * Math.PI * (i + 10)) / 365)) * ((i * of) % 7 < 3 ? 0.4 : 1);
          return `${date},${kwh.toFixed(2)},8,17`;
        }),
      ].join('\n'),
    });
    const [first, ...more] = [1990, 1991, 1993].map(year) as [ReturnType<typeof year>, ...ReturnType<typeof year>[]];
    const set = ['weather=years', 'stops[0].from=2026-11-03'];

    test('every year that holds the days of the trip is run by itself', () => {
      const opened = sweep(['battery.capacity=40,80 Ah'], { set, weatherFile: { ...first, more } });
      expect(opened.years).toBe(3);
      const [, row] = opened.rows(0, 2);
      const outcomes = [1990, 1991, 1993].map((of) => {
        const { rig: read } = readRig(rig.text, { set: ['battery.capacity=80 Ah'] });
        const { trip: moved } = readTrip(trip.text, { set: ['weather=years', `stops[0].from=${of}-11-03`] });
        return outcomeOf(assemble(read, conditionsFor(read, moved, { weatherFile: year(of) }), moved.startSoc));
      });
      const figure = (key: string) => row!.answers[opened.columns.findIndex((column) => column.key === key)];
      expect(new Set(outcomes.map(({ lowestSoc }) => lowestSoc)).size).toBe(3);
      const lowest = outcomes.map(({ lowestSoc }) => lowestSoc);
      expect(figure('lowestSocP10')).toBe(percentile(lowest, 0.1));
      expect(figure('lowestSocP90')).toBe(percentile(lowest, 0.9));
    });

    test('at most as many as asked for; one alone has no percentiles', () => {
      const columnsOf = (years: number) =>
        sweep(['battery.capacity=40,80 Ah'], { set, years, weatherFile: { ...first, more } }).columns;
      expect(columnsOf(2)).toEqual(columnsOf(3));
      expect(columnsOf(1)[0]!.key).toBe('lowestSoc');
    });
  });

  test('the trip can be varied too, and what is set holds for all', () => {
    const rows = rowsOf(['stops[0].nights=2:2:6', 'startSoc=50,100 %'], {
      set: ['weather=dull', 'loads.lights.power=20 W'],
    });
    expect(rows.map(({ values }) => values)).toEqual([
      [2, 50],
      [2, 100],
      [4, 50],
      [4, 100],
      [6, 50],
      [6, 100],
    ]);
    const load = rows.map(({ answers }) => answers[SWEEP_FIGURES.findIndex(([key]) => key === 'loadWh')]!);
    expect(load[3]!).toBeGreaterThan(load[1]!);
  });

  test('values that contradict each other fail by row, and the rest is answered', () => {
    const rows = rowsOf(['battery.disconnect=10,30 %', 'battery.reconnect=15,40 %']);
    expect(rows.map(({ failed }) => failed?.isOurs)).toEqual([undefined, undefined, false, undefined]);
    expect(rows[2]).toMatchObject({
      values: [30, 15],
      answers: [],
      failed: { text: expect.stringMatching(/reconnect/) },
    });
  });

  test.each([
    [['battery.capacityy=50,60 Ah'], {}, /^vary battery\.capacityy=50 Ah.*did you mean capacity\?/],
    [['batery.capacity=50,60 Ah'], {}, /did you mean battery/],
    [['loads.fridg.setpoint=4:6 degC'], {}, /did you mean loads\.fridge\?/],
    [['solar[3].tilt=0,10 deg'], {}, /solar\[3\] is not there/],
    [['battery.capacity=50:100'], {}, /has no unit/],
    [['battery.capacity=50,60 W'], {}, /a charge in Ah is needed/],
    [['battery.chemistry=LFP,AGN'], {}, /did you mean AGM\?/],
    [['battery.capacity=0:10:50 Ah'], {}, /out of range/],
    [['stops[0].nigths=1:3'], {}, /did you mean nights\?/],
    [['stops[0].nights=1:3'], { years: 2, set: ['weather=clear'] }, /^years.*clear, which is one year/],
    [['weather=clear,wind.csv'], {}, /a weather file cannot be varied/],
    [['stops[0].nights=300,3000'], { stepH: 1 / 60 }, /too many for so short a step/],
  ] as const)('%j is refused before the work', (vary, more, message) => {
    expect(() => sweep([...vary], more)).toThrow(message);
    expect(() => sweep([...vary], more)).toThrow(expect.objectContaining({ name: 'ConfigError' }));
  });
});
