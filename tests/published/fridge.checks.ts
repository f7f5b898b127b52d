/** Fridges against the outside, followed by the run itself: what the box leaks, what the compressor takes, how it warms. */
import {
  boxConductance,
  CARNOT_FRACTION,
  compressorCop,
  doorAirWh,
  foodHeatWh,
} from '../../packages/core/src/load/index.js';
import { type Around, runOn } from './bench.js';
import { type PublishedCheck, rangeChecks } from './check.js';

const recomputed = 'recomputed from the published formula' as const;
const KELVIN = 273.15;
/** Invented: a closed box of 50 l, 330 Wh a day at 25 °C, whose electronics draw nothing, at a battery that never runs low. */
const RATED = 'rated: { energy: 0.33 kWh/day, ambient: 25 degC }';
const usual = { volume: '50 L', setpoint: '4 degC', openings: '0', standby: '0 W' };
const fridge = (own: string) => {
  const rest = Object.entries(usual).filter(([key]) => !new RegExp(`(^|, )${key}:`).test(own));
  return `
battery: { chemistry: LFP, capacity: 1000 Ah }
loads: [{ name: fridge, kind: fridge, ${rest.map(([key, value]) => `${key}: ${value}`).join(', ')}, ${own} }]`;
};
/** Its second day in air of one temperature, in steps of ten minutes. */
function day(own: string, roomC: number, around: Around = {}) {
  const run = runOn(fridge(own), { days: 2, airC: roomC, ...around }, 0.9);
  const { servedW, insideC } = run.trace.loads[0]!;
  const steps = servedW.length / 2;
  const secondDay = servedW.subarray(steps);
  return {
    wh: (secondDay.reduce((sum, watts) => sum + watts, 0) * 24) / steps,
    peakW: Math.max(...secondDay),
    insideC: insideC!,
    duty: run.loads[0]!.dutyCycle,
    run,
  };
}
const wh = (own: string, roomC: number) => day(own, roomC).wh;

const carnotRows = [
  [-5, 35, 6.7037],
  [-10, 45, 4.7845],
  [-10, 55, 4.0485],
  [-20, 45, 3.8946],
  [-25, 55, 3.1019],
  [0, 40, 6.8287],
] as const;

const boxRows = [
  [[0.5, 0.3, 0.33], 0.04, 0.024, 0.5565],
  [[0.4, 0.3, 0.35], 0.035, 0.024, 0.556],
  [[0.6, 0.35, 0.33], 0.05, 0.022, 0.5228],
] as const;

/** Condensing 12.5 K above the room, evaporating 12.5 K below the box: the middle of 10 to 15 K. */
const carnot = (boxC: number, roomC: number) => (boxC - 12.5 + KELVIN) / (roomC + 12.5 - (boxC - 12.5));
/** Of a closed box: heat over coefficient of performance, in another room over the rated one. */
const growth = (roomC: number, boxC = 4) => (roomC - boxC) / carnot(boxC, roomC) / ((25 - boxC) / carnot(boxC, 25));

/** Duty of rows of the catalogue: a box whose heat leak, room and coefficient of performance are given, and the compressor's watts. */
const dutyRows = [
  [0.6, 20, 5, 45],
  [0.6, 32, 5, 45],
  [0.6, 43, 5, 45],
  [0.8, 32, -18, 65],
] as const;
/** Rated consumption at 25 °C of a box with a heat leak [Wh/day]. */
const ratedWh = (uaWPerK: number, boxC: number) => (24 * uaWPerK * (25 - boxC)) / (0.35 * carnot(boxC, 25));

function consumption(roomC: number, setpointC: number, lowAh: number, highAh: number): PublishedCheck {
  return {
    quantity: `daily charge of a 40 to 60 litre box at ${setpointC} °C in a room of ${roomC} °C`,
    unit: 'Ah at 12 V',
    source: `common range ${lowAh} to ${highAh} Ah`,
    origin: 'common practice, no source',
    tolerance: (highAh - lowAh) / 2,
    cases: [40, 50, 60].map((volumeL) => ({
      at: `${volumeL} L, 40 mm of foam, 8 openings and 1 kg of warm food a day`,
      expected: (lowAh + highAh) / 2,
      got: () => {
        const rig = `
battery: { chemistry: LFP, capacity: 1000 Ah }
loads: [{ name: fridge, kind: fridge, volume: ${volumeL} L, setpoint: ${setpointC} degC, insulation: 40 mm, openings: 8, contents: 10 kg, warmFood: [{ mass: 1 kg, at: "18:00" }] }]`;
        return runOn(rig, { airC: roomC }, 0.9).loads[0]!.servedWh / 12;
      },
    })),
  };
}

const inputs: PublishedCheck[] = [
  {
    quantity: 'Carnot coefficient of performance',
    unit: '-',
    source: 'Carnot: Te / (Tc − Te) in kelvin',
    origin: recomputed,
    tolerance: 1e-3,
    cases: carnotRows.map(([evaporatorC, condenserC, expected]) => ({
      at: `${evaporatorC} / ${condenserC} °C`,
      expected,
      got: () => compressorCop(evaporatorC, condenserC) / CARNOT_FRACTION,
    })),
  },
  {
    quantity: 'coefficient of performance at the compressor rating point −25 / 55 °C',
    unit: '-',
    source: 'small hermetic 12 V compressors, 1.0 to 1.3',
    origin: 'from memory',
    tolerance: 0.15,
    cases: [{ at: '−25 / 55 °C', expected: 1.15, got: () => compressorCop(-25, 55) }],
  },
  {
    quantity: 'heat leak of a box through its walls, edges and corners',
    unit: 'W/K',
    source: 'Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, table 4.1',
    origin: recomputed,
    tolerance: 1e-3,
    relative: true,
    cases: boxRows.map(([insideM, wallM, k, expected]) => ({
      at: `${insideM.join(' x ')} m, wall ${wallM} m, k ${k}`,
      expected,
      got: () => boxConductance(insideM, wallM, k),
    })),
  },
  {
    quantity: 'heat to cool 10 kg of drinks from 25 to 5 °C',
    unit: 'Wh',
    source: 'Q = m cp ΔT with 4.186 kJ/(kg K)',
    origin: recomputed,
    tolerance: 1e-3,
    relative: true,
    cases: [{ at: '10 kg', expected: 232.6, got: () => foodHeatWh(10, 25, 5) }],
  },
  {
    quantity: 'heat of freezing 1 kg of water at its melting point',
    unit: 'kJ',
    source: 'ASHRAE Handbook Refrigeration: 334 kJ/kg',
    origin: 'from memory',
    tolerance: 1e-9,
    relative: true,
    cases: [{ at: 'from −1 to −2 °C', expected: 334, got: () => 3.6 * foodHeatWh(1, -1, -2) }],
  },
  {
    quantity: 'heat to freeze 1 kg of water, from 20 to −18 °C',
    unit: 'Wh',
    source: 'Earle, Unit Operations in Food Processing, appendix 7: 4.19, 335, 2.05 kJ',
    origin: recomputed,
    tolerance: 0.01,
    relative: true,
    cases: [{ at: '1 kg', expected: 126.6, got: () => foodHeatWh(1, 20, -18) }],
  },
  {
    quantity: 'heat of one exchange of the air of a 50 litre box, 32 to 5 °C, dry',
    unit: 'J',
    source: 'ρ cp V ΔT with 1.2 kg/m³ and 1.005 kJ/(kg K)',
    origin: recomputed,
    tolerance: 0.02,
    relative: true,
    cases: [{ at: '50 L', expected: 1628, got: () => 3600 * doorAirWh(50, 32, 5) }],
  },
];

const held: PublishedCheck[] = [
  {
    quantity: 'consumption of a closed fridge at the ambient of its rating, electronics included',
    unit: 'Wh a day',
    source: 'definition of the rated consumption; IEC 62552:2007, 25 °C',
    origin: recomputed,
    tolerance: 2e-3, // steps of ten minutes end, not stay, at the set point
    relative: true,
    cases: [
      { at: '330 Wh', expected: 330, got: () => wh(RATED, 25) },
      { at: '330 Wh, of which electronics 0.5 W', expected: 330, got: () => wh(`${RATED}, standby: 0.5 W`, 25) },
    ],
  },
  {
    quantity: 'inside temperature of a fridge that holds its set point of 4 °C',
    unit: '°C',
    source: 'definition of a thermostat',
    origin: recomputed,
    tolerance: 1e-6,
    cases: [25, 32].map((roomC) => ({
      at: `room ${roomC} °C`,
      expected: 4,
      got: () => day(RATED, roomC).insideC.at(-1)!,
    })),
  },
  {
    quantity: 'consumption of a closed fridge in other rooms, over that at 25 °C',
    unit: '-',
    source: 'Q = UA ΔT; Carnot between 12.5 K below the box and 12.5 K above the room (10 to 15 K, common practice)',
    origin: recomputed,
    tolerance: 3e-3,
    relative: true,
    cases: [15, 20, 32, 38].map((roomC) => ({
      at: `${roomC} °C`,
      expected: growth(roomC),
      got: () => wh(RATED, roomC) / wh(RATED, 25),
    })),
  },
  {
    quantity: 'duty cycle of a closed box of known heat leak',
    unit: '-',
    source:
      'Q = UA ΔT; P = Q / COP at 0.35 of Carnot; duty = P / P while on, which rises by 0.75 % per kelvin (0.5 to 1 %)',
    origin: recomputed,
    tolerance: 5e-3,
    relative: true,
    cases: dutyRows.map(([ua, roomC, boxC, watts]) => ({
      at: `UA ${ua} W/K, ${roomC} °C, inside ${boxC} °C`,
      expected: (ua * (roomC - boxC)) / (0.35 * carnot(boxC, roomC)) / (watts * (1 + 0.0075 * (roomC - 25))),
      got: () =>
        day(
          `setpoint: ${boxC} degC, compressor: ${watts} W, rated: { energy: ${ratedWh(ua, boxC)} Wh/day, ambient: 25 degC, inside: ${boxC} degC }`,
          roomC,
        ).duty,
    })),
  },
  ...rangeChecks(
    'power of a running compressor of 45 W',
    'W',
    '45 W at 25 °C and 0.5 to 1 % more per kelvin',
    'common practice, no source',
    [
      ['at 25 °C', 44.9, 45.1, () => day(RATED, 25, { stepH: 1 / 60 }).peakW],
      ['at 43 °C', 45 * 1.09, 45 * 1.18, () => day(RATED, 43, { stepH: 1 / 60 }).peakW],
    ],
  ),
  {
    quantity: 'consumption of a closed fridge with a cover that takes 30 % off its heat leak, over that without',
    unit: '-',
    source: 'definition',
    origin: recomputed,
    tolerance: 1e-3,
    cases: [{ at: '32 °C', expected: 0.7, got: () => wh(`${RATED}, cover: 30 %`, 32) / wh(RATED, 32) }],
  },
  {
    quantity:
      'consumption with a second zone of the same size at −18 °C, over that of one zone of −18 °C as large as both',
    unit: '-',
    source: 'Q = Σ UA ΔT, the leak shared by volume, one evaporator',
    origin: recomputed,
    tolerance: 5e-3,
    relative: true,
    cases: [
      {
        at: 'room 30 °C, 60 mm of foam',
        expected: (26 + 48) / (2 * 48),
        got: () =>
          wh('insulation: 60 mm, secondZone: { volume: 50 L, setpoint: -18 degC }', 30) /
          wh('volume: 100 L, setpoint: -18 degC, insulation: 60 mm', 30),
      },
    ],
  },
  consumption(20, 4, 10, 20),
  consumption(25, 4, 14, 28),
  consumption(32, 4, 22, 42),
  consumption(43, 4, 40, 70),
  consumption(32, -18, 45, 85),
];

/** Extra energy of a day in a room of 30 °C, and what the heat behind it costs at 0.35 of Carnot. */
const extraWh = (own: string) => wh(`${RATED}, ${own}`, 30) - wh(RATED, 30);
const cop30 = 0.35 * carnot(4, 30);

/** A box of 0.6 W/K at a battery that is empty: it only warms. `liner` left out, as the box is small. */
const dead = (roomC: number) =>
  runOn(
    `
battery: { chemistry: LFP, capacity: 100 Ah }
loads: [{ name: fridge, kind: fridge, volume: 2 L, setpoint: 4 degC, openings: 0, standby: 0 W, contents: 15 kg, rated: { energy: ${ratedWh(0.6, 4)} Wh/day, ambient: 25 degC } }]`,
    { days: 3, airC: roomC },
    0,
  ).trace.loads[0]!.insideC!;

const moved: PublishedCheck[] = [
  {
    quantity: 'extra energy for 3 kg of water put in at 25 °C, once a day',
    unit: 'Wh',
    source: 'Q = m cp ΔT with 4.186 kJ/(kg K); Carnot as above',
    origin: recomputed,
    tolerance: 5e-3,
    relative: true,
    cases: [
      {
        at: 'room 30 °C',
        expected: (3 * (4.186 / 3.6) * 21) / cop30,
        got: () => extraWh('warmFood: [{ mass: 3 kg, at: "10:00", temperature: 25 degC }]'),
      },
    ],
  },
  ...rangeChecks(
    'extra energy for 100 openings a day, over that of dry air',
    '-',
    'ρ cp V ΔT with 1.2 kg/m³ and 1.005 kJ/(kg K), two to three times with the water that condenses',
    'common practice, no source',
    [['room 30 °C', 2, 3, () => (extraWh('openings: 100') * cop30) / (100 * ((1.2 * 1.005) / 3.6) * 0.05 * 26)]],
  ),
  {
    quantity: 'inside of a box with 15 kg of water and 0.6 W/K without power, in a room of 34 °C',
    unit: '°C',
    source: 'm cp / UA = 29.07 h: T = 34 − 30·exp(−t/29.07 h)',
    origin: recomputed,
    tolerance: 0.05,
    cases: [12, 29.07, 60].map((hours) => ({
      at: `after ${hours} h`,
      expected: 34 - 30 * Math.exp(-hours / 29.07),
      got: () => {
        const insideC = dead(34);
        const step = hours * 6 - 1;
        const low = insideC[Math.floor(step)]!;
        return low + (insideC[Math.ceil(step)]! - low) * (step - Math.floor(step));
      },
    })),
  },
  {
    quantity: 'energy to pull 10 kg of drinks and their box down from 25 to 5 °C',
    unit: 'Wh',
    source: 'Q = m cp ΔT, 232.6 Wh; Carnot at the evaporator of the set point',
    origin: recomputed,
    tolerance: 0.06, // the liner, and what leaks in less while it is warm
    relative: true,
    cases: [
      {
        at: 'box of 2 l, room 25 °C',
        expected: 232.6 / (0.35 * carnot(5, 25)),
        got: () => {
          const own = (startC: number) => `
battery: { chemistry: LFP, capacity: 1000 Ah }
loads: [{ name: fridge, kind: fridge, volume: 2 L, setpoint: 5 degC, openings: 0, standby: 0 W, contents: 10 kg, start: ${startC} degC, rated: { energy: 100 Wh/day, ambient: 25 degC } }]`;
          const served = (startC: number) => runOn(own(startC), { days: 1, airC: 25 }, 0.9).loads[0]!.servedWh;
          return served(25) - served(5);
        },
      },
    ],
  },
];

export const fridgeChecks: PublishedCheck[] = [...inputs, ...held, ...moved];
