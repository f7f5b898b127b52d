/** The battery in use: what it does to its terminals, in the cold and in the heat, at its limits, and how it wears. */
import { calendarYears, cycleLife, wear } from '../../packages/core/src/battery/index.js';
import type { Chemistry } from '../../packages/core/src/rig/index.js';
import { type Around, bank, copperOhm, LUGS_OHM, runOn } from './bench.js';
import { type PublishedCheck, rangeChecks } from './check.js';

const recomputed = 'recomputed from the published formula' as const;
const OHM = "Ohm's law";
const MINUTE: Around = { stepH: 1 / 60 };

const draw = (amps: number) => `loads: [{ name: draw, current: ${amps} A }]`;
const first = (yaml: string, around: Around, soc: number) => {
  const { trace } = runOn(yaml, around, soc);
  return { batteryV: trace.batteryV[0]!, batteryA: trace.batteryA[0]! };
};
const dropV = (chemistry: Chemistry, own: string, amps: number, around: Around = MINUTE, soc = 0.6) =>
  first(bank(chemistry, own), around, soc).batteryV -
  first(`${bank(chemistry, own)}\n${draw(amps)}`, around, soc).batteryV;
/** Resistance at a cell temperature over that at 25 °C, of an ohmic part that is nearly all there is. */
const ratioAt = (chemistry: Chemistry, celsius: number) =>
  dropV(chemistry, 'resistance: 100 mohm', 1, { ...MINUTE, airC: celsius }) /
  dropV(chemistry, 'resistance: 100 mohm', 1);

const voltage: PublishedCheck[] = [
  {
    quantity: 'Fall of the voltage at the terminals of an LFP battery of 8 mΩ',
    unit: 'V',
    source: OHM,
    origin: recomputed,
    tolerance: 1e-3, // what it is discharged by in the minute
    cases: [5, 10, 20].map((amps) => ({
      at: `${amps} A`,
      expected: 0.008 * amps,
      got: () => dropV('LFP', 'resistance: 8 mohm', amps, MINUTE, 0.5),
    })),
  },
  ...rangeChecks(
    'Fall of the voltage at the 5-hour rate, 100 Ah, half charged',
    'V',
    'common practice',
    'common practice, no source',
    [
      ['flooded', 0.2, 0.5, () => dropV('flooded', '', 16, MINUTE, 0.5)],
      ['AGM', 0.15, 0.5, () => dropV('AGM', '', 18, MINUTE, 0.5)],
      ['gel', 0.15, 0.5, () => dropV('gel', '', 17, MINUTE, 0.5)],
    ],
  ),
  {
    quantity: 'Voltage at an appliance behind the battery cable of 5 m of 6 mm², fuse and lugs',
    unit: 'V',
    source: `${OHM}; IEC 60228 class 5, 3.3 Ω/km at 20 °C, taken at 30 °C`,
    origin: recomputed,
    tolerance: 2e-3,
    cases: [10, 30].map((amps) => {
      const rig = `${bank('LFP', 'count: 20, cable: { length: 5 m, section: 6 mm2 }')}\n${draw(amps)}`; // which outlasts the day
      return {
        at: `${amps} A out`,
        expected: amps * (copperOhm(5, 3.3) + LUGS_OHM),
        got: () => {
          const { trace, loads } = runOn(rig, { ...MINUTE, days: 1 }, 1);
          const at = trace.loadW.findLastIndex((watts) => watts > 0); // the voltage falls all along: the last is the lowest
          const last = trace.unservedW[at]! > 0 ? at - 1 : at;
          return trace.batteryV[last]! - loads[0]!.lowestV!;
        },
      };
    }),
  },
  {
    quantity: 'Resistance in other temperatures over that at 25 °C, lead-acid, middle of the range',
    unit: '-',
    source: 'general battery literature: conductivity of the acid about 1.5 %/K, and the plates',
    origin: 'from memory',
    tolerance: 0.13,
    relative: true,
    cases: (
      [
        [0, 1.375],
        [-18, 1.95],
        [-30, 2.75],
      ] as const
    ).map(([celsius, expected]) => ({ at: `${celsius} °C`, expected, got: () => ratioAt('flooded', celsius) })),
  },
  {
    quantity: 'Resistance at 5 and 15 °C over that at 25 °C, LFP',
    unit: '-',
    source:
      'medians of about 1100 steps of current, one 26650 power cell: test data published with Plett, Battery Management Systems I, 2015',
    origin: recomputed,
    tolerance: 0.1,
    relative: true,
    cases: (
      [
        [5, 1.8],
        [15, 1.26],
      ] as const
    ).map(([celsius, expected]) => ({ at: `${celsius} °C`, expected, got: () => ratioAt('LFP', celsius) })),
  },
  {
    quantity: 'Resistance in frost over that at 25 °C, LFP',
    unit: '-',
    source:
      'medians of about 1100 steps of current, one 26650 power cell: test data published with Plett, Battery Management Systems I, 2015',
    origin: recomputed,
    tolerance: 0.1,
    relative: true,
    cases: (
      [
        [-5, 2.99],
        [-15, 6.05],
        [-25, 12.7],
      ] as const
    ).map(([celsius, expected]) => ({ at: `${celsius} °C`, expected, got: () => ratioAt('LFP', celsius) })),
  },
];

const counting: PublishedCheck[] = [
  {
    quantity: 'State of charge by counting: 0.8 less 35 Ah drawn and 40 Ah charged at 0.995, LFP of 100 Ah',
    unit: '-',
    source: 'definition: 0.8 − 0.35 + 0.995·0.40',
    origin: recomputed,
    tolerance: 1e-6,
    cases: [
      {
        at: 'a day',
        expected: 0.8 - 0.35 + 0.995 * 0.4,
        got: () => {
          const rig = `${bank('LFP')}
mains: { current: 10 A }
loads: [{ name: draw, current: 7 A, when: "00:00 to 05:00" }]`;
          return runOn(rig, { mains: (hour) => (hour > 10 && hour < 14 ? 1 : 0) }, 0.8).summary.endSoc;
        },
      },
    ],
  },
];

/** Air at 20 °C for a day, then at 0 °C. */
const coldFront: Around = { days: 2, stepH: 0.25, airC: (hour) => (hour < 24 ? 20 : 0) };
const HEATED = `battery: { chemistry: LFP, capacity: 100 Ah, mass: 11 kg, thermalLag: 4 h, heater: { power: 40 W, below: 3 degC } }`;

const heat: PublishedCheck[] = [
  {
    quantity: 'Cells after air that falls from 20 to 0 °C, time constant of 4 h',
    unit: '°C',
    source: "Newton's law of cooling: 20·exp(−t/4 h)",
    origin: recomputed,
    tolerance: 1e-6,
    cases: [2, 4, 8].map((hours) => ({
      at: `${hours} h, mean of the quarter of an hour before`,
      expected: (20 * (4 / 0.25) * (Math.exp(0.25 / 4) - 1)) / Math.exp(hours / 4),
      got: () => {
        const rig = 'battery: { chemistry: AGM, capacity: 100 Ah, thermalLag: 4 h }';
        return runOn(rig, coldFront).trace.batteryC[96 + hours * 4 - 1]!;
      },
    })),
  },
  {
    quantity: 'Heat that keeps 11 kg of LFP at 3 to 6 °C in air of −10 °C, time constant of 4 h',
    unit: 'Wh a day',
    source: 'C/τ·ΔT·24 h with 1 kJ/(kg·K), common practice; the middle of the thermostat, 4.5 °C',
    origin: recomputed,
    tolerance: 0.06,
    relative: true,
    cases: [
      {
        at: 'second day',
        expected: (11 / 3.6 / 4) * 14.5 * 24,
        got: () => {
          const { summary } = runOn(HEATED, { days: 2, airC: -10 }, 1);
          const begun = runOn(HEATED, { days: 1, airC: -10 }, 1).summary;
          return summary.lossWh.batteryHeater! - begun.lossWh.batteryHeater!;
        },
      },
    ],
  },
  ...rangeChecks(
    'Engine space above the outside air while driving',
    'K',
    'ABYC E-11: 50 °C in engine spaces where it takes 30 °C elsewhere; common practice 15 to 30 K',
    'from memory',
    [
      [
        'outside 25 °C',
        15,
        30,
        () => {
          const rig = 'battery: { chemistry: AGM, capacity: 100 Ah, stands: engine bay, thermalLag: 0 h }';
          return runOn(rig, { driving: 1, airC: 25 }).trace.batteryC[50]! - 25;
        },
      ],
    ],
  ),
];

const served = (own: string, amps: number) => {
  const rig = `${bank('LFP', own)}\n${draw(amps)}`;
  return runOn(rig, { ...MINUTE }, 0.9).trace.unservedW[0] === 0 ? 1 : 0;
};
const limits: PublishedCheck[] = [
  {
    quantity: 'Whether a management system that cuts at 20 A carries a load: 1 or 0',
    unit: '-',
    source: 'definition of the limit',
    origin: recomputed,
    tolerance: 0,
    cases: [
      { at: '19.9 A', expected: 1, got: () => served('maxDischarge: 20 A', 19.9) },
      { at: '20.1 A', expected: 0, got: () => served('maxDischarge: 20 A', 20.1) },
    ],
  },
];

/** Invented: ten cycles between full and a depth. */
const cycled = (depth: number) => Float64Array.from({ length: 21 }, (_, i) => (i % 2 ? 1 - depth : 1));
const ageing: PublishedCheck[] = [
  {
    quantity: 'Share of its life that a battery spends in ten cycles of one depth, times the cycles it bears',
    unit: 'cycles',
    source: 'Palmgren & Miner: the sum of n/N',
    origin: recomputed,
    tolerance: 1e-9,
    cases: (
      [
        ['AGM', 0.5],
        ['LFP', 0.8],
      ] as const
    ).map(([chemistry, depth]) => ({
      at: `${chemistry}, ${100 * depth} %`,
      expected: 10,
      got: () => wear(cycled(depth), 12, 25, chemistry).cycleShare.mid * cycleLife(chemistry, depth).mid,
    })),
  },
  ...rangeChecks(
    'Calendar ageing at 35 °C over that at 25 °C',
    '-',
    'it about doubles per 10 K',
    'common practice, no source',
    [
      ['AGM', 1.7, 2.3, () => calendarYears('AGM', 25).mid / calendarYears('AGM', 35).mid],
      ['LFP, in a run', 1.7, 2.3, () => agedInRun(35) / agedInRun(25)],
    ],
  ),
];

const agedInRun = (airC: number) => runOn(bank('LFP'), { days: 10, stepH: 1, airC }).wear.calendarShare.mid;

export const batteryUseChecks: readonly PublishedCheck[] = [...voltage, ...counting, ...heat, ...limits, ...ageing];
