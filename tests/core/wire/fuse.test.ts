import { expect, test } from 'vitest';
import { fuseFor } from '../../../packages/core/src/wire/index.js';

test('the smallest rating that carries the load and protects the cable', () => {
  expect(fuseFor({ loadA: 8, ampacityA: 32 }).fuseA).toBe(10);
  expect(fuseFor({ loadA: 4, ampacityA: 32 }).fuseA).toBe(5);
});
test('no smaller than the start-up current, as far as the cable stays protected', () => {
  // ISO 8820-3, from memory: a blade fuse may open within 0.15 s at twice its rating, and must hold 110 % for 100 h
  expect(fuseFor({ loadA: 2.1, ampacityA: 27.7, startA: 8 }).fuseA).toBe(10);
  expect(fuseFor({ loadA: 2.1, ampacityA: 27.7, startA: 60 }).fuseA).toBe(25);
  expect(fuseFor({ loadA: 2.1, ampacityA: 27.7, startA: 9000 }).fuseA).toBe(25);
  expect(fuseFor({ loadA: 8, ampacityA: 32, startA: 3 }).fuseA).toBe(10);
  expect(fuseFor({ loadA: 28, ampacityA: 32, startA: 30 }).fuseA).toBeNull();
});
test('none when the cable is too thin for it, and why', () => {
  const choice = fuseFor({ loadA: 28, ampacityA: 32 });
  expect(choice).toEqual({ fuseA: null, lacks: 'ampacity', smallestA: 35 });
});
test('none when no fuse is that large', () => {
  expect(fuseFor({ loadA: 450, ampacityA: 900 })).toEqual({ fuseA: null, lacks: 'rating', smallestA: null });
});
test('refuses what is no current', () => {
  expect(() => fuseFor({ loadA: 3, ampacityA: 9, startA: -1 })).toThrow(RangeError);
  expect(() => fuseFor({ loadA: Number.NaN, ampacityA: 3 })).toThrow(RangeError);
  expect(() => fuseFor({ loadA: 3, ampacityA: -1 })).toThrow(RangeError);
});
