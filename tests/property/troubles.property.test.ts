import { readRig, readTrip, simulate } from '@stayput/core';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { rigText, tripText } from './random-rig.js';

test('every hour without power has one cause, and a run that left a load without has a bad trouble', () => {
  fc.assert(
    fc.property(rigText, tripText, (rig, trip) => {
      const { summary, troubles, trace } = simulate(readRig(rig).rig, readTrip(trip).trip);
      const cut = ['ran_flat', 'cut_off', 'cold_cut_off', 'battery_overload'];
      const hours = troubles.reduce((sum, { code, hours: lasted = 0 }) => sum + (cut.includes(code) ? lasted : 0), 0);
      expect(Math.abs(hours - summary.hoursOff)).toBeLessThanOrEqual(1e-6 * (1 + summary.hoursOff));
      if (trace.unservedW.some((watts) => watts > 0.01)) expect(troubles.map(({ level }) => level)).toContain('bad');
      expect(troubles.map(({ level }) => level)).toEqual(troubles.map(({ level }) => level).toSorted());
    }),
    { numRuns: 100 },
  );
}, 300_000);
