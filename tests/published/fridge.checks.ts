import {
  boxConductance,
  CARNOT_FRACTION,
  compressorCop,
  doorAirWh,
  type FridgeModel,
  foodHeatWh,
  fridgeColumns,
  fridgeDuty,
  fridgeFactors,
  fridgeModel,
} from '../../packages/core/src/load/index.js';
import type { FridgeLoad } from '../../packages/core/src/rig/index.js';
import type { PublishedCheck } from './check.js';

const plain: FridgeLoad = {
  kind: 'fridge',
  name: 'fridge',
  critical: true,
  starterSide: false,
  volumeL: 50,
  setpointC: 4,
  insulationMm: 40,
  cover: 0,
  stands: 'cabin',
  compressorW: 45,
  cutOutV: 10.4,
  cutInV: 11.7,
  openingsPerDay: 8,
  contentKg: 10,
  warmFood: [{ massKg: 1, atH: 18 }],
  standbyW: 0.3,
  heatLeakRange: { low: 0.8, high: 1.25 },
};

/** Charge at 12 V that a fridge takes on a day at one room temperature [Ah]. */
function dailyAh(load: FridgeLoad, roomC: number): number {
  const grid = { startMs: 0, stepH: 1 / 6, steps: 144 };
  const day = { startMs: 0, endMs: 86_400_000, dayNumber: 0, offsets: [{ fromMs: 0, utcOffsetH: 0 }], use: {} };
  const { meanPowerW } = fridgeColumns(load, fridgeModel(load), new Float64Array(144).fill(roomC), [day], grid);
  return meanPowerW.reduce((sum, watts) => sum + watts / 6, 0) / 12;
}

/** A model with the conductance and the cooling capacity of a worked row. */
function rowModel(uaWPerK: number, insideC: number): FridgeModel {
  return { ...fridgeModel({ ...plain, setpointC: insideC }), uaWPerK, secondZoneW: 0 };
}

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

const dutyRows = [
  [0.6, 20, 5, 2.4, 45, 0.0833],
  [0.6, 32, 5, 1.8, 45, 0.2],
  [0.6, 43, 5, 1.3, 45, 0.3897],
  [0.8, 32, -18, 0.9, 50, 0.8889],
] as const;

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
      got: () => dailyAh({ ...plain, volumeL, setpointC }, roomC),
    })),
  };
}

export const fridgeChecks: PublishedCheck[] = [
  {
    quantity: 'Carnot coefficient of performance',
    unit: '-',
    source: 'Carnot: Te / (Tc − Te) in kelvin',
    origin: 'recomputed from the published formula',
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
    origin: 'recomputed from the published formula',
    tolerance: 1e-3,
    relative: true,
    cases: boxRows.map(([insideM, wallM, k, expected]) => ({
      at: `${insideM.join(' x ')} m, wall ${wallM} m, k ${k}`,
      expected,
      got: () => boxConductance(insideM, wallM, k),
    })),
  },
  {
    quantity: 'duty cycle that holds the set point',
    unit: '-',
    source: 'Q = UA ΔT; P = Q / COP; duty = P / P while on',
    origin: 'recomputed from the published formula',
    tolerance: 1e-4,
    cases: dutyRows.map(([ua, roomC, insideC, cop, watts, expected]) => ({
      at: `UA ${ua} W/K, ${roomC} °C, inside ${insideC} °C, COP ${cop}`,
      expected,
      got: () => {
        const model = rowModel(ua, insideC);
        return fridgeDuty(model, fridgeFactors(model, 1 / 6), insideC, roomC, 0, cop * watts);
      },
    })),
  },
  {
    quantity: 'time constant of a box with 15 kg of water',
    unit: 'h',
    source: 'm cp / UA with 4.186 kJ/(kg K) and 0.6 W/K',
    origin: 'recomputed from the published formula',
    tolerance: 0.01,
    cases: [
      {
        at: '15 kg, 0.6 W/K, liner left out',
        expected: 29.07,
        got: () => {
          const empty = fridgeModel({ ...plain, contentKg: 0 });
          const full = fridgeModel({ ...plain, contentKg: 15 });
          const contents = {
            ...full,
            uaWPerK: 0.6,
            capacityWhPerK: full.capacityWhPerK - empty.capacityWhPerK,
          };
          return -0.5 / Math.log(fridgeFactors(contents, 0.5).decay);
        },
      },
    ],
  },
  {
    quantity: 'heat to cool 10 kg of drinks from 25 to 5 °C',
    unit: 'Wh',
    source: 'Q = m cp ΔT with 4.186 kJ/(kg K)',
    origin: 'recomputed from the published formula',
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
    cases: [{ at: '−1 °C, liquid to ice', expected: 334, got: () => 3.6 * foodHeatWh(1, -1, -1 - 1e-15) }],
  },
  {
    quantity: 'heat of one exchange of the air of a 50 litre box, 32 to 5 °C, dry',
    unit: 'J',
    source: 'ρ cp V ΔT with 1.2 kg/m³ and 1.005 kJ/(kg K)',
    origin: 'recomputed from the published formula',
    tolerance: 0.02,
    relative: true,
    cases: [{ at: '50 L', expected: 1628, got: () => 3600 * doorAirWh(50, 32, 5) }],
  },
  consumption(20, 4, 10, 20),
  consumption(25, 4, 14, 28),
  consumption(32, 4, 22, 42),
  consumption(43, 4, 40, 70),
  consumption(32, -18, 45, 85),
];
