import { describe, expect, test } from 'vitest';
import { sunShift } from '../../../packages/core/src/log/replay/sun-shift.js';

const DAYS = 10;

/** Light of so many equal days, and a harvest that a clock shows some minutes late. */
function days(stepMin: number, lateMin: number) {
  const perDay = 1440 / stepMin;
  const light = (min: number) => Math.max(0, Math.sin(((min / 60 - 6) / 12) * Math.PI)) * 100;
  const at = (late: number) =>
    Float64Array.from({ length: DAYS * perDay }, (_, i) => {
      const day = Math.floor(i / perDay);
      // days differ, as they do under clouds
      return (0.5 + ((day * 7) % 10) / 20) * light((i % perDay) * stepMin - late);
    });
  return {
    steps: { harvestW: at(lateMin), grid: { stepH: stepMin / 60 } } as never,
    free: new Uint8Array(DAYS * perDay).fill(1),
    offeredW: at(0),
    dayOf: Int32Array.from({ length: DAYS * perDay }, (_, i) => Math.floor(i / perDay)),
  };
}

const shiftOf = (stepMin: number, lateMin: number) => {
  const { steps, free, offeredW, dayOf } = days(stepMin, lateMin);
  return sunShift(steps, free, offeredW, dayOf);
};

describe('clock of a log by the sun', () => {
  test.each([
    [5, 60],
    [10, -60],
    [10, 120],
    [30, 60],
  ])('rows of %d min, a clock %d min ahead', (stepMin, lateMin) => {
    const shift = shiftOf(stepMin, lateMin);
    expect(Math.abs(shift!.aheadMin - lateMin)).toBeLessThanOrEqual(10);
    expect(shift!.best).toBeGreaterThan(0.99);
  });

  test.each([
    [10, 0],
    [10, 10],
    [30, 30],
    [60, 60],
    [60, -60],
  ])('rows of %d min and %d min: what could be the stamps of its rows is no wrong clock', (stepMin, lateMin) => {
    expect(shiftOf(stepMin, lateMin)).toBeUndefined();
  });
});
