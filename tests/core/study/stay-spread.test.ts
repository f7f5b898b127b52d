import { readRig, stayStudy } from '@stayput/core';
import { describe, expect, test } from 'vitest';
import { findPlace } from '../../../packages/core/src/place/index.js';
import {
  MADE_P10_OFF,
  madeSpread,
  sampledSpread,
  spreadAbout,
} from '../../../packages/core/src/study/stay/stay-spread.js';

describe('the spread of a P10', () => {
  test('for few years: that of the mean where years are single values far apart, by the bootstrap', () => {
    // ten years of one stay each: the P10 lies between the lowest two; alike years leave nothing open
    expect(sampledSpread(Array.from({ length: 10 }, () => [5, 6, 7]))).toBeCloseTo(0, 9);
    const apart = Array.from({ length: 10 }, (_, k) => [Math.exp(0.1 * k)]);
    const twice = apart.map(([days]) => [days! ** 2]);
    expect(sampledSpread(apart)).toBeGreaterThan(0.05);
    expect(sampledSpread(twice) / sampledSpread(apart)).toBeCloseTo(2, 1);
    const many = Array.from({ length: 4 }, () => apart).flat();
    expect(sampledSpread(many)).toBeLessThan(0.7 * sampledSpread(apart));
    expect(sampledSpread([[3]])).toBeNaN();
  });

  test('of made years is what leaving places out shows, and more where a place is like none of them', () => {
    const porto = findPlace('Porto');
    expect(madeSpread(porto, porto.climate)).toBe(MADE_P10_OFF);
    expect(madeSpread({ ...porto, latDeg: 80 }, porto.climate)).toBeGreaterThan(1.5 * MADE_P10_OFF);
    // by the definition: 1200 m above the highest known place the variance is twice as large
    expect(madeSpread({ ...porto, elevationM: 3560 }, porto.climate)).toBeCloseTo(Math.SQRT2 * MADE_P10_OFF, 9);
  });

  test('is told in days, not below a stay in the dark nor above the horizon', () => {
    expect(spreadAbout(10, 0, 2, 60)).toEqual([10, 10]);
    expect(spreadAbout(10, 0.2, 9, 60)[0]).toBe(9);
    expect(spreadAbout(50, 0.3, 2, 60)[1]).toBe(60);
    expect(spreadAbout(60, 0.3, 2, 60)[1]).toBe(60);
  });
});

test('stay tells how many years are behind each month and between what its P10 lies', () => {
  const { rig } = readRig(`
battery: { chemistry: LFP, capacity: 60 Ah }
solar: [{ power: 100 W }]
loads: [{ name: fan, current: 1.2 A }]
`);
  const options = { months: [3, 10], stepH: 1 };
  const { months, weatherYears } = stayStudy(rig, { place: 'Porto' }, { ...options, years: 4 });
  expect(weatherYears).toBe(4);
  for (const month of months) {
    expect(month.weatherYears).toBe(4);
    expect(month.parkedDaysP10Low!).toBeLessThanOrEqual(month.parkedDaysP10);
    expect(month.parkedDaysP10High!).toBeGreaterThanOrEqual(month.parkedDaysP10);
  }
  const clear = stayStudy(rig, { place: 'Porto' }, { ...options, weather: { kind: 'clear' } });
  expect(clear.months[0]!.parkedDaysP10Low).toBeUndefined();
});
