import { checkRig, readRig, readTrip, remediesFor, simulate } from '@stayput/core';
import { overloads } from '@stayput/core/model';
import { describe, expect, test } from 'vitest';
import { openLoopOf } from '../../../packages/core/src/study/run/open-loop.js';
import { outcomeOf } from '../../../packages/core/src/study/run/outcome.js';
import { unservedShare } from '../../../packages/core/src/study/run/unserved.js';
import { byHand } from './by-hand.js';
import { assembledFor, copperOhm } from './made-hours.js';

const TRIP = 'weather: dull\nstops: [{ at: [41, -8.6], from: 2026-11-02, nights: 2 }]';
const { trip: TWO_DAYS } = readTrip(TRIP);

/** Volts at a load of constant power behind two resistances: the larger root of V·(E − V)/R = P. */
const arrivesV = (emfV: number, ohm: number, watts: number) => (emfV + Math.sqrt(emfV ** 2 - 4 * ohm * watts)) / 2;

describe('a load whose cable loses much', () => {
  const thin = (watts: number) =>
    `battery: { chemistry: LFP, capacity: 2000 Ah }
loads: [{ name: box, power: ${watts} W, when: "10:00 to 14:00", cable: { length: 20 m, section: 2.5 mm2 } }]`;
  const ohm = copperOhm(20, 7.98);
  const run = (watts: number) => {
    const { assembled } = byHand(thin(watts), TRIP);
    return { assembled, run: simulate(assembled.rig, TWO_DAYS) };
  };

  test.each([60, 90, 110, 120])(
    'of %s W has what arrives by the larger root, and loses the rest on the way',
    (watts) => {
      const { summary, loads, trace } = run(watts).run;
      const on = trace.batteryV.filter((_, i) => trace.loads[0]!.servedW[i]! > 0);
      const bus = on.reduce((sum, volts) => sum + volts, 0) / on.length;
      const volts = arrivesV(bus, ohm, watts);
      const lossW = watts * (bus / volts - 1);
      expect(loads[0]!.unservedWh).toBe(0);
      expect(Math.abs((summary.lossWh.loadCables! * watts) / loads[0]!.servedWh / lossW - 1)).toBeLessThan(0.01);
      expect(Math.abs(summary.ledgerErrorWh)).toBeLessThan(1e-6);
    },
  );

  test('does not run where no current brings its power, which is said with the cable that would', () => {
    const { assembled, run: done } = run(150); // 13.3² / 4 R is 132 W
    expect(done.loads[0]!.servedWh).toBe(0);
    expect(done.troubles[0]).toMatchObject({ code: 'load_off', level: 'bad', args: { name: 'box' } });
    expect(done.troubles[0]!.hours).toBeCloseTo(8, 6);
    expect(done.warnings.map(({ code }) => code)).toContain('load_cut_out');
    const [family] = remediesFor(assembled.rig, done)!;
    expect(family).toMatchObject({ against: ['load_off'], cure: { code: 'thicker_cable', args: { name: 'box' } } });
    const outcome = outcomeOf(assembled, { endAt: 'off' });
    expect(outcome.firstEnd?.cause).toBe('thin cable');
    expect(outcome.unservedHours).toBeCloseTo(8, 6);
    expect(outcome.unservedWh).toBeCloseTo(1200, 6);
  });

  test('is one of the loop’s by the load alone, so that it is the same on an empty grid', () => {
    expect(assembledFor(thin(60)).input.heavies).toBe(1);
    expect(assembledFor(thin(15)).input.heavies).toBe(0);
  });
});

describe('an inverter’s low-voltage cut-out', () => {
  const rig = (own = '', battery = 'chemistry: AGM, capacity: 60 Ah') =>
    `battery: { ${battery}, disconnect: 0 %, reconnect: 5 %, floor: 0 % }
inverter: { rating: 1000 W, standby: 0 W, on: with loads${own} }
loads: [{ name: kettle, power: 800 W, when: "12:00 to 13:00", inverter: true }, { name: lamp, power: 5 W }]`;
  const run = (text: string) => simulate(readRig(text).rig, TWO_DAYS);

  test('leaves the other loads on, and is its own cause', () => {
    const { troubles, loads, summary } = run(rig());
    expect(summary.hoursOff).toBe(0);
    const off = troubles.find(({ code }) => code === 'inverter_off')!;
    expect(off).toMatchObject({ level: 'bad', args: { loads: ['kettle'] } });
    const [kettle, lamp] = loads;
    expect(kettle!.unservedWh).toBeGreaterThan(100);
    expect(lamp!.unservedWh).toBe(0);
    expect(Math.abs(summary.ledgerErrorWh)).toBeLessThan(1e-6);
    expect(off.hours! * 800).toBeCloseTo(kettle!.unservedWh, 6);
  });

  test('comes later where it is lower or the battery larger, and not at all on a stiff one', () => {
    const unserved = (text: string) => run(text).loads[0]!.unservedWh;
    expect(unserved(rig(', cutOut: 11 V'))).toBeGreaterThan(unserved(rig(', cutOut: 10.5 V')));
    expect(unserved(rig('', 'chemistry: AGM, capacity: 400 Ah'))).toBe(0);
    expect(unserved(rig(', cable: { length: 10 m, section: 10 mm2 }', 'chemistry: LFP, capacity: 200 Ah'))).toBe(1600);
    expect(unserved(rig(', cable: { length: 1 m, section: 35 mm2 }', 'chemistry: LFP, capacity: 200 Ah'))).toBe(0);
  });

  test('counts as unserved in every study, with the same energies', () => {
    const { assembled } = byHand(rig(), TRIP);
    const outcome = outcomeOf(assembled, { endAt: 'off' });
    const whole = simulate(assembled.rig, TWO_DAYS, { stepH: 0.5 });
    expect(outcome.firstEnd?.cause).toBe('inverter');
    expect(outcome.unservedWh).toBeCloseTo(whole.summary.unservedWh, 6);
    expect(outcome.loadWh).toBeCloseTo(whole.summary.loadWh, 6);
    const open = openLoopOf(assembled);
    expect(open.heavyAskedW[0]![24]).toBe(800);
    const row = { ...byHand(rig(), TRIP).out };
    row.fridgeOnShare.fill(1);
    row.heavyOnShare[24] = 0.25;
    expect(unservedShare(open, row, 0, 24, 24)).toBe(0.75);
    expect(unservedShare(open, row, 0, 25, 25)).toBe(0);
  });

  test('has sound limits by the system’s voltage, and contradictions are said', () => {
    const of = (text: string) => readRig(text).rig.inverter!;
    expect(of(rig())).toMatchObject({ cutOutV: 10.5, cutInV: 12, surgeW: 2000 });
    expect(of(rig('', 'chemistry: AGM, capacity: 60 Ah, series: 2'))).toMatchObject({ cutOutV: 21, cutInV: 24 });
    expect(of(rig(', cutOut: 11.8 V'))).toMatchObject({ cutOutV: 11.8, cutInV: 12.3 });
    expect(() => of(rig(', cutOut: 12 V, cutIn: 11 V'))).toThrow(/cutIn 11 V must be above cutOut 12 V/);
    expect(() => of(rig(', surge: 500 W'))).toThrow(/surge 500 W must not be below the rating of 1000 W/);
  });
});

describe('the start of a motor behind the inverter', () => {
  const rig = (loads: string) =>
    readRig(`battery: { chemistry: LFP, capacity: 300 Ah }
inverter: { rating: 1000 W, surge: 1800 W }
loads: [${loads}]`).rig;
  const pump = (startW: number, when = '') =>
    `{ name: pump, power: 300 W, startPower: ${startW} W, hours: 0.2, inverter: true${when} }`;
  const kettle = (when = '') => `{ name: kettle, power: 600 W, hours: 0.2, inverter: true${when} }`;

  test('is too much where it takes more than the inverter gives for a moment', () => {
    expect(overloads(rig(pump(1800)))).toEqual([]);
    expect(overloads(rig(pump(1801)))).toEqual([
      { code: 'inverter_surge', args: { names: ['pump'], startW: 1801, surgeW: 1800 } },
    ]);
    expect(checkRig(rig(pump(1801))).find(({ code }) => code === 'inverter_surge')).toMatchObject({
      level: 'danger',
      path: 'loads[0]',
    });
  });

  test('is so beside what may run meanwhile', () => {
    const together = [{ code: 'inverter_surge', args: { names: ['pump', 'kettle'], startW: 2000, surgeW: 1800 } }];
    expect(overloads(rig(`${kettle()}, ${pump(1400)}`))).toEqual(together);
    expect(overloads(rig(`${kettle(', when: "08:00 to 09:00"')}, ${pump(1400, ', when: "10:00 to 11:00"')}`))).toEqual(
      [],
    );
  });

  test('is said by a run, with the inverter that would do', () => {
    const one = rig(`${kettle()}, ${pump(2400)}`);
    const run = simulate(one, TWO_DAYS);
    expect(run.troubles[0]).toMatchObject({ code: 'inverter_surge', level: 'bad' });
    expect(run.warnings[0]).toMatchObject({ code: 'inverter_surge', component: 'inverter' });
    // 600 + 2400 W are 1,667 W of rating at 1.8 times
    const [family] = remediesFor(one, run)!;
    expect(family!.cure).toMatchObject({ code: 'larger_inverter', args: { ratingW: 1700 } });
  });

  test('is given only for what runs behind the inverter', () => {
    expect(() => rig('{ name: pump, power: 30 W, startPower: 90 W }')).toThrow(/only a load behind the inverter/);
    expect(() => rig('{ name: pump, power: 90 W, startPower: 30 W, inverter: true }')).toThrow(/must not be below/);
  });
});
