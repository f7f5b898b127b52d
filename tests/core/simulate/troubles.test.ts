import { readRig, remediesFor, simulate, type Trouble, withoutTrip } from '@stayput/core';
import { describe, expect, test } from 'vitest';

const summer = withoutTrip({ place: 'Porto', from: '2026-07-01', days: 4 });
const runOf = (text: string, trip = summer) => {
  const { rig } = readRig(text);
  return { rig, run: simulate(rig, trip) };
};
const codes = (troubles: readonly Trouble[]) => troubles.map(({ code, level }) => `${code} ${level}`);
const one = (troubles: readonly Trouble[], code: Trouble['code']) => troubles.find((trouble) => trouble.code === code)!;

describe('each trouble has its cause, its first time and its duration', () => {
  test('a battery that is drawn empty runs flat when its charge is spent, and stays so', () => {
    const { run } = runOf(`
battery: { chemistry: LFP, capacity: 100 Ah, disconnect: 10 %, reconnect: 15 %, floor: 10 % }
loads: [{ name: lamp, current: 3 A }]
`);
    const flat = one(run.troubles, 'ran_flat');
    // 90 Ah at 3 A: 30 h, less self-discharge of some per mille (by hand).
    expect(flat.firstAt!.slice(0, 10)).toBe('2026-07-02');
    expect(Number(flat.firstAt!.slice(11, 13)) + Number(flat.firstAt!.slice(14, 16)) / 60).toBeCloseTo(6, 0);
    expect(flat.hours).toBeCloseTo(4 * 24 - 30, 0);
    expect(flat.args).toMatchObject({ loads: ['lamp'] });
    expect(run.troubles[0]).toBe(flat);
  });

  test('a hob that the battery cannot feed is an overload at its own time, and nothing runs flat', () => {
    const { run } = runOf(`
battery: { chemistry: LFP, capacity: 100 Ah }
solar: [{ power: 400 W }]
inverter: { rating: 2000 W, on: with loads }
loads: [{ name: hob, power: 1800 W, when: "18:00 to 18:10", inverter: true }]
`);
    expect(codes(run.troubles)).toEqual(['battery_overload bad']);
    expect(run.troubles[0]!.firstAt).toMatch(/^2026-07-01T18:00/);
    expect(run.troubles[0]!.hours).toBeCloseTo(4 / 6, 6); // ten minutes on each of four days
  });

  test('the same without its hours of the day is the same trouble, of which the run shows no time', () => {
    const { run } = runOf(`
battery: { chemistry: LFP, capacity: 100 Ah }
solar: [{ power: 400 W }]
inverter: { rating: 2000 W, on: with loads }
loads: [{ name: hob, power: 1800 W, hours: 0.166 h, inverter: true }]
`);
    expect(codes(run.troubles)).toEqual(['battery_overload bad']);
    expect(run.troubles[0]!.firstAt).toBeUndefined();
  });

  test('a cable that is too thin switches a fridge off while the battery is well charged', () => {
    const { rig, run } = runOf(`
battery: { chemistry: AGM, capacity: 110 Ah }
solar: [{ power: 105 W, mount: gap }]
loads:
  - { name: fridge, kind: fridge, volume: 50 L, setpoint: 4 degC, compressor: 50 W, cutOut: 11.9 V, cutIn: 12.5 V, cable: { length: 9 m, section: 1 mm2 } }
`);
    const off = one(run.troubles, 'fridge_off');
    expect(off.level).toBe('bad');
    expect(off.args).toMatchObject({ name: 'fridge' });
    expect((off.args as { highestSoc: number }).highestSoc).toBeGreaterThan(0.6);
    const { cure } = remediesFor(rig, run)!.find(({ against }) => against.includes('fridge_off'))!;
    expect(cure?.code).toBe('thicker_cable');
  });

  test('a fridge in a heat that its compressor is too small for is too hot, though it has all the power it wants', () => {
    const { run } = runOf(`
battery: { chemistry: LFP, capacity: 400 Ah }
solar: [{ power: 800 W }]
cabin: { gain: 30 degC }
loads: [{ name: box, kind: fridge, volume: 60 L, setpoint: -18 degC, insulation: 25 mm, compressor: 25 W }]
`);
    expect(run.troubles[0]).toMatchObject({ code: 'too_hot', level: 'bad' });
    expect(run.summary.hoursOff).toBe(0);
  });

  test('what the frozen battery refuses is why it runs flat, where that would have been enough', () => {
    const frost = {
      ...summer,
      stops: summer.stops.map((stop) => ({
        ...stop,
        nights: 10,
        months: { tMaxC: Array<number>(12).fill(-4), tMinC: Array<number>(12).fill(-12) },
      })),
    };
    const { run } = runOf(
      `
battery: { chemistry: LFP, capacity: 100 Ah, stands: outside }
solar: [{ power: 200 W }]
loads: [{ name: radio, power: 15 W }]
`,
      frost,
    );
    expect(one(run.troubles, 'too_cold_to_charge').level).toBe('careful');
    const flat = one(run.troubles, 'ran_flat');
    expect((flat.args as { refusedWh?: number }).refusedWh).toBeGreaterThan(100);
    expect(run.troubles[0]).toBe(flat);
  });

  test('a run without a trouble has none', () => {
    const { rig, run } = runOf(`
battery: { chemistry: LFP, capacity: 200 Ah }
solar: [{ power: 400 W }]
loads: [{ name: lamp, power: 5 W, when: "20:00 to 22:00" }]
`);
    expect(run.troubles).toEqual([]);
    expect(remediesFor(rig, run)).toEqual([]);
  });
});

describe('a remedy that cures was tried', () => {
  const text = (hours: number, more = '') => `
battery: { chemistry: LFP, capacity: 60 Ah, floor: 20 %, disconnect: 10 %${more} }
solar: [{ power: 100 W, mount: bonded }]
alternator: { rating: 120 A, charger: { kind: dcdc, current: 30 A } }
loads:
  - { name: lamp, power: 5 W, when: "20:00 to 22:00" }
  - { name: laptop, power: 60 W, hours: ${hours} h, when: "09:00 to 21:00" }
`;
  const winter = withoutTrip({ place: 'Porto', from: '2026-12-03', days: 7 });

  test('the figure it names, written into the file, does away with the trouble, and an eighth more does not', () => {
    const { rig, run } = runOf(text(8), winter);
    expect(run.troubles[0]!.code).toBe('ran_flat');
    const [{ cure, tried }] = remediesFor(rig, run) as [NonNullable<ReturnType<typeof remediesFor>>[number]];
    expect(cure).toMatchObject({ code: 'less_use', args: { name: 'laptop', fromH: 8 }, cures: true });
    const { toH } = cure!.args as { toH: number };
    expect(codes(runOf(text(toH), winter).run.troubles)).not.toContain('ran_flat bad');
    expect(codes(runOf(text(toH + 1), winter).run.troubles)).toContain('ran_flat bad');
    expect(tried.map(({ code }) => code)).toEqual(['less_use', 'morning_drive', 'one_more_panel', 'one_more_battery']);
    const battery = tried.at(-1)!;
    const more = codes(runOf(text(8, ', count: 2'), winter).run.troubles);
    expect(more.includes('ran_flat bad')).toBe(!battery.cures);
  });

  test('none is tried on a run longer than a month', () => {
    const { rig, run } = runOf(text(8), withoutTrip({ place: 'Porto', from: '2026-12-03', days: 40 }));
    expect(remediesFor(rig, run)).toBeUndefined();
  });
});
