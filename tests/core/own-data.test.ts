import { describe, expect, test } from 'vitest';
import {
  conditionsFor,
  type LoadMoment,
  logRows,
  openRuns,
  readLoadProfile,
  readLog,
  readRig,
  readWeatherFile,
  simulate,
  stayStudy,
  weatherFromColumns,
  withoutTrip,
} from '../../packages/core/src/index.js';

const { rig } = readRig(`
battery: { chemistry: LFP, capacity: 100 Ah }
solar: [{ power: 175 W }]
loads: [{ name: lights, power: 9 W, when: "18:00 to 22:00" }]
`);
const WEEK = { at: '41.2,-8.6', from: '2026-07-02', days: 7 } as const;

describe('own weather as columns', () => {
  const hours = Array.from({ length: 10 * 24 }, (_, i) => i);
  const ghiWm2 = hours.map((hour) => Math.max(0, 700 * Math.sin(((hour % 24) - 6) * (Math.PI / 12))));
  const ambientC = hours.map((hour) => 18 + 5 * Math.sin(((hour % 24) - 9) * (Math.PI / 12)));
  const startMs = Date.UTC(2026, 6, 1);
  const trip = withoutTrip({ ...WEEK, weather: 'mine' });

  test('comes to the same as the same weather in a file', () => {
    const rows = hours.map(
      (hour) => `${new Date(startMs + hour * 3.6e6).toISOString().slice(0, 16)}Z,${ghiWm2[hour]},${ambientC[hour]}`,
    );
    const text = ['time utc hour beginning,global horizontal W/m2,air temperature C', ...rows, ''].join('\n');
    const fromFile = readWeatherFile(text, { utcOffsetH: 0, columns: { stamp: 'beginning' } });
    const fromColumns = weatherFromColumns({ startMs, stepH: 1, ghiWm2, ambientC });
    for (const column of ['ghi', 'air'] as const)
      expect(Array.from(fromColumns[column]!)).toEqual(Array.from(fromFile[column]!));
    const [a, b] = [fromFile, fromColumns].map((weatherFile) => simulate(rig, trip, { weatherFile }).summary);
    expect(b).toStrictEqual(a);
    expect(a!.pvAvailableWh).toBeGreaterThan(2000);
  });

  test('fills short gaps (NaN), and names what is no column', () => {
    const holed = ambientC.map((value, i) => (i === 30 ? Number.NaN : value));
    expect(weatherFromColumns({ startMs, stepH: 1, ghiWm2, ambientC: holed }).air.every(Number.isFinite)).toBe(true);
    const any = (weather: object) => () => weatherFromColumns(weather as Parameters<typeof weatherFromColumns>[0]);
    expect(any({ startMs, stepH: 1, ghiWm2 })).toThrow(/^weatherFromColumns: ambientC is missing/);
    expect(any({ startMs, stepH: 1, ambientC })).toThrow(/ghiWm2 is missing, or dniWm2 with dhiWm2/);
    expect(any({ startMs, stepH: 1, ambientC, ghiWm2: [1] })).toThrow(/ghiWm2 has 1 values, and ambientC has 240/);
    expect(any({ stepH: 1, ambientC, ghiWm2 })).toThrow(/startMs is undefined/);
  });
});

describe('own loads', () => {
  const trip = withoutTrip({ ...WEEK, weather: 'clear' });

  test('as a function come to the same as the same load in the rig', () => {
    const inRig = readRig(`
battery: { chemistry: LFP, capacity: 100 Ah }
solar: [{ power: 175 W }]
loads: [{ name: lights, power: 9 W, when: "18:00 to 22:00" }, { name: fan, power: "clamp(4 * (cabin - 24), 0, 30)" }]
`).rig;
    const ownLoads = [
      { name: 'fan', powerW: ({ cabinC }: LoadMoment) => Math.min(30, Math.max(0, 4 * (cabinC - 24))) },
    ];
    const [mine, theirs] = [simulate(rig, trip, { ownLoads }), simulate(inRig, trip)];
    expect(mine.summary).toStrictEqual(theirs.summary);
    expect(mine.loads.map(({ name, servedWh }) => ({ name, servedWh }))).toStrictEqual(
      theirs.loads.map(({ name, servedWh }) => ({ name, servedWh })),
    );
    expect(mine.trace.loads.map(({ name }) => name)).toEqual(['lights', 'fan']);
    expect(openRuns(trip, { ownLoads }).outcome(rig).loadWh).toBeCloseTo(mine.summary.loadWh, 6);
  });

  test('get the moment of each step: date, hour, day and step', () => {
    const seen: LoadMoment[] = [];
    const powerW = (at: LoadMoment) => {
      seen.push({ ...at });
      return 0;
    };
    conditionsFor(rig, trip, { stepH: 1, ownLoads: [{ name: 'probe', powerW }] });
    expect(seen).toHaveLength(7 * 24);
    expect(seen[0]).toMatchObject({ date: '2026-07-02', dayNumber: 0, localHour: 0.5, stepH: 1, driving: 0 });
    expect(seen.at(-1)).toMatchObject({ date: '2026-07-08', dayNumber: 6, localHour: 23.5 });
  });

  test('shorten a stay', () => {
    const days = (watts: number) =>
      stayStudy(rig, { place: 'Porto' }, { years: 1, months: [12], ownLoads: [{ name: 'own', powerW: () => watts }] })
        .darkDays;
    expect(days(50)).toBeLessThan(days(20));
  });

  test('are refused by name: no function, no watts, a name of the rig', () => {
    const run = (load: object) => () => simulate(rig, trip, { ownLoads: [load as never] });
    expect(run({ name: 'x' })).toThrow(/ownLoads: each needs a name, and powerW/);
    expect(run({ name: 'x', powerW: () => Number.NaN })).toThrow(/ownLoads: x gave NaN on 2026-07-02/);
    expect(run({ name: 'x', powerW: () => -1 })).toThrow(/x gave -1/);
    expect(run({ name: 'lights', powerW: () => 1 })).toThrow(/the rig has a load lights already/);
  });
});

describe('a measured profile', () => {
  /** Two days, 10 W and 20 W through the night, 60 W from 12:00 to 14:00 on the second. */
  const rows = Array.from({ length: 2 * 48 }, (_, i) => {
    const [day, half] = [Math.floor(i / 48), i % 48];
    const watts = day === 0 ? 10 : half >= 24 && half < 28 ? 60 : 20;
    return `2026-05-0${day + 1} ${String(half >> 1).padStart(2, '0')}:${half % 2 ? '30' : '00'},${watts}`;
  });
  const text = ['time,load power (W)', ...rows, ''].join('\n');

  test('is drawn day by day, by the local clock, again and again', () => {
    const powerW = readLoadProfile(text, { zone: 'Europe/Lisbon' });
    const trip = withoutTrip({ ...WEEK, days: 4, weather: 'clear' });
    const { trace } = simulate(rig, trip, { ownLoads: [{ name: 'measured', powerW }], stepH: 1 });
    const own = trace.loads.find(({ name }) => name === 'measured')!.servedW;
    const dayWh = [0, 1, 2, 3].map((day) => own.subarray(day * 24, (day + 1) * 24).reduce((a, b) => a + b, 0));
    const [first, second] = [24 * 10, 22 * 20 + 2 * 60];
    for (const [k, wh] of [first, second, first, second].entries()) expect(dayWh[k]).toBeCloseTo(wh, 6);
    expect(own[24 + 12]).toBeCloseTo(60, 6);
  });

  test('a time that was not measured takes the other days’ mean', () => {
    const holed = ['time,load power (W)', ...rows.filter((_, i) => !(i >= 48 + 30 && i < 48 + 40)), ''].join('\n');
    const powerW = readLoadProfile(holed, { zone: 'UTC' });
    expect(powerW({ dayNumber: 1, localHour: 18.1, stepH: 1 / 6 })).toBe(10);
    expect(powerW({ dayNumber: 1, localHour: 8.1, stepH: 1 / 6 })).toBe(20);
  });

  test('without a load’s power it says which headings there are', () => {
    const noLoad = text.replace('load power (W)', 'battery voltage (V)').replaceAll(/,\d+$/gm, ',13.2');
    expect(() => readLoadProfile(noLoad, { zone: 'UTC' })).toThrow(/no column of a load’s power.*columns\.loadPower/);
  });
});

describe('rows of a log as they come', () => {
  const HOW = { zone: 'UTC', positive: 'charging' } as const;
  const text = [
    'time,battery voltage (V),battery current (A)',
    ...Array.from({ length: 3000 }, (_, i) => {
      const time = new Date(Date.UTC(2026, 4, 1) + i * 600_000).toISOString().slice(0, 16).replace('T', ' ');
      return `${time},${(13 + (i % 7) / 10).toFixed(1)},${((i % 11) - 5).toFixed(1)}`;
    }),
    '',
  ].join('\n');

  test('are those of the reader, each an object of its own, and the reading is returned', async () => {
    const pieces = Array.from({ length: Math.ceil(text.length / 777) }, (_, k) => text.slice(k * 777, (k + 1) * 777));
    const rows = logRows(pieces, HOW);
    const [times, first]: [number[], number[]] = [[], []];
    const kept = [];
    for (let next = await rows.next(); ; next = await rows.next()) {
      if (next.done) {
        expect(next.value).toStrictEqual(readLog(text, HOW));
        break;
      }
      kept.push(next.value);
      times.push(next.value.timeMs);
      first.push(next.value.values[0]!);
    }
    expect(times).toHaveLength(3000);
    expect(kept.map(({ timeMs }) => timeMs)).toEqual(times);
    expect(kept.map(({ values }) => values[0])).toEqual(first);
  });

  test('can be left early', async () => {
    let count = 0;
    for await (const _ of logRows([text], HOW)) if (++count === 10) break;
    expect(count).toBe(10);
  });
});
