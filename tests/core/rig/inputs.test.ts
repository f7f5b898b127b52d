import { ConfigError, readRig, readTrip, simulate, withoutTrip } from '@stayput/core';
import { describe, expect, test } from 'vitest';

const rigOf = (text: string, set: readonly string[] = []) => readRig(text, { set: [...set] }).rig;
const issueOf = (read: () => unknown) => {
  try {
    read();
  } catch (error) {
    if (error instanceof ConfigError) return error.issues[0]!;
    throw error;
  }
  throw new Error('nothing was wrong');
};
const RIG = `
battery: { chemistry: LFP, capacity: 100 Ah }
solar: [{ name: roof, power: 175 W }, { name: bag, power: 100 W }]
alternator: { rating: 120 A }
inverter: { rating: 600 W, on: with loads }
loads:
  - { name: always on, current: 0.15 A }
  - { name: laptop, power: 60 W, hours: 3, inverter: yes }
  - { name: fridge, kind: fridge, volume: 1.6 cu ft, setpoint: 4 degC }
`;

describe('what people write', () => {
  test('yes and no, two of a kind, an energy with its voltage, cubic feet', () => {
    const rig = rigOf(RIG);
    expect(rig.loads[1]).toMatchObject({ inverter: true });
    // A cubic foot is 28.316846592 L (the international foot of 0.3048 m, exact).
    expect(rig.loads[2]).toMatchObject({ volumeL: expect.closeTo(1.6 * 28.316846592, 9) });
    expect(rigOf(RIG, ['solar.roof.power=2x100 W']).solar[0]).toMatchObject({ powerW: 100, count: 2 });
    expect(rigOf(RIG.replace('100 Ah', '2 x 105 Ah')).battery).toMatchObject({ capacityAh: 105, count: 2 });
    expect(rigOf(RIG.replace('100 Ah', '1.28 kWh')).battery.capacityAh).toBeCloseTo(100, 9); // at 12.8 V
    expect(rigOf(RIG.replace('100 Ah', '2560 Wh, nominal: 24 V')).battery.capacityAh).toBeCloseTo(100, 9);
    expect(
      rigOf('battery: { chemistry: AGM, capacity: 1.2 kWh }\nloads: [{ name: a, power: 1 W }]').battery.capacityAh,
    ).toBe(100);
    const { defaults } = readRig(RIG.replace('100 Ah', '1.28 kWh'));
    expect(defaults.find(({ path }) => path === 'battery.capacity')).toMatchObject({
      text: '100 Ah',
      why: '1280 Wh at 12.8 V',
    });
  });

  test('a count beside "2x" is a contradiction that is named where it stands', () => {
    const issue = issueOf(() =>
      rigOf('battery: { chemistry: LFP, capacity: 2x100 Ah, count: 3 }\nloads: [{ name: a, power: 1 W }]'),
    );
    expect(issue).toMatchObject({ path: 'battery.capacity', line: 1, column: 38, code: 'contradiction' });
  });

  test.each(['lead acid', 'lead-acid', 'VRLA'])('"%s" is answered with the choice and what decides it', (chemistry) => {
    const issue = issueOf(() => rigOf(RIG.replace('LFP', chemistry)));
    expect(issue).toMatchObject({ path: 'battery.chemistry', line: 2, code: 'wrong_choice' });
    expect(issue.hint).toMatch(/flooded where water can be topped up; AGM/);
  });

  test('LiFePO4 is LFP', () => expect(rigOf(RIG.replace('LFP', 'LiFePO4')).battery.chemistry).toBe('LFP'));

  test('the currents that a label leaves out follow from its power and voltage', () => {
    const rig = rigOf(RIG, ['solar[0].datasheet={ voc: 24.3 V, vmp: 20.4 V }']);
    // 175 W / 20.4 V = 8.578 A, by hand.
    expect(rig.solar[0]!.datasheet).toMatchObject({ impA: 8.578, iscA: 9.093 });
    const run = simulate(rig, withoutTrip({ place: 'Porto', from: '2026-07-01', days: 1 }));
    expect(run.summary.pvAvailableWh).toBeGreaterThan(500);
  });
});

describe('what if a part were not there', () => {
  test('count: 0, off, and off: yes leave a part out', () => {
    expect(rigOf(RIG, ['solar[1].count=0']).solar.map(({ name }) => name)).toEqual(['roof']);
    expect(rigOf(RIG, ['solar.bag.off=yes']).solar.map(({ name }) => name)).toEqual(['roof']);
    expect(rigOf(RIG, ['alternator=off'])).not.toHaveProperty('alternator');
    expect(rigOf(RIG, ['alternator.off=true'])).not.toHaveProperty('alternator');
    expect(issueOf(() => rigOf(RIG, ['inverter=off']))).toMatchObject({
      path: 'loads[1].inverter',
      hint: 'switch it off too, with off: yes',
    });
    expect(rigOf(RIG, ['inverter=off', 'loads.laptop.off=yes'])).not.toHaveProperty('inverter');
  });

  test('a load that is left out takes nothing, and a trip may still name it', () => {
    const rig = rigOf(RIG, ['loads.fridge.off=yes', 'loads.laptop.off=yes']);
    const { trip } = readTrip('stops: [{ place: Porto, from: 2026-07-01, nights: 1, use: { laptop: 2 } }]', {
      loads: rig.loads.map(({ name }) => name),
    });
    const { loads } = simulate(rig, trip);
    for (const { name, servedWh, unservedWh } of loads) if (name !== 'always on') expect(servedWh + unservedWh).toBe(0);
    expect(loads.find(({ name }) => name === 'always on')!.servedWh).toBeGreaterThan(0);
  });
});

test.each([
  'loads."always on".current',
  "loads.'always on'.current",
  'loads["always on"].current',
  'loads[always on].current',
  'loads.always on.current',
])('a setting finds a name as %s', (path) =>
  expect(rigOf(RIG, [`${path}=0.3 A`]).loads[0]).toMatchObject({ draw: { currentA: 0.3 } }),
);

test.each(['loads..current=1', '.loads=1', 'loads[=1', '=1', 'loads."a=1', 'loads.a.=1'])('%s is no setting', (text) =>
  expect(issueOf(() => rigOf(RIG, [text]))).toMatchObject({ code: 'set' }),
);

describe('loads by day of the week and by season', () => {
  const onDays = (load: string, from: string, days: number) => {
    const rig = rigOf(
      `battery: { chemistry: LFP, capacity: 100 Ah }\nloads: [{ name: a, power: 10 W, hours: 1${load} }]`,
    );
    const run = simulate(rig, withoutTrip({ place: 'Porto', from, days }));
    return run.daily.filter(({ loadWh, unservedWh }) => loadWh + unservedWh > 1).map(({ date }) => date);
  };
  test.each([
    [', days: weekends', ['2026-07-04', '2026-07-05']],
    [', days: "Mon to Wed"', ['2026-07-01', '2026-07-06', '2026-07-07']],
    [', days: "Fri, Sat"', ['2026-07-03', '2026-07-04']],
  ])('%s', (load, dates) => expect(onDays(load, '2026-07-01', 7)).toEqual(dates)); // 1 July 2026 is a Wednesday
  test('a season may run over the turn of the year', () => {
    expect(onDays(', season: "Nov to Feb"', '2026-10-31', 3)).toEqual(['2026-11-01', '2026-11-02']);
    expect(onDays(', season: "Jun, Jul"', '2026-07-30', 4)).toEqual(['2026-07-30', '2026-07-31']);
  });
  test('a misspelt day is answered where it stands', () => {
    const text = 'battery: { chemistry: LFP, capacity: 100 Ah }\nloads: [{ name: a, power: 10 W, days: Mon to Frj }]';
    expect(issueOf(() => rigOf(text))).toMatchObject({
      path: 'loads[0].days',
      line: 2,
      message: '"Frj" is not a day of the week',
    });
  });
});

describe('drives', () => {
  const rig = rigOf(RIG);
  const drivenOn = (trip: string) => {
    const { conditions } = simulate(rig, readTrip(trip).trip, { stepH: 0.5 });
    const { grid, driving, days } = conditions.itinerary;
    return { grid, driving, days };
  };
  test('outings drive every so many days after arrival', () => {
    const { grid, driving, days } = drivenOn(
      'stops: [{ place: Porto, from: 2026-07-01, nights: 8, outings: { every: 3, drive: 1.5 h } }]',
    );
    const hours = days.map(({ startMs, endMs }) => {
      const at = (ms: number) => Math.round((ms - grid.startMs) / (grid.stepH * 3.6e6));
      return driving.subarray(at(startMs), at(endMs)).reduce((sum, share) => sum + share * grid.stepH, 0);
    });
    expect(hours).toEqual([0, 0, 0, 1.5, 0, 0, 1.5, 0]);
  });
  test('a drive begins by the clock of the place that is left', () => {
    const { grid, driving } = drivenOn(
      'stops: [{ place: Porto, from: 2026-07-01, nights: 1 }, { place: Madrid, nights: 1, drive: 1 h, driveFrom: "10:00" }]',
    );
    const first = driving.findIndex((share) => share > 0);
    // 10:00 in Portugal's summer time, UTC+1, is 09:00 UTC; by the clock of Spain, UTC+2, it would be 08:00 UTC.
    expect(new Date(grid.startMs + first * 1.8e6).toISOString()).toBe('2026-07-02T09:00:00.000Z');
  });
});
