import { conditionsFor, readRig, readTrip, simulateUnder } from '@stayput/core';
import { circuits, ROOF_WIRE_C } from '../../packages/core/src/wire/index.js';
import type { PublishedCheck } from './check.js';

/** What the panels of an invented rig can give in a day, followed by the loop [Wh]. */
function availableWh(panel: string, { rig = '', stop = '', weather = 'clear', date = '2026-01-15' } = {}): number {
  const read = readRig(
    `{ name: invented, battery: { chemistry: LFP, capacity: 1000 Ah }, solar: [${panel}]${rig}, loads: [{ name: lamp, power: 1 W }] }`,
  ).rig;
  const { trip } = readTrip(
    `{ name: invented, weather: ${weather}, stops: [{ at: [45, 0], zone: UTC, from: ${date}, nights: 1${stop} }] }`,
  );
  return simulateUnder(read, conditionsFor(read, trip, { stepH: 1 }), 0.3).summary.pvAvailableWh;
}

const PANEL = '{ power: 100 W }';
const underTrees = (shade: number, weather: string) =>
  availableWh(PANEL, { stop: `, shade: ${100 * shade} %`, weather }) / availableWh(PANEL, { weather });

/** Kept of all light and of the sky's light alone, middle of the ranges. */
const canopies: readonly [string, number, number][] = [
  ['a single tree', 0.55, 0.65],
  ['deciduous, in leaf', 0.15, 0.125],
  ['deciduous, bare', 0.55, 0.525],
  ['dense spruce', 0.06, 0.065],
];

const snowed = (tilt: number) => {
  const panel = `{ power: 100 W, tilt: ${tilt} deg }`;
  const ground = 'ground: 100 100 100 100 100 100 100 100 100 100 100 100 %';
  const swept = 'panels: 0 0 0 0 0 0 0 0 0 0 0 0 %';
  return (
    1 -
    availableWh(panel, { rig: `, snow: { ${ground} }` }) /
      availableWh(panel, { rig: `, snow: { ${ground}, ${swept} }` })
  );
};

/** Share of the light that an upright panel gains from a white ground: reflected light is GHI·ρ/2 on it. */
function snowAlbedo(): number {
  const at = (albedo: string) =>
    availableWh('{ power: 100 W, tilt: 90 deg, azimuth: 0 deg, controller: { kind: MPPT } }', {
      rig: albedo,
      weather: 'dull',
    });
  const white = at(
    ', snow: { ground: 100 100 100 100 100 100 100 100 100 100 100 100 %, panels: 0 0 0 0 0 0 0 0 0 0 0 0 % }',
  );
  const [low, high] = [at(', albedo: 60 %'), at(', albedo: 70 %')];
  return 0.6 + (0.1 * (white - low)) / (high - low);
}

const roofA = (insulationC: number, air = {}) => {
  const { rig } = readRig(
    `{ name: invented, battery: { chemistry: LFP, capacity: 100 Ah }, solar: [{ name: roof, power: 100 W, cable: { length: 5 m, section: 6 mm2, insulation: ${insulationC} degC } }], loads: [{ name: lamp, power: 1 W }] }`,
  );
  return circuits(rig, air).find(({ name }) => name === 'roof panel')!.ampacityA!;
};

export const panelChecks: readonly PublishedCheck[] = [
  {
    quantity: "light under trees on a dull day, kept of the sky's light, middle of the range",
    unit: '-',
    source: 'whole-day means for a parked vehicle: single tree 0.5 to 0.8, in leaf 0.05 to 0.2, bare 0.4 to 0.65',
    origin: 'common practice, no source',
    tolerance: 0.15,
    cases: canopies.map(([at, global, expected]) => ({ at, expected, got: () => underTrees(1 - global, 'dull') })),
  },
  {
    quantity: 'light under a closed canopy by leaf area index, clear and dull days alike',
    unit: '-',
    source: 'Monsi & Saeki 1953: exp(−0.5 LAI) of all light; the array works a little worse in dim light',
    origin: 'recomputed from the published formula',
    tolerance: 0.03,
    cases: [
      [1, 0.607],
      [2, 0.368],
      [4, 0.135],
    ].flatMap(([lai, expected]) =>
      ['clear', 'dull'].map((weather) => ({
        at: `LAI ${lai}, ${weather}`,
        expected: expected!,
        got: () => underTrees(1 - Math.exp(-0.5 * lai!), weather),
      })),
    ),
  },
  {
    quantity: "loss to snow in a snowy winter's months by tilt, middle of the range",
    unit: '-',
    source: 'studies in the Sierra Nevada, Michigan and Ontario: 50 to 100 % flat, 15 to 45 % at 30°, 3 to 15 % at 60°',
    origin: 'from memory',
    tolerance: 0.01,
    cases: [
      [0, 0.75],
      [15, 0.5],
      [30, 0.3],
      [60, 0.09],
    ].map(([tilt, expected]) => ({ at: `${tilt}°`, expected: expected!, got: () => snowed(tilt!) })),
  },
  {
    quantity: 'albedo of ground under snow, from what an upright panel gains',
    unit: '-',
    source: 'table in general use in solar engineering: snow 0.65, fresh snow 0.75',
    origin: 'published',
    tolerance: 0.01,
    cases: [{ at: 'dull day', expected: 0.65, got: snowAlbedo }],
  },
  {
    quantity: 'air around a cable close above a sunlit roof, above the outside air',
    unit: 'K',
    source: 'NEC 310.15(B)(2): 60 °F in raceways below 22 mm above the roof; a hot day of 35 °C',
    origin: 'published',
    tolerance: 0.5,
    cases: [{ at: '35 °C outside', expected: 33, got: () => ROOF_WIRE_C - 35 }],
  },
  {
    quantity: 'ampacity of a panel cable in the hottest row of the table, of that at 30 °C',
    unit: '-',
    source: 'NEC table 310.15(B)(1): 75 °C conductor at 61 to 70 °C, 0.33',
    origin: 'published',
    tolerance: 0.01,
    cases: [{ at: '70 °C', expected: 0.33, got: () => roofA(75, { roofC: 70 }) / roofA(75, { roofC: 30 }) }],
  },
];
