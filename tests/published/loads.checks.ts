import { inverterInputW, scheduleColumns } from '../../packages/core/src/load/index.js';
import type { Inverter, ScheduledLoad } from '../../packages/core/src/rig/index.js';
import type { PublishedCheck } from './check.js';

const inverter = (ratingW: number, efficiency: number, standbyW: number): Inverter => ({
  ratingW,
  efficiency,
  standbyW,
  on: 'always',
});
/** p0 = 8 W, a = 0.03, b = 6e-5 / W: the rating whose 40 % is the best point √(p0/b), and the efficiency there. */
const bestW = Math.sqrt(8 / 6e-5);
const threeTerms = inverter(bestW / 0.4, 1 / (1.03 + 16 / bestW), 8);

const sampleDay = [
  ['LED', 8, { hoursPerDay: 6 }],
  ['pump', 48, { timesPerDay: 18, lastsH: 40 / 3600 }],
  ['heater low', 16, { hoursPerDay: 6 }],
  ['glow', 110, { timesPerDay: 2, lastsH: 0.05 }],
  ['fridge', 13.5, {}],
  ['phones', 10, { hoursPerDay: 3 }],
  ['laptop', 60, { hoursPerDay: 2 }],
] as const;

function dayWh(): number {
  const grid = { startMs: 0, stepH: 1 / 6, steps: 144 };
  const day = { startMs: 0, endMs: 86_400_000, dayNumber: 0, offsets: [{ fromMs: 0, utcOffsetH: 0 }], use: {} };
  let wh = 0;
  for (const [name, powerW, timing] of sampleDay) {
    const load: ScheduledLoad = {
      kind: 'scheduled',
      name,
      draw: { kind: 'power', powerW },
      when: [],
      everyDays: 1,
      share: 1,
      inverter: false,
      critical: false,
      starterSide: false,
      ...timing,
    };
    for (const share of scheduleColumns(load, [day], grid).onShare) wh += powerW * share * grid.stepH;
  }
  return wh;
}

export const loadChecks: PublishedCheck[] = [
  {
    quantity: 'power into an inverter',
    unit: 'W',
    source: 'Schmidt & Sauer 1996, three-term loss: p0 = 8 W, a = 0.03, b = 6e-5 / W',
    origin: 'recomputed from the published formula',
    tolerance: 1e-3,
    cases: (
      [
        [10, 18.306],
        [50, 59.65],
        [200, 216.4],
        [600, 647.6],
      ] as const
    ).map(([outW, expected]) => ({ at: `${outW} W out`, expected, got: () => inverterInputW(threeTerms, outW) })),
  },
  {
    quantity: 'efficiency of an inverter at a twentieth of its rating',
    unit: '-',
    source: 'common range 0.55 to 0.8',
    origin: 'common practice, no source',
    tolerance: 0.125,
    cases: (
      [
        [300, 0.9, 5.5],
        [600, 0.9, 7],
      ] as const
    ).map(([ratingW, efficiency, standbyW]) => ({
      at: `${ratingW} W, best ${efficiency}, standby ${standbyW} W`,
      expected: 0.675,
      got: () => (0.05 * ratingW) / inverterInputW(inverter(ratingW, efficiency, standbyW), 0.05 * ratingW),
    })),
  },
  {
    quantity: 'energy of a sample winter day',
    unit: 'Wh',
    source: 'addition: 48 + 9.6 + 96 + 11 + 324 + 30 + 120',
    origin: 'recomputed from the published formula',
    tolerance: 1e-3,
    cases: [{ at: 'seven loads', expected: 638.6, got: dayWh }],
  },
];
