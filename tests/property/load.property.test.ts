import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  fridgeColumns,
  fridgeModel,
  inverterInputColumns,
  scheduleColumns,
  windowSpans,
} from '../../packages/core/src/load/index.js';
import type { ClockPoint } from '../../packages/core/src/rig/index.js';
import { changeDay, fridge, plainDay, scheduled, sum } from '../core/load/example.js';

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const point: fc.Arbitrary<ClockPoint> = fc.oneof(
  fc.integer({ min: 0, max: 24 * 60 }).map((minutes): ClockPoint => ({ kind: 'clock', hour: minutes / 60 })),
  fc.record({ kind: fc.constantFrom('sunrise' as const, 'sunset' as const), offsetH: real(-3, 3) }),
);
const windows = fc.array(fc.record({ from: point, to: point }), { maxLength: 3 });
const timing = fc.oneof(
  fc.constant({}),
  fc.record({ hoursPerDay: real(0, 24) }),
  fc.record({ timesPerDay: fc.integer({ min: 1, max: 30 }), lastsH: real(0, 1) }),
);
const day = fc.oneof(
  fc.constant(plainDay(0)),
  fc.constantFrom(23 as const, 25 as const).map(changeDay),
  fc.constantFrom('day' as const, 'night' as const).map((polar) => {
    const { sunriseMs: _up, sunsetMs: _down, ...rest } = plainDay(0);
    return { ...rest, polar };
  }),
);
const stepH = fc.constantFrom(1 / 60, 5 / 60, 1 / 6, 0.25, 0.5, 1);

test('over a civil day of 23, 24 or 25 hours a load is on for exactly the hours demanded', () => {
  fc.assert(
    fc.property(
      day,
      windows,
      timing,
      stepH,
      real(0, 1),
      real(0, 3),
      fc.option(fc.nat()),
      (d, when, hours, dt, share, use, seed) => {
        const load = scheduled({ when, share, ...hours });
        const steps = Math.round((d.endMs - d.startMs) / 3.6e6 / dt);
        const options = seed === null ? {} : { seed };
        const busy = { ...d, use: { lamp: use } };
        const { onShare } = scheduleColumns(load, [busy], { startMs: d.startMs, stepH: dt, steps }, options);
        const openH = windowSpans(when, d).reduce((total, span) => total + span.toMs - span.fromMs, 0) / 3.6e6;
        const { hoursPerDay = openH, timesPerDay, lastsH = 0 } = load;
        const wantedH = share * use * Math.min(openH, timesPerDay === undefined ? hoursPerDay : timesPerDay * lastsH);
        expect(Math.abs(sum(onShare) * dt - wantedH)).toBeLessThanOrEqual(1e-9 * (1 + wantedH));
        expect(onShare.every((s) => s >= 0 && s <= share * use * (1 + 1e-9))).toBe(true);
      },
    ),
  );
});

test('a grid cut in two demands what the whole does', () => {
  fc.assert(
    fc.property(windows, timing, fc.integer({ min: 1, max: 47 }), (when, hours, cut) => {
      const load = scheduled({ when, ...hours });
      const days = [plainDay(0), plainDay(1)];
      const part = (startStep: number, steps: number) =>
        scheduleColumns(load, days, { startMs: startStep * 3.6e6, stepH: 1, steps }).onShare;
      const joined = [...part(0, cut), ...part(cut, 48 - cut)];
      part(0, 48).forEach((s, i) => {
        expect(joined[i]).toBeCloseTo(s, 9);
      });
    }),
  );
});

const anyFridge = fc.record({
  volumeL: real(15, 120),
  setpointC: real(-22, 8),
  insulationMm: real(20, 90),
  cover: real(0, 0.6),
  compressorW: real(30, 90),
  contentKg: real(0, 40),
  openingsPerDay: fc.integer({ min: 0, max: 60 }),
});
const grid = { startMs: 0, stepH: 1, steps: 24 };

test('a fridge in a hotter room never uses less, by the open-loop columns', () => {
  fc.assert(
    fc.property(anyFridge, real(-20, 60), real(0, 30), (fields, roomC, hotterK) => {
      const load = fridge(fields);
      const model = fridgeModel(load);
      const used = (c: number) => {
        const [columns] = fridgeColumns(load, model, new Float64Array(24).fill(c), [plainDay(0)], grid);
        return sum(columns!.holdDuty.map((duty, i) => duty * columns!.electricW[i]!));
      };
      expect(used(roomC + hotterK)).toBeGreaterThanOrEqual(used(roomC) - 1e-9);
    }),
  );
});

test('an inverter takes more than it gives, gives no more than its rating, and more out never takes less in', () => {
  const inverter = fc.record({
    ratingW: real(100, 3000),
    standbyW: real(0, 30),
    efficiency: real(0.75, 0.97),
    on: fc.constantFrom('always' as const, 'with loads' as const),
    cutOutV: fc.constant(10.5),
    cutInV: fc.constant(12),
    surgeW: fc.constant(6000),
  });
  fc.assert(
    fc.property(inverter, real(0, 4000), real(0, 500), real(0.01, 1), (unit, acW, moreW, share) => {
      const columns = inverterInputColumns(unit, Float64Array.of(acW, acW + moreW), Float64Array.of(share, share));
      expect(columns.servedW[0]).toBeLessThanOrEqual(unit.ratingW * (1 + 1e-12));
      expect(columns.servedW[0]).toBeLessThanOrEqual(acW * (1 + 1e-12));
      expect(columns.inputW[0]).toBeGreaterThanOrEqual(columns.servedW[0]! + columns.standbyW[0]! - 1e-9);
      expect(columns.inputW[1]).toBeGreaterThanOrEqual(columns.inputW[0]! - 1e-9);
    }),
  );
});
