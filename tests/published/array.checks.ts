/** Panels in a run against the outside: how warm each mount gets, what the nameplate and the losses make of the light. */
import { cellTemperatureColumn, kingC, windFactor } from '../../packages/core/src/solar/index.js';
import { type Around, bank, runOn } from './bench.js';
import { type PublishedCheck, rangeChecks } from './check.js';

const recomputed = 'recomputed from the published formula' as const;
const one = (value: number) => Float64Array.of(value);
type Mount = Parameters<typeof cellTemperatureColumn>[0];
const cellC = (mount: Mount, sunWm2: number, airC: number, windMs: number) =>
  cellTemperatureColumn(mount, one(sunWm2), one(airC), one(windMs))[0]!;
/** Logarithmic profile over a roughness of 0.1 m: wind at a height over that at 10 m. */
const profile = (heightM: number) => Math.log(heightM / 0.1) / Math.log(100);

const CLEAN =
  'losses: { soiling: 0 %, mismatch: 0 %, ageing: 0 % }, mount: rack, controller: { kind: MPPT, current: 50 A }';
/** In full sun overhead, cells of an open rack at 25 °C. */
const STANDARD: Around = { beamWm2: 1000, airC: 25 - 1000 / 25, cabinC: 25 };
/** What an array has to give at noon [W]. */
const availableW = (solar: string, around: Around = STANDARD) =>
  runOn(`${bank('LFP')}\nsolar: [{ ${solar} }]`, around).trace.pvAvailableW[0]!;

const heat: PublishedCheck[] = [
  {
    quantity: 'module temperature on an open rack, by columns',
    unit: '°C',
    source: 'Faiman, Progress in Photovoltaics 16, 2008, p. 307 (u0 25, u1 6.84), wind at module height',
    origin: recomputed,
    tolerance: 0.001,
    cases: (
      [
        [1000, 25, 1, 56.407],
        [800, 20, 1, 45.126],
        [1000, 25, 5, 41.892],
        [1000, 35, 0, 75],
        [300, 5, 3, 11.591],
      ] as const
    ).map(([g, air, wind, expected]) => ({
      at: `${g} W/m², ${air} °C, ${wind} m/s`,
      expected,
      got: () => cellC('rack', g, air, wind / profile(2)),
    })),
  },
  {
    quantity: 'wind at a height over that at 10 m',
    unit: '-',
    source: 'neutral logarithmic profile, roughness of 0.1 m (Davenport classes)',
    origin: 'from memory',
    tolerance: 1e-3,
    cases: [
      { at: '2 m', expected: 0.6505, got: () => windFactor(2) },
      { at: '0.5 m', expected: 0.3495, got: () => windFactor(0.5) },
    ],
  },
  {
    quantity: 'heating over a gap over that on an open rack, flat on a well ventilated roof',
    unit: '-',
    source: 'Skoplaki & Palyvos, Renewable Energy 34, 2009: Ross coefficients 0.026 and 0.021',
    origin: 'from memory',
    tolerance: 1e-3,
    cases: [0, 3].map((wind) => ({
      at: `${wind} m/s`,
      expected: 0.026 / 0.021,
      got: () => (cellC('gap', 1000, 20, wind) - 20) / (cellC('rack', 1000, 20, wind) - 20),
    })),
  },
  ...rangeChecks(
    'heating of a bonded panel in full sun, by columns',
    'K',
    'King, Boyson & Kratochvil, SAND2004-3535, 2004, table 1: between a close roof mount and an insulated back',
    recomputed,
    [0, 2, 5, 8].map(
      (wind) =>
        [
          `${wind} m/s`,
          kingC(1000, 0, wind, -2.98, -0.0471),
          kingC(1000, 0, wind, -2.81, -0.0455),
          () => cellC('bonded', 1000, 20, wind) - 20,
        ] as const,
    ),
  ),
  {
    quantity: 'heating after King, insulated back, at 1000 W/m²',
    unit: 'K',
    source: 'King, Boyson & Kratochvil, SAND2004-3535, 2004, eq. 11, table 1: exp(−2.81 − 0.0455 v)',
    origin: recomputed,
    tolerance: 0.01,
    cases: (
      [
        [0, 60.2],
        [5, 47.95],
      ] as const
    ).map(([wind, expected]) => ({ at: `${wind} m/s`, expected, got: () => kingC(1000, 0, wind, -2.81, -0.0455) })),
  },
];

const nameplate: PublishedCheck[] = [
  {
    quantity: 'power of an array without losses at standard test conditions',
    unit: 'W',
    source: 'definition of the nameplate, IEC 60904-3: 1000 W/m², cells at 25 °C',
    origin: recomputed,
    tolerance: 1e-3,
    relative: true,
    cases: [
      { at: 'one of 100 W', expected: 100, got: () => availableW(`power: 100 W, ${CLEAN}`) },
      { at: 'two of 175 W', expected: 350, got: () => availableW(`power: 175 W, count: 2, ${CLEAN}`) },
      {
        at: 'two of 300 W in series',
        expected: 600,
        got: () => availableW(`power: 300 W, count: 2, series: 2, ${CLEAN}`),
      },
      {
        at: '110 W by a datasheet of 105 W',
        expected: 110,
        got: () =>
          availableW(
            `power: 110 W, datasheet: { voc: 22.5 V, isc: 6.1 A, vmp: 18.4 V, imp: 5.7065 A, tempPower: -0.4 %/degC }, ${CLEAN}`,
          ),
      },
    ],
  },
  {
    quantity: 'share of the power that a loss leaves',
    unit: '-',
    source: 'Marion et al., 31st IEEE Photovoltaic Specialists Conference, 2005: derate factors multiply',
    origin: 'from memory',
    tolerance: 5e-3,
    cases: [
      { at: 'soiling 10 %', expected: 0.9, got: () => lossShare('soiling: 10 %') },
      { at: 'mismatch 3 %', expected: 0.97, got: () => lossShare('mismatch: 3 %') },
      { at: 'ageing 8 %', expected: 0.92, got: () => lossShare('ageing: 8 %') },
      {
        at: 'all three',
        expected: 0.9 * 0.97 * 0.92,
        got: () => lossShare('soiling: 10 %, mismatch: 3 %, ageing: 8 %'),
      },
    ],
  },
  {
    quantity: 'power of a usual module with cells at 65 °C, over that at 25 °C',
    unit: '-',
    source: 'data sheets: −0.36 %/K of modules with passivated rear contacts, −0.42 %/K of multicrystalline ones',
    origin: 'common practice, no source',
    tolerance: 2e-3,
    cases: (
      [
        ['mono', 1 - 0.0036 * 40],
        ['poly', 1 - 0.0042 * 40],
      ] as const
    ).map(([technology, expected]) => ({
      at: technology,
      expected,
      got: () => {
        const solar = `power: 100 W, technology: ${technology}, ${CLEAN}`;
        return availableW(solar, { ...STANDARD, airC: 65 - 1000 / 25 }) / availableW(solar);
      },
    })),
  },
];
function lossShare(losses: string): number {
  const others = ['soiling', 'mismatch', 'ageing'].filter((key) => !losses.includes(key)).map((key) => `${key}: 0 %`);
  return (
    availableW(`power: 100 W, ${CLEAN.replace(/\{ soiling[^}]*\}/, `{ ${[losses, ...others].join(', ')} }`)}`) / 100
  );
}

export const arrayChecks: readonly PublishedCheck[] = [...heat, ...nameplate];
