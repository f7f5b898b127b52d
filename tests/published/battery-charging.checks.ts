/** How lead-acid is filled: the set point is held while the current tapers, and how long that takes, warm and cold. */
import type { Chemistry } from '../../packages/core/src/rig/index.js';
import { type Charging, charged, hoursTo } from './battery-bench.js';
import { bank, runOn } from './bench.js';
import { type PublishedCheck, rangeChecks } from './check.js';

const LEAD: readonly Chemistry[] = ['flooded', 'AGM', 'gel'];
const BENCH =
  'a bench test published by a marine electrician: AGM rated 105 Ah, 95.7 Ah measured, 14.4 V, 25 °C, from 49.5 %';
const agm = (currentA: number): Charging => ({
  chemistry: 'AGM',
  capacityAh: 95.69,
  currentA,
  limitV: 14.4,
  fromSoc: 0.495,
});
/** State of charge at which the current first falls below that of the charger. */
function limitSoc(test: Charging): number {
  const { soc, amps } = charged(test);
  const step = amps.findIndex((one) => one < test.currentA - 1e-3);
  return step > 0 ? soc[step - 1]! : test.fromSoc;
}
const tailHours = (test: Charging, tailA: number) => {
  const run = charged(test);
  return hoursTo(run, (i) => run.amps[i]! < tailA || run.soc[i]! >= 1);
};
/** Hours from 80 % to a state of charge with a strong charger. */
const hoursFrom80 = (chemistry: Chemistry, toSoc: number, limitV = 14.4, airC = 25) => {
  const run = charged({ chemistry, currentA: 40, limitV, fromSoc: 0.8, airC, hours: 96 });
  return hoursTo(run, (i) => run.soc[i]! >= toSoc);
};

const absorption: PublishedCheck[] = [
  {
    quantity:
      'Lowest voltage at the terminals from the moment the set point of 14.4 V is met until the battery is full',
    unit: 'V',
    source: 'constant-current, constant-voltage charging: DIN 41773 (IUoU), from memory',
    origin: 'from memory',
    tolerance: 0.025, // a milliohm of lugs lies between
    cases: LEAD.map((chemistry) => ({
      at: `${chemistry}, 20 A on 100 Ah`,
      expected: 14.4,
      got: () => {
        const { amps, volts } = charged({ chemistry, currentA: 20, limitV: 14.4, fromSoc: 0.5 });
        const met = amps.findIndex((one) => one < 20 - 1e-3);
        return Math.min(...volts.subarray(met + 1));
      },
    })),
  },
  {
    quantity: 'State of charge of a half empty AGM battery when 14.4 V is met',
    unit: '-',
    source: BENCH,
    origin: 'published',
    tolerance: 0.03,
    cases: [
      { at: '21 A', expected: 0.774, got: () => limitSoc(agm(21)) },
      { at: '42 A', expected: 0.633, got: () => limitSoc(agm(42)) },
    ],
  },
  {
    quantity: 'State of charge of that AGM battery after an hour at 42 A',
    unit: '-',
    source: BENCH,
    origin: 'published',
    tolerance: 0.03,
    cases: [{ at: '42 A', expected: 0.85, got: () => charged({ ...agm(42), hours: 1 }).soc[59]! }],
  },
  {
    quantity: 'Hours to full of that AGM battery, a tail of 0.5 % of its capacity',
    unit: 'h',
    source: BENCH,
    origin: 'published',
    tolerance: 0.5,
    cases: [
      { at: '21 A', expected: 5.5, got: () => tailHours(agm(21), 0.0055 * 95.69) }, // the tail that was read: 0.525 A
      { at: '42 A', expected: 5.3, got: () => tailHours(agm(42), 0.0055 * 95.69) },
    ],
  },
  ...rangeChecks(
    'Hours from 80 to 99.5 % at 14.4 V',
    'h',
    'hours from 80 to 100 %, common practice; a maker of chargers prints up to 8 h',
    'from memory',
    [
      ['AGM', 3, 5, () => hoursFrom80('AGM', 0.995)],
      ['gel', 4, 7, () => hoursFrom80('gel', 0.995)],
      ['flooded', 5, 8, () => hoursFrom80('flooded', 0.995)],
    ],
  ),
  ...rangeChecks(
    'Hours from empty to 80 % at 14.4 V, 0.1 C and 0.2 C',
    'h',
    'common practice, consistent with the bench test',
    'from memory',
    LEAD.flatMap((chemistry) => {
      const to80 = (currentA: number) => {
        const run = charged({ chemistry, currentA, limitV: 14.4, fromSoc: 0 });
        return hoursTo(run, (i) => run.soc[i]! >= 0.8);
      };
      return [
        [`${chemistry}, 0.1 C`, 8, 9.5, () => to80(10)] as const,
        [`${chemistry}, 0.2 C`, 4.1, 5.5, () => to80(20)] as const,
      ];
    }),
  ),
  ...rangeChecks(
    'Hours to full at float voltage, 2.25 V a cell, from 80 %',
    'h',
    "a maker's VRLA technical manual: more than 24 h of float service",
    'published',
    [
      ['AGM', 24, 72, () => hoursFrom80('AGM', 0.995, 13.5)],
      ['gel', 24, 96, () => hoursFrom80('gel', 0.995, 13.5)],
    ],
  ),
  ...rangeChecks(
    'Hours from 80 to 98 % at 13.9 V over those at 14.4 V',
    '-',
    'about three times, seen behind alternators',
    'common practice, no source',
    [['gel', 1.7, 3.5, () => hoursFrom80('gel', 0.98, 13.9) / hoursFrom80('gel', 0.98)]],
  ),
  {
    quantity: 'Hours from 80 to 98 % in steps of 10 and 60 min over those in steps of a minute',
    unit: '-',
    source: 'a run may not depend on its step',
    origin: 'recomputed from the published formula',
    tolerance: 0.06,
    cases: LEAD.flatMap((chemistry) =>
      [1 / 6, 1].map((stepH) => ({
        at: `${chemistry}, ${60 * stepH} min`,
        expected: 1,
        got: () => {
          const missing = (step: number) => {
            const run = charged({ chemistry, currentA: 40, limitV: 14.4, fromSoc: 0.8, stepH: step, hours: 24 });
            return 1 - run.soc[Math.round(3 / step) - 1]!;
          };
          return 1 + missing(stepH) - missing(1 / 60);
        },
      })),
    ),
  },
];

/** What a battery at 80 % takes at a voltage and temperature, over what it takes at 14.4 V and 25 °C. */
function takes(chemistry: Chemistry, airC: number, limitV = 14.4): number {
  const first = (at: number, volts: number) =>
    charged({ chemistry, currentA: 90, limitV: volts, fromSoc: 0.8, airC: at, hours: 1 }).amps[0]!;
  return first(airC, limitV) / first(25, 14.4);
}
const COLD = 'it halves for every 10 to 15 K at a fixed voltage';
const acceptance: PublishedCheck[] = [
  ...LEAD.flatMap((chemistry) =>
    rangeChecks(
      'What lead-acid takes at 14.4 V, over that at 25 °C',
      '-',
      COLD,
      'common practice, no source',
      (
        [
          [40, 1.4, 2],
          [10, 0.5, 0.7],
          [0, 0.3, 0.5],
          [-10, 0.15, 0.3],
          [-20, 0.05, 0.15],
        ] as const
      ).map(
        ([celsius, low, high]) => [`${chemistry}, ${celsius} °C`, low, high, () => takes(chemistry, celsius)] as const,
      ),
    ),
  ),
  ...rangeChecks(
    'What lead-acid takes at a voltage compensated by −24 mV/K, over that at 25 °C',
    '-',
    'compensation gives about half of the loss back',
    'common practice, no source',
    [['AGM, 0 °C', 0.4, 0.75, () => takes('AGM', 0, 15)]],
  ),
  ...rangeChecks(
    'Share of a winter day’s charge that a flooded battery at 80 % takes at −20 °C, 8 h of 20 A',
    '-',
    'little at −20 °C',
    'common practice, no source',
    [
      [
        'against 25 °C',
        0.05,
        0.5,
        () => {
          const day = (airC: number) =>
            runOn(
              `${bank('flooded')}\nmains: { current: 20 A }`,
              { airC, mains: (hour) => (hour > 8 && hour < 16 ? 1 : 0) },
              0.8,
            ).summary.endSoc - 0.8;
          return day(-20) / day(25);
        },
      ],
    ],
  ),
];

export const batteryChargingChecks: readonly PublishedCheck[] = [...absorption, ...acceptance];
