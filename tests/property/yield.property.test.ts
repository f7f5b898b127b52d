import fc from 'fast-check';
import { expect, test } from 'vitest';
import { solarLane } from '../../packages/core/src/simulate/index.js';
import { weatherCases, yieldStudy } from '../../packages/core/src/study/index.js';
import { calendarOf } from '../../packages/core/src/study/run/calendar.js';
import { arrayYieldWh } from '../../packages/core/src/study/yield/array-year.js';
import { tilted } from '../../packages/core/src/study/yield/best-tilt.js';
import { someRig } from '../core/study/rig-fixture.js';

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const at = (latDeg: number, lonDeg = 0) => ({ at: { latDeg, lonDeg }, elevationM: 100 });
const mount = fc.constantFrom('bonded' as const, 'gap' as const, 'rack' as const, 'ground' as const);

test.each([
  { latDeg: 50, winter: [11, 0, 1] },
  { latDeg: -50, winter: [5, 6, 7] },
])(
  'at $latDeg° under a clear sky more tilt toward the equator, up to 60°, never yields less in winter',
  ({ latDeg, winter }) => {
    const rig = someRig();
    const conditions = weatherCases(rig, at(latDeg), { weather: { kind: 'clear' }, stepH: 1 }).conditions(0);
    const calendar = calendarOf(conditions.itinerary);
    fc.assert(
      fc.property(real(0, 60), real(0, 60), mount, (a, b, on) => {
        const wh = [Math.min(a, b), Math.max(a, b)].map((tiltDeg) =>
          arrayYieldWh(tilted({ ...rig.solar[0]!, mount: on }, tiltDeg, latDeg), rig, conditions, calendar),
        );
        for (const month of winter) expect(wh[1]![month]!).toBeGreaterThanOrEqual(wh[0]![month]! * (1 - 1e-9));
      }),
      { numRuns: 40 },
    );
  },
);

test('power never exceeds nameplate by more than a cold cell and a bright cloud explain, and there is nothing at night', () => {
  fc.assert(
    fc.property(
      real(-70, 75),
      real(-180, 180),
      real(0, 90),
      real(0, 359),
      mount,
      fc.integer({ min: 0, max: 999 }),
      (latDeg, lonDeg, tiltDeg, azimuthDeg, on, seed) => {
        const rig = someRig({ tiltDeg, azimuthDeg, mount: on });
        const conditions = weatherCases(rig, at(latDeg, lonDeg), { seed, stepH: 1 }).conditions(0);
        const { plane, columns, maxOutputW } = solarLane(rig.solar[0]!, rig, conditions, 12);
        const { powerW } = rig.solar[0]!;
        let [most, night] = [0, 0];
        for (let i = 0; i < conditions.grid.steps; i++) {
          const cold = 1 + 0.0045 * Math.max(0, 25 - columns.cellC[i]!);
          const bright = Math.max(1, plane.poaWm2[i]! / 1000);
          most = Math.max(most, columns.availableW[i]! / (powerW * cold * bright));
          if (conditions.weather.ghiWm2[i]! === 0)
            night = Math.max(night, plane.poaWm2[i]!, columns.availableW[i]!, maxOutputW[i]!);
        }
        expect(most).toBeLessThanOrEqual(1);
        expect(night).toBe(0);
      },
    ),
    { numRuns: 12 },
  );
});

test('anywhere on Earth the waterfall adds up, and every number is one', () => {
  fc.assert(
    fc.property(
      real(-90, 90),
      real(-180, 180),
      real(0, 90),
      fc.constantFrom('clear' as const, 'climate' as const, 'dull' as const),
      fc.constantFrom('MPPT' as const, 'PWM' as const),
      real(0, 1),
      (latDeg, lonDeg, tiltDeg, weather, kind, shade) => {
        const { controller } = someRig().solar[0]!;
        const rig = someRig({ tiltDeg, controller: { ...controller, kind } });
        const study = yieldStudy(
          rig,
          { ...at(latDeg, lonDeg), shade },
          { weather: { kind: weather }, years: 1, stepH: 1 },
        );
        const { lightKwh, losses, yieldKwh } = study.waterfall;
        const lost = losses.reduce((sum, { kwh }) => sum + kwh, 0);
        expect(Math.abs(lightKwh - lost - yieldKwh)).toBeLessThanOrEqual(1e-9 * Math.max(1, lightKwh));
        expect(Math.abs(study.annualKwh - yieldKwh)).toBeLessThanOrEqual(1e-9 * Math.max(1, lightKwh));
        expect(yieldKwh).toBeGreaterThanOrEqual(0);
        expect(JSON.stringify(study)).not.toContain('null'); // NaN and Infinity are written so
        expect(study.bestTiltDeg).toBeGreaterThanOrEqual(0);
        expect(study.bestTiltDeg).toBeLessThanOrEqual(90);
      },
    ),
    { numRuns: 25 },
  );
});
