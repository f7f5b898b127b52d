import { expect, test } from 'vitest';
import {
  alternatorColumns,
  dcdcInputA,
  dcdcMaxInputA,
  mainsColumns,
  mainsInputW,
} from '../../../packages/core/src/charge/index.js';
import type { Alternator } from '../../../packages/core/src/rig/types.js';

const alternator: Alternator = {
  ratingA: 120,
  voltageV: 14.2,
  vehicleA: 30,
  hotShare: 0.7,
  idleShare: 0.4,
  charger: { kind: 'relay', resistanceOhm: 0.005 },
};

test('nothing is offered with the engine off', () => {
  const columns = alternatorColumns(alternator, { drivingShare: Float64Array.of(0, 1) });
  expect([...columns.availableA]).toEqual([0, expect.closeTo(54, 10)]);
  expect([...columns.terminalV]).toEqual([0, 14.2]);
});

test('half a step of driving halves the share, not the limit', () => {
  const columns = alternatorColumns(alternator, { drivingShare: Float64Array.of(0.5) });
  expect(columns.availableA[0]).toBeCloseTo(54, 10);
  expect(columns.engineShare[0]).toBe(0.5);
});

test('idling gives less than the road; both in one step are averaged by time', () => {
  const columns = alternatorColumns(alternator, {
    drivingShare: Float64Array.of(0, 0.5),
    idlingShare: Float64Array.of(1, 0.5),
  });
  expect(columns.availableA[0]).toBeCloseTo(18, 10);
  expect(columns.availableA[1]).toBeCloseTo(36, 10);
});

test('heat takes output, cold gives some, never more than the rating', () => {
  const at = (celsius: number, hotShare = 0.7) =>
    alternatorColumns(
      { ...alternator, hotShare, vehicleA: 0 },
      { drivingShare: Float64Array.of(1), ambientC: Float64Array.of(celsius) },
    ).availableA[0]!;
  expect(at(45)).toBeCloseTo(120 * 0.7 * 0.92, 10);
  expect(at(5)).toBeGreaterThan(at(25));
  expect(at(-20, 0.95)).toBe(120);
});

test('a vehicle that takes all leaves nothing, not less', () => {
  const columns = alternatorColumns({ ...alternator, vehicleA: 100 }, { drivingShare: Float64Array.of(1) });
  expect(columns.availableA[0]).toBe(0);
});

test('variable-voltage regulation is taken at its low voltage', () => {
  const columns = alternatorColumns({ ...alternator, lowVoltageV: 12.4 }, { drivingShare: Float64Array.of(1) });
  expect(columns.terminalV[0]).toBe(12.4);
});

test('columns of different length are refused', () => {
  const engine = { drivingShare: new Float64Array(3), ambientC: new Float64Array(2) };
  expect(() => alternatorColumns(alternator, engine)).toThrow(RangeError);
});

test('a DC-DC charger balances: alternator power is output, its own loss and the cable', () => {
  const [efficiency, terminalV, ohm, outW] = [0.92, 13.8, 0.04, 300] as const;
  const inputA = dcdcInputA(outW, efficiency, terminalV, ohm);
  expect(terminalV * inputA).toBeCloseTo(outW / efficiency + inputA * inputA * ohm, 9);
});

test('a DC-DC charger stops below its input cut-out', () => {
  expect(dcdcMaxInputA(60, 12.4, 13, 0)).toBe(0);
  expect(dcdcMaxInputA(60, 13, 13, 0.02)).toBe(0);
  expect(dcdcMaxInputA(60, 0, 0, 0.02)).toBe(0);
});

test('a long thin cable limits by the drop before the alternator does', () => {
  expect(dcdcMaxInputA(100, 14, 12, 0.1)).toBeCloseTo(20, 10);
  expect(dcdcMaxInputA(100, 14, 3, 0.1)).toBeCloseTo(70, 10); // half the voltage lost: the most that the cable carries
});

test('mains: the rating while connected, and its power from the socket', () => {
  const mains = { currentA: 20, efficiency: 0.9 };
  expect([...mainsColumns(mains, Float64Array.of(0, 0.25, 1)).availableA]).toEqual([0, 20, 20]);
  expect(mainsInputW(mains, 270)).toBeCloseTo(300, 10);
});

test('a compensated regulator holds less in heat, by the air of the engine bay 25 K above the outside', () => {
  const volts = (celsius: number) =>
    alternatorColumns(
      { ...alternator, perDegreeV: -0.01 },
      { drivingShare: Float64Array.of(1), ambientC: Float64Array.of(celsius) },
    ).terminalV[0]!;
  expect(volts(0)).toBeCloseTo(14.2, 10);
  expect(volts(25)).toBeCloseTo(13.95, 10);
  expect(volts(-20)).toBeCloseTo(14.4, 10);
});
