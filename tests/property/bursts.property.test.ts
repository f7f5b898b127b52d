import { readRig, simulate, withoutTrip } from '@stayput/core';
import { overloads } from '@stayput/core/model';
import fc from 'fast-check';
import { expect, test } from 'vitest';

const trip = withoutTrip({ place: 'Porto', from: '2026-07-01', days: 1 });

/** Ten loads that are used in bursts, each in a window of its own; of appliances' powers. */
const bursts = fc.array(
  fc.record({
    power: fc.integer({ min: 5, max: 2200 }),
    hours: fc.constantFrom(0.1, 0.2, 0.5, 1),
    from: fc.integer({ min: 0, max: 22 }),
    lastsH: fc.integer({ min: 1, max: 6 }),
    inverter: fc.boolean(),
  }),
  { minLength: 10, maxLength: 10 },
);
const rigFor = (loads: readonly string[], inverterW: number, ah: number) =>
  readRig(`
battery: { chemistry: LFP, capacity: ${ah} Ah }
solar: [{ power: 400 W }]
inverter: { rating: ${inverterW} W, on: with loads }
loads:
${loads.map((load) => `  - { ${load} }`).join('\n')}
`).rig;

test('ten loads in bursts without their windows never get a better verdict on overload than with them', () => {
  fc.assert(
    fc.property(
      bursts,
      fc.integer({ min: 300, max: 3000 }),
      fc.integer({ min: 50, max: 400 }),
      (loads, inverterW, ah) => {
        const text = (withWindows: boolean) =>
          loads.map(({ power, hours, from, lastsH, inverter }, k) => {
            const clock = (hour: number) => `${String(hour % 24).padStart(2, '0')}:00`;
            const when = withWindows ? `, when: "${clock(from)} to ${clock(from + lastsH)}"` : '';
            return `name: load ${k}, power: ${power} W, hours: ${hours}, inverter: ${inverter}${when}`;
          });
        const [timed, untimed] = [true, false].map((withWindows) => rigFor(text(withWindows), inverterW, ah));
        const [withTimes, without] = [timed!, untimed!].map((rig) => overloads(rig));
        // Each part that is overloaded with the windows is overloaded without them, and what is certain stays certain.
        for (const { code, args } of withTimes!) {
          expect(without!.map((one) => one.code)).toContain(code);
          if (args.names.length > 1) continue;
          expect(without!.filter((one) => one.code === code).map((one) => one.args.names)).toContainEqual(args.names);
        }
        const [timedRun, run] = [simulate(timed!, trip), simulate(untimed!, trip)];
        const overloaded = (troubles: typeof run.troubles) =>
          troubles.some(({ code, level }) => code.endsWith('_overload') && level === 'bad');
        if (overloaded(timedRun.troubles)) expect(overloaded(run.troubles)).toBe(true);
      },
    ),
    { numRuns: 60 },
  );
}, 120_000);
