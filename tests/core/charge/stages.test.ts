import { expect, test } from 'vitest';
import { ABSORPTION, BULK, chargeVoltage, FLOAT, nextStage } from '../../../packages/core/src/charge/index.js';
import { invented } from '../../published/battery-bank.js';

const lead = invented('AGM').charge;
const next = (over: Partial<Record<'stage' | 'hours' | 'limited' | 'amps' | 'volts' | 'newDay', number>>) =>
  nextStage(
    over.stage ?? BULK,
    over.hours ?? 0,
    over.limited ?? 0,
    over.amps ?? 10,
    over.volts ?? 13.5,
    over.newDay ?? 0,
    4,
    1.5,
    12.6,
  );

test('bulk ends when the voltage is reached, not before', () => {
  expect(next({ limited: 0 })).toBe(BULK);
  expect(next({ limited: 1 })).toBe(ABSORPTION);
});

test('absorption ends by its time or by the tail current', () => {
  expect(next({ stage: ABSORPTION, hours: 3.9, limited: 1 })).toBe(ABSORPTION);
  expect(next({ stage: ABSORPTION, hours: 4, limited: 1 })).toBe(FLOAT);
  expect(next({ stage: ABSORPTION, hours: 1, limited: 1, amps: 1.4 })).toBe(FLOAT);
});

test('a weak sun is no tail: a small current below the voltage does not end absorption', () => {
  expect(next({ stage: ABSORPTION, hours: 1, limited: 0, amps: 0.3 })).toBe(ABSORPTION);
});

test('float goes back to bulk below the re-bulk voltage or with a new day', () => {
  expect(next({ stage: FLOAT })).toBe(FLOAT);
  expect(next({ stage: FLOAT, volts: 12.5 })).toBe(BULK);
  expect(next({ stage: FLOAT, newDay: 1 })).toBe(BULK);
  expect(next({ stage: ABSORPTION, newDay: 1 })).toBe(BULK);
});

test('a tail current of 0 means time only', () => {
  expect(nextStage(ABSORPTION, 1, 1, 0, 14.4, 0, 4, 0, 12.6)).toBe(ABSORPTION);
});

test('compensation stops at −20 and 50 °C and at 15 V per 12 V', () => {
  const soft = { ...lead, absorptionV: 13, floatV: 12.5 };
  expect(chargeVoltage(soft, ABSORPTION, -40)).toBe(chargeVoltage(soft, ABSORPTION, -20));
  expect(chargeVoltage(lead, ABSORPTION, 70)).toBeCloseTo(14.4 - 0.024 * 25, 12);
  expect(chargeVoltage(lead, ABSORPTION, -20)).toBe(15);
  const bank24 = { ...lead, absorptionV: 28.8, floatV: 27, perDegreeV: -0.048 };
  expect(chargeVoltage(bank24, ABSORPTION, -20)).toBe(30);
});

test("the owner's own set point above 15 V stands, and float has its own", () => {
  expect(chargeVoltage({ ...lead, absorptionV: 15.5 }, BULK, 25)).toBe(15.5);
  expect(chargeVoltage(lead, FLOAT, 25)).toBe(13.5);
});

test('LFP is not compensated', () => {
  const lfp = invented('LFP').charge;
  for (const celsius of [-10, 5, 25, 45]) expect(chargeVoltage(lfp, ABSORPTION, celsius)).toBe(14.2);
});
