import { expect, test } from 'vitest';
import { readRig, readTrip } from '../../../packages/core/src/rig/index.js';
import { simulate } from '../../../packages/core/src/simulate/index.js';
import { yieldStudy } from '../../../packages/core/src/study/index.js';

/** An invented weekender: one flat panel bonded to the roof, a small battery, a few modest loads. */
const { rig } = readRig(
  JSON.stringify({
    name: 'Stint',
    battery: { chemistry: 'AGM', capacity: '60 Ah' },
    solar: [{ name: 'roof', power: '100 W', mount: 'bonded' }],
    loads: [
      { name: 'cool box', power: '40 W', hours: 3, when: '10:00 to 18:00' },
      { name: 'lights', power: '8 W', when: 'sunset to 22:30' },
      { name: 'chargers', power: '15 W', hours: 3 },
    ],
  }),
  { file: 'invented' },
);

test.each([
  { place: 'Lisbon', from: '2025-05-01' },
  { place: 'Athens', from: '2025-05-01' },
  { place: 'Perth', from: '2025-10-01' },
  { place: 'Las Vegas', from: '2025-04-01' },
])(
  'a flat 100 W panel on a battery that is often full harvests about 0.2 kWh a day over a season: $place (common practice, no source)',
  ({ place, from }) => {
    const { trip } = readTrip(
      JSON.stringify({ name: 'a season', weather: 'climate', startSoc: '80 %', stops: [{ place, from, nights: 150 }] }),
      { file: 'invented' },
    );
    const { summary } = simulate(rig, trip);
    const harvest = summary.pvHarvestWh / summary.days;
    const available = summary.pvAvailableWh / summary.days;
    expect(harvest).toBeGreaterThan(130);
    expect(harvest).toBeLessThan(300);
    expect(summary.fullDays).toBeGreaterThan(0.8 * summary.days);
    // The sun offered about twice as much; the rest was spilled, and nothing went without.
    expect(available).toBeGreaterThan(350);
    expect(available).toBeLessThan(600);
    expect(summary.unservedWh).toBeLessThan(1);
    const study = yieldStudy(rig, { place }, { years: 2, stepH: 1 });
    expect(Math.max(...study.months.map(({ availableWhDay }) => availableWhDay))).toBeGreaterThan(0.95 * available);
  },
);
