import { readRig, readTrip, simulate, traceHeader, traceRow, withoutTrip } from '@stayput/core';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { traceCsv } from '../../packages/cli/src/files/trace-csv.js';
import { folderWith, stayputProcess } from '../cli/run-cli.js';
import { rigText, tripText } from './random-rig.js';

test('the same seed gives the same bytes of the command line, in another process and another time zone', async () => {
  await fc.assert(
    fc.asyncProperty(rigText, tripText, fc.integer({ min: 0, max: 999_999_999 }), async (rig, trip, seed) => {
      const cwd = folderWith({ 'rig.yaml': rig, 'trip.yaml': trip });
      const args = ['simulate', 'rig.yaml', 'trip.yaml', '--seed', String(seed), '--random-loads'];
      const [one, two, csv, again] = await Promise.all([
        stayputProcess([...args, '--json'], { cwd }),
        stayputProcess([...args, '--json'], { cwd, env: { TZ: 'Pacific/Auckland', LC_ALL: 'C' } }),
        stayputProcess([...args, '--trace', '-'], { cwd }),
        stayputProcess([...args, '--trace', '-'], { cwd, env: { TZ: 'America/St_Johns' } }),
      ]);
      expect(one.code, one.stderr).toBe(0);
      expect(two.stdout).toBe(one.stdout);
      expect(again.stdout).toBe(csv.stdout);
      // one document, whose numbers are read back as they are
      expect(`${JSON.stringify(JSON.parse(one.stdout))}`).toBe(JSON.stringify(JSON.parse(two.stdout)));
    }),
    { numRuns: 3 },
  );
}, 240_000);

test('a trace as CSV reads back as the same numbers, to the last bit', async () => {
  await fc.assert(
    fc.asyncProperty(rigText, tripText, async (rig, trip) => {
      const run = simulate(readRig(rig).rig, readTrip(trip).trip);
      const text = (await traceCsv(run).toArray()).join('');
      // the names of random rigs need no quotes
      const [header, ...rows] = text
        .trimEnd()
        .split('\n')
        .map((line) => line.split(','));
      expect(header).toEqual(traceHeader(run.trace));
      expect(rows).toHaveLength(run.trace.grid.steps);
      rows.forEach((cells, i) => {
        traceRow(run, i).forEach((value, k) => {
          if (typeof value === 'number') expect(Object.is(Number(cells[k]), value + 0)).toBe(true);
          else expect(cells[k]).toBe(String(value));
        });
      });
    }),
    { numRuns: 8 },
  );
}, 240_000);

/** A zone whose clocks change in the days of the run, and the same place on a clock that does not. */
const changes = fc.constantFrom(
  { at: '41.7, -8.8', zone: 'Europe/Lisbon', fixed: 'Etc/GMT-1', from: '2026-03-28', hours: 23 },
  { at: '41.7, -8.8', zone: 'Europe/Lisbon', fixed: 'Etc/GMT', from: '2026-10-24', hours: 25 },
  { at: '40.7, -74', zone: 'America/New_York', fixed: 'Etc/GMT+4', from: '2026-03-07', hours: 23 },
  { at: '40.7, -74', zone: 'America/New_York', fixed: 'Etc/GMT+5', from: '2026-10-31', hours: 25 },
  // half an hour
  { at: '-31.5, 159.1', zone: 'Australia/Lord_Howe', fixed: 'Etc/GMT-11', from: '2026-04-04', hours: 24.5 },
  { at: '-31.5, 159.1', zone: 'Australia/Lord_Howe', fixed: 'Etc/GMT-11', from: '2026-10-03', hours: 23.5 },
);

describe('days of 23 and 25 hours keep the energy', () => {
  const watts = fc.integer({ min: 1, max: 60 });
  const rigOf = (power: number) =>
    readRig(
      JSON.stringify({
        battery: { chemistry: 'LFP', capacity: '2000 Ah', floor: 0 },
        solar: [{ power: '200 W' }],
        loads: [{ name: 'steady', power: `${power} W` }],
      }),
    ).rig;

  test('a steady load uses its power times the hours that the day has, and days add up to the whole', () => {
    fc.assert(
      fc.property(changes, watts, ({ at, zone, from, hours }, power) => {
        const trip = withoutTrip({ at, from, days: 3, weather: 'clear' });
        const stops = trip.stops.map((stop) => ({ ...stop, zone }));
        const { daily, summary, trace } = simulate(rigOf(power), { ...trip, stops, startSoc: 0.5 });
        expect(daily.map(({ loadWh }) => loadWh / power)).toEqual([24, hours, 24].map((h) => expect.closeTo(h, 6)));
        expect(trace.grid.steps * trace.grid.stepH).toBeCloseTo(48 + hours, 9);
        for (const key of [
          'loadWh',
          'pvHarvestWh',
          'pvSpilledWh',
          'pvAvailableWh',
          'lossWh',
          'storedChangeWh',
        ] as const) {
          const total = daily.reduce((sum, day) => sum + day[key], 0);
          const whole = key === 'lossWh' ? Object.values(summary.lossWh).reduce((a, b) => a + b, 0) : summary[key];
          expect(total).toBeCloseTo(whole, 6);
        }
      }),
      { numRuns: 12 },
    );
  });

  test('the same hours on a clock that does not change bring the same sun and use the same energy', () => {
    fc.assert(
      fc.property(changes, watts, ({ at, zone, fixed, from }, power) => {
        const trip = withoutTrip({ at, from, days: 3, weather: 'clear' });
        const run = (clock: string) =>
          simulate(rigOf(power), {
            ...trip,
            startSoc: 0.5,
            stops: trip.stops.map((stop) => ({ ...stop, zone: clock })),
          }).trace;
        const [civil, steady] = [run(zone), run(fixed)];
        const stepMs = civil.grid.stepH * 3.6e6;
        const shift = Math.round((civil.grid.startMs - steady.grid.startMs) / stepMs);
        // over the hours that both runs hold, step by step
        let compared = 0;
        for (let i = 0; i < civil.grid.steps; i++) {
          const j = i + shift;
          if (j < 0 || j >= steady.grid.steps) continue;
          compared++;
          // haze and the like are drawn out over the local date: a hundred-thousandth
          expect(Math.abs(civil.ghiWm2[i]! - steady.ghiWm2[j]!)).toBeLessThanOrEqual(1e-4 * steady.ghiWm2[j]! + 1e-3);
          expect(civil.loadW[i]).toBeCloseTo(steady.loadW[j]!, 9);
          expect(Math.abs(civil.pvAvailableW[i]! - steady.pvAvailableW[j]!)).toBeLessThanOrEqual(0.1);
        }
        expect(compared).toBeGreaterThan(60 / civil.grid.stepH);
      }),
      { numRuns: 12 },
    );
  });
});

test('halving the step changes ever less: energies of a run converge', () => {
  fc.assert(
    fc.property(rigText, tripText, (rig, trip) => {
      const read = readRig(rig).rig;
      const there = readTrip(trip).trip;
      const short = { ...there, weather: { kind: 'clear' as const }, stops: [{ ...there.stops[0]!, nights: 2 }] };
      const [coarse, middle, fine, finest] = [1, 1 / 2, 1 / 12, 1 / 60].map((stepH) => {
        const { pvAvailableWh, loadWh, unservedWh } = simulate(read, short, { stepH }).summary;
        return { sun: pvAvailableWh, demand: loadWh + unservedWh };
      });
      const apart = (one: typeof coarse) => Math.abs(one!.sun - finest!.sun);
      // The midpoint rule over a smooth sky: a twelfth of the step is far nearer. A shade's edge within a step, or a PWM
      // controller that follows the battery's voltage, errs by either sign, so that a coarse step may be right by chance.
      const isSmooth = read.solar.every(({ shade, controller }) => shade.length === 0 && controller.kind === 'MPPT');
      if (isSmooth) {
        expect(apart(fine)).toBeLessThanOrEqual(0.25 * apart(coarse) + 0.003 * finest!.sun);
        expect(apart(middle)).toBeLessThanOrEqual(apart(coarse) + 0.003 * finest!.sun);
      }
      expect(apart(fine)).toBeLessThanOrEqual(0.01 * finest!.sun + 0.5);
    }),
    { numRuns: 15 },
  );
}, 240_000);
