import { expect, test } from 'vitest';
import { fuseFor } from '../../../packages/core/src/wire/index.js';

test('the smallest rating that carries the load and protects the cable', () => {
  expect(fuseFor({ loadA: 8, ampacityA: 32 }).fuseA).toBe(10);
  expect(fuseFor({ loadA: 4, ampacityA: 32 }).fuseA).toBe(5);
});
test('none when the cable is too thin for it, and why', () => {
  const choice = fuseFor({ loadA: 28, ampacityA: 32 });
  expect(choice.fuseA).toBeNull();
  expect(choice.reason).toMatch(/35 A.*more than the cable's 32 A/);
});
test('none when no fuse is that large', () => {
  expect(fuseFor({ loadA: 450, ampacityA: 900 }).reason).toMatch(/split/);
});
test('refuses what is no current', () => {
  expect(() => fuseFor({ loadA: Number.NaN, ampacityA: 3 })).toThrow(RangeError);
  expect(() => fuseFor({ loadA: 3, ampacityA: -1 })).toThrow(RangeError);
});
