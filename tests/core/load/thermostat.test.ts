import { expect, test } from 'vitest';
import { foodSafeC, thermostatSwingK } from '../../../packages/core/src/load/index.js';

test('chilled food is warm above 5 °C, or above a set point that is warmer and its swing; frozen food above −15 °C', () => {
  expect(foodSafeC({ setpointC: 4 })).toBe(5);
  expect(foodSafeC({ setpointC: 4.5 }, 1)).toBe(5.5);
  expect(foodSafeC({ setpointC: 8 }, 1)).toBe(5);
  expect(foodSafeC({ setpointC: -18 })).toBe(-15);
});

test('a thermostat is seen to switch in steps of five minutes or less', () => {
  expect([1 / 60, 5 / 60, 0.1, 1 / 6].map(thermostatSwingK)).toEqual([1, 1, 0, 0]);
});
