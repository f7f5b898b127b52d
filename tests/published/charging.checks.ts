/** Charging against the outside: set points, what alternator and converter give, the relay. */
import {
  ABSORPTION,
  alternatorColumns,
  chargeVoltage,
  dcdcInputA,
  dcdcMaxInputA,
  dcdcMaxOutputA,
  relayCurrentA,
} from '../../packages/core/src/charge/index.js';
import type { Alternator } from '../../packages/core/src/rig/types.js';
import { invented } from './battery-bank.js';
import type { PublishedCheck } from './check.js';

const recomputed = 'recomputed from the published formula' as const;
const leadProfile = invented('AGM').charge;

const driven = (ratingA: number, hotShare: number, vehicleA: number) => {
  const alternator: Alternator = {
    ratingA,
    voltageV: 13.6,
    vehicleA,
    hotShare,
    idleShare: hotShare,
    charger: { kind: 'dcdc', currentA: 30, efficiency: 0.92, inputCutOutV: 12, sharedWithSolar: false },
  };
  return alternatorColumns(alternator, { drivingShare: Float64Array.of(1) });
};

/** rating, share, vehicle, charger rating; then available, input needed at the rating, charge current, Ah in 2 h */
const rows = [
  [90, 0.7, 30, 30, 33, 34.047, 29.077, 58.15],
  [150, 0.7, 40, 30, 65, 34.047, 30, 60],
  [70, 0.45, 25, 30, 6.5, 34.047, 5.727, 11.45],
  [120, 0.8, 30, 60, 66, 68.095, 58.154, 116.31],
] as const;
const outputA = ([rating, share, vehicle, rated]: (typeof rows)[number]) =>
  dcdcMaxOutputA(rated, 0.92, 14.2, driven(rating, share, vehicle).availableA[0]!, 13.6, 12, 0, 0);
const at = ([rating, share, vehicle, rated]: (typeof rows)[number]) =>
  `${rating} A × ${share} − ${vehicle} A, DC-DC ${rated} A`;

export const chargingChecks: readonly PublishedCheck[] = [
  {
    quantity: 'Absorption set point of 14.4 V with −4 mV/K per cell, six cells',
    unit: 'V',
    source: 'IEEE 1361, linear; clamp at 15 V common practice',
    origin: recomputed,
    tolerance: 1e-3,
    cases: (
      [
        [0, 15],
        [10, 14.76],
        [25, 14.4],
        [35, 14.16],
        [45, 13.92],
      ] as const
    ).map(([celsius, expected]) => ({
      at: `${celsius} °C`,
      expected,
      got: () => chargeVoltage(leadProfile, ABSORPTION, celsius),
    })),
  },
  {
    quantity: 'Alternator current left for charging',
    unit: 'A',
    source: 'balance of currents',
    origin: recomputed,
    tolerance: 1e-3,
    cases: rows.map((row) => ({
      at: at(row),
      expected: row[4],
      got: () => driven(row[0], row[1], row[2]).availableA[0]!,
    })),
  },
  {
    quantity: 'DC-DC charger: input current at its rating (14.2 V out, 13.6 V in, 0.92)',
    unit: 'A',
    source: 'power balance',
    origin: recomputed,
    tolerance: 1e-3,
    cases: rows.map((row) => ({
      at: at(row),
      expected: row[5],
      got: () => dcdcInputA(row[3] * 14.2, 0.92, 13.6, 0),
    })),
  },
  {
    quantity: 'DC-DC charger: charge current (14.2 V out, 13.6 V in, 0.92)',
    unit: 'A',
    source: 'power balance',
    origin: recomputed,
    tolerance: 1e-3,
    cases: rows.map((row) => ({ at: at(row), expected: row[6], got: () => outputA(row) })),
  },
  {
    quantity: 'DC-DC charger: charge in two hours',
    unit: 'Ah',
    source: 'power balance',
    origin: recomputed,
    tolerance: 0.0051, // the source has two decimals
    cases: rows.map((row) => ({ at: at(row), expected: row[7], got: () => 2 * outputA(row) })),
  },
  {
    quantity: 'DC-DC charger: input stopped by the drop in its cable (13.6 V, cut-out 12 V)',
    unit: 'A',
    source: "Ohm's law: 1.6 V over 80 mΩ",
    origin: recomputed,
    tolerance: 1e-9,
    cases: [{ at: '80 mΩ', expected: 20, got: () => dcdcMaxInputA(60, 13.6, 12, 0.08) }],
  },
  {
    quantity: 'Relay current from alternator to house battery',
    unit: 'A',
    source: "Ohm's law",
    origin: recomputed,
    tolerance: 1e-9,
    cases: [
      { at: '14.4 − 12.6 V over 30 mΩ', expected: 60, got: () => relayCurrentA(14.4, 12.6, 0.03, 100) },
      { at: 'alternator has 40 A left', expected: 40, got: () => relayCurrentA(14.4, 12.6, 0.03, 40) },
      { at: 'house higher: no back-flow', expected: 0, got: () => relayCurrentA(13.2, 13.4, 0.03, 100) },
      { at: 'engine off', expected: 0, got: () => relayCurrentA(0, 12.8, 0.03, 0) },
    ],
  },
];
