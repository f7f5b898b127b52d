import { describe, expect, test } from 'vitest';
import { climateReads } from '../../../packages/core/src/simulate/inputs/assemble-battery.js';
import { assembledFor, copperOhm, rigOf } from './made-hours.js';

const LFP = 'battery: { chemistry: LFP, capacity: 100 Ah, thermalLag: 0 h';

describe('how warm the battery is', () => {
  const air = {
    ambientC: (hour: number) => hour,
    cabinC: (hour: number) => 40 - hour,
    driving: (hour: number) => (hour === 9 ? 0.4 : 0),
  };
  const cellsOf = (stands: string, rest = '') => [...assembledFor(`${LFP}, stands: ${stands}${rest} }`, air).batteryC];
  const hours = Array.from({ length: 24 }, (_, hour) => hour);

  test('is the air where it stands, once it has followed; an engine bay is 25 K warmer while the engine runs', () => {
    expect(cellsOf('cabin')).toEqual(hours.map((hour) => 40 - hour));
    expect(cellsOf('outside')).toEqual(hours);
    // common practice, no source: 25 K, for two fifths of that hour
    expect(cellsOf('engine bay')).toEqual(hours.map((hour) => (hour === 9 ? 19 : hour)));
  });

  test('follows with its lag: after an hour of a step in the air, 1 − e^(−1/lag) of it is done', () => {
    const yaml = LFP.replace('thermalLag: 0 h', 'thermalLag: 2 h');
    const { batteryC } = assembledFor(`${yaml}, stands: outside }`, { ambientC: (hour) => (hour < 12 ? 0 : 24) });
    // it begins at the mean of the day, 12 °C; means over an hour of 12·e^(−t/2)
    const mean = (from: number) => 12 * 2 * (Math.exp(-from / 2) - Math.exp(-(from + 1) / 2));
    for (let hour = 0; hour < 12; hour++) expect(batteryC[hour]!).toBeCloseTo(mean(hour), 9);
  });

  test('a heater keeps it warm, and draws ahead of the disconnect; without one nothing is drawn for it', () => {
    const cold = { ambientC: -10 };
    const slow = LFP.replace('0 h', '4 h');
    const heated = assembledFor(`${slow}, stands: outside, heater: { power: 60 W, below: 3 degC } }`, cold);
    const bare = assembledFor(`${LFP}, stands: outside }`, cold);
    expect(Math.min(...heated.batteryC.subarray(6))).toBeGreaterThan(2.9);
    expect(Math.max(...bare.batteryC)).toBe(-10);
    expect(bare).not.toHaveProperty('heaterW');
    expect([...bare.input.unswitchedW]).toEqual(hours.map(() => 0));
    expect([...heated.input.unswitchedW]).toEqual([...heated.heaterW!]);
    expect(Math.max(...heated.heaterW!)).toBeGreaterThan(1);
  });

  test('with a heater it looks at the whole battery, else only at where that stands and how slowly it follows', () => {
    const reads = (rest: string) => JSON.stringify(climateReads(rigOf(`${LFP}${rest} }`).battery));
    expect(reads(', count: 2')).toBe(reads(''));
    for (const other of [', stands: outside', ', heater: { power: 60 W }'])
      expect(reads(other), other).not.toBe(reads(''));
    expect(JSON.stringify(climateReads(rigOf(LFP.replace('0 h', '1 h').concat(' }')).battery))).not.toBe(reads(''));
    expect(reads(', heater: { power: 60 W }, count: 2')).not.toBe(reads(', heater: { power: 60 W }'));
  });
});

describe('what the cells’ temperature makes of it', () => {
  // 0, 0.1, 0.25 and 1 C by temperature, none above 50 °C; common data-sheet limits, from memory
  const cellsC = [-5, 0, 4.9, 5, 9.9, 10, 25, 50, 51];
  const amps = [0, 10, 10, 25, 25, 100, 100, 100, 0];
  const at = (rest: string) =>
    assembledFor(`${LFP}, stands: outside${rest} }`, { ambientC: (hour) => cellsC[hour % 9]! }).input;

  test('the charge it bears, with no more than its management allows, and whether cold or heat is what limits it', () => {
    const free = at(', maxCharge: 100 A');
    const managed = at(', maxCharge: 25 A');
    const strong = at(', maxCharge: 400 A');
    cellsC.forEach((_, hour) => {
      expect(free.chargeLimitA[hour]!).toBeCloseTo(amps[hour]!, 9);
      expect(free.coldLimited[hour]).toBe(amps[hour]! < 100 ? 1 : 0);
      expect(managed.chargeLimitA[hour]!).toBeCloseTo(Math.min(25, amps[hour]!), 9);
      expect(managed.coldLimited[hour]).toBe(amps[hour]! < 25 ? 1 : 0);
      // what its cells bear when warm is a rating too
      expect(strong.chargeLimitA[hour]!).toBeCloseTo(amps[hour]!, 9);
      expect(strong.coldLimited[hour]).toBe(amps[hour]! < 100 ? 1 : 0);
    });
  });

  test('its printed resistance and wells at 25 °C, in the cold more of the one and slower wells', () => {
    const { resistanceFactor, chargeFactor, wellPerH, wellShare } = at('');
    expect(resistanceFactor[6]).toBeCloseTo(1, 12);
    expect(chargeFactor[6]).toBeCloseTo(1, 12);
    expect(resistanceFactor[0]!).toBeGreaterThan(1.5);
    expect(wellPerH[0]! / wellPerH[6]!).toBeCloseTo(1 / resistanceFactor[0]!, 12);
    expect(wellShare[0]).toBe(wellShare[6]);
  });

  test('of lead-acid a smaller available well too, and less that it accepts', () => {
    const { resistanceFactor, chargeFactor, wellShare } = assembledFor(
      'battery: { chemistry: AGM, capacity: 100 Ah, stands: outside, thermalLag: 0 h }',
      { ambientC: (hour) => (hour < 12 ? 0 : 25) },
    ).input;
    expect(wellShare[0]! / wellShare[12]!).toBeCloseTo(1 - 25 * 0.009, 12);
    expect(chargeFactor[0]!).toBeGreaterThan(resistanceFactor[0]!);
    expect(chargeFactor[12]!).toBeCloseTo(1, 12);
  });

  test('an hour’s step adds to what its acceptance resists, as the current falls meanwhile', () => {
    const { chargeOhm, chargeStepOhm, points } = assembledFor('battery: { chemistry: AGM, capacity: 100 Ah }').input;
    const place = Math.round(0.9 * (points - 1));
    // the mean of e^(−λt) over an hour, λ = 0.85 of (0.125 − 0.003)/0.1 = 1.22 an hour: (1 − e^−λ)/λ
    const perH = 0.85 * 1.22;
    expect(1 + chargeStepOhm[place]! / chargeOhm[place]!).toBeCloseTo(perH / -Math.expm1(-perH), 6);
  });

  test('self-discharge doubles in ten kelvin, from what is told at 20 °C', () => {
    const { selfDischargeA } = assembledFor(`${LFP}, count: 2, stands: outside, selfDischarge: 3 % }`, {
      ambientC: (hour) => hour + 10,
    }).input;
    // what loses 3 % in a month of 730.5 h, left alone, loses −ln(0.97) of what it holds in that time
    const amps = (200 * -Math.log(0.97)) / 730.5;
    expect(selfDischargeA[10]!).toBeCloseTo(amps, 9);
    expect(selfDischargeA[20]!).toBeCloseTo(2 * amps, 9);
    expect(selfDischargeA[0]!).toBeCloseTo(amps / 2, 9);
  });
});

describe('the bank as the loop takes it', () => {
  test('a limit by charge or by voltage, and the other kind never reached', () => {
    const limits = (rest: string) => {
      const { disconnectSoc, disconnectV, reconnectSoc, reconnectV } = assembledFor(`${LFP}, ${rest} }`).input;
      return { disconnectSoc, disconnectV, reconnectSoc, reconnectV };
    };
    const bySoc = limits('disconnect: 12 %, reconnect: 17 %');
    expect(bySoc).toMatchObject({ disconnectSoc: 0.12, reconnectSoc: 0.17 });
    expect(bySoc.disconnectV).toBe(0); // no bus is below
    expect(bySoc.reconnectV).toBeGreaterThan(1000); // nor above
    const byVolts = limits('disconnect: 11.5 V, reconnect: 12.6 V');
    expect(byVolts).toMatchObject({ disconnectV: 11.5, reconnectV: 12.6 });
    expect(byVolts.disconnectSoc).toBeLessThan(0);
    expect(byVolts.reconnectSoc).toBeGreaterThan(1);
    expect(limits('disconnect: 11.5 V, reconnect: 30 %')).toMatchObject({ disconnectV: 11.5, reconnectSoc: 0.3 });
  });

  test('its size, its cable, its limits and how full it is at the start', () => {
    const { input } = assembledFor(
      `${LFP}, count: 3, health: 80 %, maxDischarge: 150 A, cable: { length: 2 m, section: 16 mm2 } }`,
      {},
      0.7,
    );
    expect(input).toMatchObject({
      capacityAh: 240,
      maxDischargeA: 150,
      startSoc: 0.7,
      emptySoc: 0,
      steps: 24,
      stepH: 1,
    });
    expect(input.mainOhm).toBeCloseTo(copperOhm(2, 1.21), 9);
    expect(input.ocvV).toHaveLength(input.points);
  });
});
