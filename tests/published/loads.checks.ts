import { cabinColumn } from '../../packages/core/src/load/index.js';
import { bank, copperOhm, rigOf, runOn } from './bench.js';
import { type PublishedCheck, rangeChecks } from './check.js';

const recomputed = 'recomputed from the published formula' as const;

/** p0 = 8 W, a = 0.03, b = 6e-5 / W: the rating whose 40 % is the best point √(p0/b), and the efficiency there. */
const bestW = Math.sqrt(8 / 6e-5);
const threeTerms = `rating: ${bestW / 0.4} W, efficiency: ${100 / (1.03 + 16 / bestW)} %, standby: 8 W`;

/** An inverter all day on a battery that never runs low, with a load behind it. */
function behind(inverter: string, watts: number, own = '') {
  const { summary, loads } = runOn(
    `battery: { chemistry: LFP, capacity: 2000 Ah }
inverter: { ${inverter}, on: always }
loads: [{ name: load, power: ${watts} W, inverter: true${own} }]`,
    { stepH: 1 },
    1,
  );
  return { lossW: summary.lossWh.inverter! / 24, servedWh: loads[0]!.servedWh };
}
const inputW = (inverter: string, watts: number) => watts + behind(inverter, watts).lossW;

/** What a day takes out of a battery with an inverter that is always on and a load behind it that runs so many hours of it, spread over all. */
function takenWh(inverter: string, watts: number, hours: number): number {
  const { trace } = runOn(
    `battery: { chemistry: LFP, capacity: 2000 Ah }
inverter: { ${inverter}, on: always }
loads: [{ name: load, power: ${watts} W, hours: ${hours}, inverter: true }]`,
    { stepH: 1 },
    1,
  );
  return trace.batteryA.reduce((sum, amps, i) => sum - amps * trace.batteryV[i]!, 0);
}

const sampleDay = [
  ['LED', 'power: 8 W, hours: 6'],
  ['pump', 'power: 48 W, times: 18, lasts: 40 s'],
  ['heater low', 'power: 16 W, hours: 6'],
  ['glow', 'power: 110 W, times: 2, lasts: 3 min'],
  ['fridge', 'power: 13.5 W'],
  ['phones', 'power: 10 W, hours: 3'],
  ['laptop', 'power: 60 W, hours: 2'],
] as const;
const dayWh = () =>
  runOn(`${bank('LFP')}\nloads: [${sampleDay.map(([name, own]) => `{ name: ${name}, ${own} }`).join(', ')}]`, {}, 1)
    .summary.loadWh;

/** What 100 W at the end of a cable cost in it, while the battery stands at some voltage. */
function cableLoss(lengthM: number) {
  const { trace, summary } = runOn(
    `battery: { chemistry: LFP, capacity: 2000 Ah }
loads: [{ name: load, power: 100 W, cable: { length: ${lengthM} m, section: 2.5 mm2 } }]`,
    { stepH: 1 },
    0.9,
  );
  // What stands before the load's own cable: the battery's own lugs lose a little too.
  const busV = trace.batteryV[12]! - summary.lossWh.batteryCable! / 24 / -trace.batteryA[12]!;
  return { lossW: summary.lossWh.loadCables! / 24, busV };
}
const throughCableW = (busV: number, ohm: number) => {
  const amps = (busV - Math.sqrt(busV * busV - 400 * ohm)) / (2 * ohm);
  return amps * amps * ohm;
};

const column = (value: number) => new Float64Array(48).fill(value);

export const loadChecks: PublishedCheck[] = [
  {
    quantity: 'power into an inverter',
    unit: 'W',
    source: 'Schmidt & Sauer 1996, three-term loss: p0 = 8 W, a = 0.03, b = 6e-5 / W',
    origin: recomputed,
    tolerance: 1e-3,
    cases: (
      [
        [10, 18.306],
        [50, 59.65],
        [200, 216.4],
        [600, 647.6],
      ] as const
    ).map(([outW, expected]) => ({ at: `${outW} W out`, expected, got: () => inputW(threeTerms, outW) })),
  },
  {
    quantity: 'power into an inverter on which nothing runs',
    unit: 'W',
    source: 'definition of its standby',
    origin: recomputed,
    tolerance: 1e-6,
    cases: [{ at: '7 W', expected: 7, got: () => behind('rating: 600 W, standby: 7 W', 100, ', hours: 0').lossW }],
  },
  {
    quantity: 'efficiency of an inverter at a twentieth of its rating',
    unit: '-',
    source: 'common range 0.55 to 0.8',
    origin: 'common practice, no source',
    tolerance: 0.125,
    cases: (
      [
        [300, 90, 5.5],
        [600, 90, 7],
      ] as const
    ).map(([ratingW, efficiency, standbyW]) => ({
      at: `${ratingW} W, best ${efficiency} %, standby ${standbyW} W`,
      expected: 0.675,
      got: () =>
        (0.05 * ratingW) /
        inputW(`rating: ${ratingW} W, efficiency: ${efficiency} %, standby: ${standbyW} W`, 0.05 * ratingW),
    })),
  },
  {
    quantity: 'energy that a load of 700 W gets in an hour behind an inverter of 600 W',
    unit: 'Wh',
    source: 'definition of the rating',
    origin: recomputed,
    tolerance: 1e-6,
    cases: [
      {
        at: 'noon to one',
        expected: 600,
        got: () => behind('rating: 600 W', 700, ', when: "12:00 to 13:00"').servedWh,
      },
    ],
  },
  {
    quantity: 'energy that an inverter takes out of the battery in a day of which its load runs a part',
    unit: 'Wh',
    source: 'Schmidt & Sauer 1996, three-term loss as above: 216.4 W while the load of 200 W runs, 8 W else',
    origin: recomputed,
    tolerance: 0.01,
    relative: true,
    cases: [3, 6, 18].map((hours) => ({
      at: `${hours} h`,
      expected: hours * 216.4 + (24 - hours) * 8,
      got: () => takenWh(threeTerms, 200, hours),
    })),
  },
  {
    quantity: 'energy of a sample winter day',
    unit: 'Wh',
    source: 'addition: 48 + 9.6 + 96 + 11 + 324 + 30 + 120',
    origin: recomputed,
    tolerance: 1e-3,
    cases: [{ at: 'seven loads', expected: 638.6, got: dayWh }],
  },
  {
    quantity: 'loss in the cable of a load of 100 W, 2.5 mm²',
    unit: 'W',
    source: 'I·(V − I·R) = P; IEC 60228 class 5, 7.98 Ω/km at 20 °C, taken at 30 °C',
    origin: recomputed,
    tolerance: 3e-3,
    relative: true,
    cases: [3, 6, 12, 17, 21.5, 24].map((lengthM) => ({
      at: `${lengthM} m`,
      get expected() {
        return throughCableW(cableLoss(lengthM).busV, copperOhm(lengthM, 7.98));
      },
      got: () => cableLoss(lengthM).lossW,
    })),
  },
  {
    quantity: 'cabin above the outside air in full sun, long after sunrise',
    unit: 'K',
    source: 'definition of the gain: above ambient at 1000 W/m²',
    origin: recomputed,
    tolerance: 1e-9,
    cases: [
      {
        at: 'gain 8 K',
        expected: 8,
        got: () => cabinColumn(column(20), column(1000), { gainK: 8, lagH: 1 }, undefined, 1)[47]! - 20,
      },
      {
        at: 'gain 8 K, in the shade of trees that leave a quarter',
        expected: 2,
        got: () => cabinColumn(column(20), column(1000), { gainK: 8, lagH: 1 }, column(0.75), 1)[47]! - 20,
      },
    ],
  },
  {
    quantity: 'cabin of a time constant of 2 h after air that rises from 0 to 10 °C',
    unit: '°C',
    source: "Newton's law of cooling: 10·(1 − exp(−t/2 h)), mean of each hour",
    origin: recomputed,
    tolerance: 1e-9,
    cases: [1, 2, 5].map((hours) => ({
      at: `hour ${hours}`,
      expected: 10 * (1 - 2 * (Math.exp(-(hours - 1) / 2) - Math.exp(-hours / 2))),
      got: () => {
        const airC = Float64Array.from({ length: 48 }, (_, i) => (i < 24 ? 0 : 10));
        return cabinColumn(airC, column(0), { gainK: 8, lagH: 2 }, undefined, 1)[23 + hours]!;
      },
    })),
  },
  ...rangeChecks(
    'closed vehicle in full sun, above the outside air',
    'K',
    'parked cars, 15 to 30 K',
    'common practice, no source',
    [
      [
        'as the rig takes it',
        15,
        30,
        () => {
          const { cabin } = rigOf(`${bank('LFP')}\ncabin: { ventilation: shut }`);
          return cabinColumn(column(20), column(1000), cabin, undefined, 1)[47]! - 20;
        },
      ],
    ],
  ),
];
