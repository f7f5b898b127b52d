import { conditionsFor, readTrip } from '@stayput/core';
import { describe, expect, test } from 'vitest';
import {
  controllerLane,
  lightReads,
  planeOfArray,
  type SolarLane,
  solarLane,
} from '../../../packages/core/src/simulate/inputs/assemble-solar.js';
import { madeHours, rigOf } from './made-hours.js';

const LFP = 'battery: { chemistry: LFP, capacity: 100 Ah }';
const HOURS = 24;
const hours = Array.from({ length: HOURS }, (_, hour) => hour);
const arrayOf = (fields: string) => rigOf(`${LFP}\nsolar: [{ power: 200 W${fields && `, ${fields}`} }]`).solar[0]!;
const lit = (fields: string, stop = '', albedo = '') => {
  const rig = rigOf(`${LFP}\n${albedo}\nsolar: [{ power: 200 W${fields && `, ${fields}`} }]`);
  const conditions = madeHours(rig, {}, stop);
  return { ...planeOfArray(rig.solar[0]!, rig, conditions), conditions };
};
const laneOf = (fields: string, stop = '') => {
  const rig = rigOf(`${LFP}\nsolar: [{ power: 200 W${fields && `, ${fields}`} }]`);
  return solarLane(rig.solar[0]!, rig, madeHours(rig, {}, stop), 12);
};
const window = (from: string, to: string, keeps: number) => `{ from: "${from}", to: "${to}", keeps: ${keeps} % }`;

describe('shade by the clock', () => {
  test('takes its share of the hours it covers, a part of an hour by that part', () => {
    const { shaded, plane } = lit(`shade: [${window('07:00', '10:15', 35)}]`);
    const expected = hours.map((hour) => (hour >= 7 && hour < 10 ? 0.65 : hour === 10 ? 0.65 / 4 : 0));
    shaded!.forEach((share, hour) => {
      expect(share, `${hour} h`).toBeCloseTo(expected[hour]!, 12);
    });
    const open = lit('').plane;
    plane.beamWm2.forEach((beam, hour) => {
      expect(beam, `${hour} h`).toBeCloseTo(open.beamWm2[hour]! * (1 - expected[hour]!), 9);
    });
    expect(Math.max(...open.beamWm2)).toBeGreaterThan(500);
  });

  test('across midnight, and where two windows meet the deeper shade counts', () => {
    const { shaded } = lit(`shade: [${window('22:00', '01:30', 0)}, ${window('01:00', '03:00', 60)}]`);
    const expected = hours.map((hour) => (hour >= 22 || hour < 1 ? 1 : hour === 1 ? 0.5 : hour === 2 ? 0.4 : 0));
    shaded!.forEach((share, hour) => {
      expect(share, `${hour} h`).toBeCloseTo(expected[hour]!, 12);
    });
    const deep = lit(`shade: [${window('08:00', '09:00', 20)}, ${window('08:00', '09:00', 70)}]`).shaded!;
    expect(deep[8]!).toBeCloseTo(0.8, 12);
  });

  test('is none without a window', () => {
    expect(lit('')).not.toHaveProperty('shaded');
    expect(laneOf('')).not.toHaveProperty('shaded');
  });

  test('begins within a step of any length', () => {
    const { trip } = readTrip(
      '{ name: invented, weather: clear, stops: [{ at: [45, 0], zone: UTC, from: 2026-06-15, nights: 1 }] }',
    );
    const rig = rigOf(`${LFP}\nsolar: [{ power: 200 W, shade: [${window('07:15', '08:10', 0)}] }]`);
    for (const stepH of [1 / 12, 0.25, 0.5]) {
      const { shaded } = planeOfArray(rig.solar[0]!, rig, conditionsFor(rig, trip, { stepH }));
      expect(shaded!.reduce((sum, share) => sum + share * stepH, 0)).toBeCloseTo(55 / 60, 9);
      expect(shaded![Math.round(7.5 / stepH)]!).toBeCloseTo(1, 9);
    }
  });

  test('in a hard edge costs more than the light it takes: half a panel in shadow gives less than half a beam on all of it', () => {
    const hard = laneOf(`shade: [${window('11:00', '12:00', 50)}]`);
    const soft = laneOf('', ', shade: 50 %, skyShade: 0 %');
    expect(hard.plane.poaWm2[11]!).toBeCloseTo(soft.plane.poaWm2[11]!, 6);
    expect(hard.columns.availableW[11]!).toBeLessThan(0.95 * soft.columns.availableW[11]!);
    expect(hard.columns.availableW[11]!).toBeGreaterThan(0);
    expect(hard.shaded![11]!).toBeCloseTo(0.5, 12);
  });

  test('comes on top of what the stop’s trees take', () => {
    const open = lit('').plane.beamWm2;
    const trees = lit('', ', shade: 40 %').plane.beamWm2;
    const both = lit(`shade: [${window('11:00', '12:00', 50)}]`, ', shade: 40 %').plane.beamWm2;
    expect(trees[11]!).toBeCloseTo(0.6 * open[11]!, 9);
    expect(both[11]!).toBeCloseTo(0.3 * open[11]!, 9);
    expect(both[12]!).toBeCloseTo(trees[12]!, 12);
  });
});

describe('light on a plane', () => {
  const wall = 'horizon: [{ azimuth: 0 deg, elevation: 80 deg }, { azimuth: 180 deg, elevation: 80 deg }]';
  const low = 'horizon: [{ azimuth: 0 deg, elevation: 0 deg }]';
  const beamWh = (of: { plane: SolarLane['plane'] }) => of.plane.beamWm2.reduce((sum, wm2) => sum + wm2, 0);

  test('lies flat as the sky’s, every column of it', () => {
    const { plane, conditions } = lit('');
    conditions.weather.ghiWm2.forEach((ghi, hour) => {
      expect(plane.poaWm2[hour]!).toBeCloseTo(ghi, 9);
      expect(plane.beamWm2[hour]! + plane.skyDiffuseWm2[hour]! + plane.groundWm2[hour]!).toBeCloseTo(ghi, 9);
      if (ghi > 300) expect(plane.effectiveWm2[hour]! / ghi).toBeGreaterThan(0.85);
      expect(plane.effectiveWm2[hour]!).toBeLessThanOrEqual(ghi);
      const cosZenith = conditions.sun.cosZenith[hour]!;
      if (plane.beamWm2[hour]! > 0) expect(plane.cosIncidence[hour]!).toBeCloseTo(cosZenith, 9);
    });
  });

  test('ends at the stop’s skyline, or at the array’s own where it has one', () => {
    expect(beamWh(lit(''))).toBeGreaterThan(4000);
    expect(beamWh(lit('', `, ${wall}`))).toBe(0); // no sun stands at 80° there
    expect(beamWh(lit(wall))).toBe(0);
    expect(beamWh(lit(low, `, ${wall}`))).toBeCloseTo(beamWh(lit('')), 6);
  });

  test('of the ground grows with how bright that is, and with the tilt', () => {
    // ρ · GHI · (1 − cos 60°)/2, isotropic: Liu & Jordan 1963
    const { plane, conditions } = lit('tilt: 60 deg', '', 'albedo: 60 %');
    expect(plane.groundWm2[12]!).toBeCloseTo(0.6 * conditions.weather.ghiWm2[12]! * 0.25, 6);
    expect(lit('', '', 'albedo: 60 %').plane.groundWm2[12]!).toBe(0);
  });

  test('falls on the side that it looks to, and on a panel turned to the sun all day', () => {
    const morning = (of: { plane: SolarLane['plane'] }) => of.plane.poaWm2[7]! / of.plane.poaWm2[17]!;
    expect(morning(lit('tilt: 60 deg, azimuth: 90 deg'))).toBeGreaterThan(2);
    expect(morning(lit('tilt: 60 deg, azimuth: 270 deg'))).toBeLessThan(0.5);
    const turned = beamWh(lit('tilt: 60 deg, azimuth: 90 deg, reaimed: 6'));
    expect(turned).toBeGreaterThan(1.1 * beamWh(lit('')));
  });

  test('changes with the stop, each stop at its own skyline', () => {
    const rig = rigOf(`${LFP}\nsolar: [{ power: 200 W }]`);
    const next = `}, { at: [45, 0], zone: UTC, nights: 1, ${wall}`;
    const { plane } = planeOfArray(rig.solar[0]!, rig, madeHours(rig, {}, next));
    expect(plane.beamWm2).toHaveLength(2 * HOURS);
    expect(Math.max(...plane.beamWm2.subarray(0, HOURS))).toBeGreaterThan(500);
    expect(Math.max(...plane.beamWm2.subarray(HOURS))).toBe(0);
  });

  test('is shared by arrays that stand alike: flat, they face no way', () => {
    const reads = (fields: string) => JSON.stringify(lightReads(arrayOf(fields), { albedo: 0.2 }));
    expect(reads('azimuth: 90 deg')).toBe(reads('azimuth: 180 deg'));
    expect(reads('count: 2')).toBe(reads(''));
    expect(reads('tilt: 30 deg, azimuth: 90 deg')).not.toBe(reads('tilt: 30 deg, azimuth: 180 deg'));
    for (const other of ['tilt: 30 deg', 'reaimed: 2', low, `shade: [${window('08:00', '09:00', 20)}]`])
      expect(reads(other), other).not.toBe(reads(''));
  });
});

describe('a controller', () => {
  /** An array that has 100 W at each of these voltages. */
  const at = (volts: readonly number[], fields: string, nominalV = 12) => {
    const count = nominalV === 24 ? ', count: 2, series: 2' : '';
    const rig = rigOf(
      `${LFP.replace(' }', `, series: ${nominalV / 12} }`)}\nsolar: [{ power: 200 W${count}, ${fields} }]`,
    );
    const columns = {
      availableW: new Float64Array(volts.length).fill(100),
      voltageV: Float64Array.from(volts),
      cellC: new Float64Array(volts.length).fill(25),
    };
    return controllerLane(rig.solar[0]!, { plane: lit('').plane }, columns, nominalV);
  };
  const works = (lane: SolarLane) => [...lane.maxOutputW].map((watts) => watts > 0);

  test('MPPT wakes when the open string is its margin above a charging battery, and runs on while it is a volt above', () => {
    // 13.3 V of a battery under charge and 5 V: open at 18.3 V, so 15.006 V at work by 0.82 (common practice, no source)
    expect(works(at([14, 15, 15.01, 20], 'controller: { kind: MPPT, startMargin: 5 V }'))).toEqual([
      false,
      false,
      true,
      true,
    ]);
    // without a margin it is the volt above the battery that counts
    expect(works(at([14.2, 14.31, 20], 'controller: { kind: MPPT, startMargin: 0 V }'))).toEqual([false, true, true]);
    // and on 24 V twice the battery's voltage, but the same margins
    expect(works(at([27.5, 27.7, 29], 'controller: { kind: MPPT, startMargin: 5 V }', 24))).toEqual([
      false,
      true,
      true,
    ]);
    expect(works(at([30, 30.1], 'controller: { kind: MPPT, startMargin: 10 V }', 24))).toEqual([false, true]);
  });

  test('MPPT gives what comes through the cable, less what it takes itself', () => {
    const lane = at([20], 'controller: { kind: MPPT, current: 20 A }, cable: { length: 6 m, section: 2.5 mm2 }');
    const short = at([20], 'controller: { kind: MPPT, current: 20 A }');
    const throughCable = 100 - 5 ** 2 * lane.cableOhm;
    expect(lane.maxOutputW[0]!).toBeLessThan(0.975 * throughCable);
    expect(lane.maxOutputW[0]!).toBeGreaterThan(0.93 * throughCable);
    expect(short.maxOutputW[0]!).toBeGreaterThan(lane.maxOutputW[0]!);
  });

  test('of a whole lane stands on the bank’s voltage', () => {
    const rig = rigOf(`${LFP}\nsolar: [{ power: 200 W, controller: { kind: PWM } }]`);
    const firstV = (nominalV: number) =>
      solarLane(rig.solar[0]!, rig, madeHours(rig), nominalV).columns.currentAtV!.voltagesV[0];
    expect([firstV(12), firstV(24)]).toEqual([10, 20]);
  });

  test('PWM has no output of its own: it lets the array’s current through', () => {
    const lane = at([20, 20], 'controller: { kind: PWM }');
    expect([...lane.maxOutputW]).toEqual([0, 0]);
    expect(lane).not.toHaveProperty('converter');
  });
});
