import { expect, test } from 'vitest';
import { panelHours } from '../../../packages/core/src/log/replay/panel-hours.js';
import { itineraryFor } from '../../../packages/core/src/place/index.js';
import { withoutTrip } from '../../../packages/core/src/rig/index.js';

/** Days on which the panel gives `gives(hour, day)` of 100 W, or of what `offers`, between 6 and 18, and can be judged where `judged` says. */
function judgedBy(
  gives: (hour: number, day: number) => number,
  judged: (hour: number, day: number) => boolean = () => true,
  days = 8,
  offers: (hour: number) => number = () => 100,
) {
  const itinerary = itineraryFor(withoutTrip({ at: '40.1,18.4', from: '2026-06-01', days }), 0.5);
  const { grid } = itinerary;
  const hours = Array.from(itinerary.localHour);
  const day = (i: number) => Math.floor((i * grid.stepH) / 24);
  const offeredW = Float64Array.from(hours, (hour) => (hour > 6 && hour < 18 ? offers(hour) : 0));
  const harvestW = offeredW.map((watts, i) => watts * gives(hours[i]!, day(i)));
  const comparable = Uint8Array.from(hours, (hour, i) => (judged(hour, day(i)) ? 1 : 0));
  const replay = { conditions: { itinerary, grid }, steps: { harvestW } } as unknown as Parameters<
    typeof panelHours
  >[0];
  return panelHours(replay, offeredW, comparable);
}

const varied = (share: number, day: number) => share * (1 + 0.02 * ((day % 3) - 1));

test('an even loss: the same share in all hours, no block', () => {
  const { wholeDay, hours, blocks, judged } = judgedBy((_, day) => varied(0.8, day))!;
  expect(Math.abs(wholeDay.ratio - 0.8)).toBeLessThan(0.01);
  expect(hours.map(({ hour }) => hour)).toEqual([6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17]);
  for (const { lostShare } of hours) expect(lostShare).toBeCloseTo(1 / 12, 6);
  expect([blocks, judged]).toEqual([[], 1]);
});

test('shade until ten: a block, the open hours for themselves, and where it is lost', () => {
  const { wholeDay, openHours, blocks, hours } = judgedBy((hour, day) => varied(hour < 10 ? 0.2 : 0.9, day))!;
  expect(blocks).toHaveLength(1);
  expect(blocks[0]).toMatchObject({ side: 'morning', fromHour: 6, toHour: 10 });
  expect(Math.abs(blocks[0]!.ratio - 0.2)).toBeLessThan(0.01);
  expect(Math.abs(openHours.ratio - 0.9)).toBeLessThan(0.01);
  // 4 hours of 0.2 and 8 of 0.9, of 12
  expect(Math.abs(wholeDay.ratio - (4 * 0.2 + 8 * 0.9) / 12)).toBeLessThan(0.01);
  const lostEarly = hours.filter(({ hour }) => hour < 10).reduce((sum, { lostShare }) => sum + lostShare, 0);
  expect(lostEarly).toBeCloseTo((4 * 0.8) / (4 * 0.8 + 8 * 0.1), 1);
});

test('shade from four in the afternoon', () => {
  const { blocks } = judgedBy((hour, day) => varied(hour >= 16 ? 0.3 : 0.9, day))!;
  expect(blocks.map(({ side, fromHour, toHour }) => [side, fromHour, toHour])).toEqual([['evening', 16, 18]]);
});

test('all but the last light is no shade, nor is a day beside hours that give more than there can be', () => {
  // half of an array off, and a last light that models know badly
  const lastLight = (gives: number, watts: number) =>
    judgedBy(
      (hour, day) => varied(hour < 17 ? 0.5 : gives, day),
      undefined,
      undefined,
      (hour) => (hour < 17 ? 100 : watts),
    )!.blocks;
  expect(lastLight(1.1, 20)).toEqual([]);
  expect(lastLight(1.1, 100)).toHaveLength(1);
  expect(judgedBy((hour, day) => varied(hour < 15 ? 0.5 : 1.4, day))!.blocks).toEqual([]);
  expect(judgedBy((hour, day) => varied(hour < 15 ? 0.5 : 1, day))!.blocks).toHaveLength(1);
});

test('a battery that is full from eleven on leaves one open hour, and the shade still shows', () => {
  const { blocks, openHours, wholeDay, judged } = judgedBy(
    (hour, day) => varied(hour < 10 ? 0.2 : 0.9, day),
    (hour) => hour < 11,
  )!;
  expect(blocks.map(({ toHour }) => toHour)).toEqual([10]);
  expect(Math.abs(openHours.ratio - 0.9)).toBeLessThan(0.01);
  // hours that are never judged take the nearest judged hour's share
  expect(Math.abs(wholeDay.ratio - (4 * 0.2 + 8 * 0.9) / 12)).toBeLessThan(0.01);
  expect(judged).toBeCloseTo(5 / 12, 6);
});

test('hours that are judged on two days only are not judged', () => {
  expect(
    judgedBy(
      () => 0.8,
      (_, day) => day < 2,
    ),
  ).toBeUndefined();
});

test('the standard error is that of the scatter between days (ratio of sums, Cochran 1977, from memory)', () => {
  const shares = [0.7, 0.9, 0.8, 0.75, 0.85, 0.8, 0.7, 0.9];
  const { wholeDay } = judgedBy((_, day) => shares[day]!)!;
  const mean = shares.reduce((sum, one) => sum + one, 0) / 8;
  const byHand = Math.sqrt(shares.reduce((sum, one) => sum + (one - mean) ** 2, 0) / 7 / 8); // all days offer the same
  expect(wholeDay.standardError).toBeCloseTo(byHand, 6);
});
