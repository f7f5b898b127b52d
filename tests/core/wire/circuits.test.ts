import { describe, expect, test } from 'vitest';
import { awgSectionMm2 } from '../../../packages/core/src/quantity/index.js';
import type { Cable, Rig } from '../../../packages/core/src/rig/index.js';
import { type Circuit, circuits, currentForPowerA, type WireAir } from '../../../packages/core/src/wire/index.js';
import { cable, rigWith } from './example.js';

const LOW_VOLTAGE = { cutOutV: 10.5, cutInV: 12, surgeW: 4000 };

const named = (rig: Rig, name: string): Circuit => circuits(rig).find((circuit) => circuit.name === name)!;
const fridgeOn = (wire: Cable | undefined) => named(rigWith(wire), 'fridge');

test('every circuit of the rig is there, loads behind the inverter are not', () => {
  expect(circuits(rigWith(cable(4, 2.5))).map((circuit) => circuit.name)).toEqual([
    'battery main',
    'roof panel',
    'roof controller',
    'alternator',
    'alternator charger',
    'inverter',
    'fridge',
    'pump',
    'winch',
  ]);
});

test('the figures hang together', () => {
  for (const c of circuits(rigWith(cable(4, 2.5)))) {
    expect(c.arrivesV).toBeCloseTo(c.sourceV - c.dropV, 12);
    expect(c.dropPercent).toBeCloseTo((100 * c.dropV) / c.sourceV, 12);
    expect(c.lossW).toBeCloseTo(c.currentA * c.dropV, 12);
    expect(c.level === 'ok' || c.lengthM === null || c.faults.length > 0).toBe(true);
  }
});

test('the fridge of a good cable is left alone', () => {
  const circuit = fridgeOn(cable(4, 2.5));
  expect(circuit).toMatchObject({ ok: true, level: 'ok', adviseMm2: 2.5, fuseA: 10, lengthM: 4, sectionMm2: 2.5 });
  // 45.3 W at 12 V over 8 m of 7.98 Ω/km at 40 °C and a little more: 3.85 A, 0.265 V
  expect(circuit.currentA).toBeCloseTo(3.86, 2);
  expect(circuit.dropV).toBeCloseTo(0.266, 2);
});

test('a thin long cable is found by its drop and by its start, and following the advice corrects it', () => {
  const thin = fridgeOn(cable(8, 1.5));
  expect(thin.ok).toBe(false);
  expect(thin.level).toBe('caution');
  expect(thin.surgeArrivesV).toBeLessThan(10.4);
  // 16 m of 4.95 Ω/km at 40 °C are 85.5 mΩ: 3.85 A lose 0.33 V, 2.7 %; of 2.5 mm² they would lose 4.5 %
  expect(thin.adviseMm2).toBe(4);
  expect(fridgeOn(cable(8, thin.adviseMm2!)).ok).toBe(true);
});

test('a gauge is answered with a gauge', () => {
  const thin = fridgeOn(cable(8, awgSectionMm2('16')!, { gaugeAwg: '16' }));
  expect(thin.adviseAwg).toBe('12');
  expect(fridgeOn(cable(8, thin.adviseMm2!, { gaugeAwg: thin.adviseAwg! })).ok).toBe(true);
});

describe('danger', () => {
  test('a current above the ampacity', () => {
    const circuit = named(
      rigWith(
        undefined,
        {},
        {
          inverter: {
            ratingW: 2000,
            standbyW: 10,
            on: 'always',
            efficiency: 0.9,
            ...LOW_VOLTAGE,
            cable: cable(0.3, 16),
          },
        },
      ),
      'inverter',
    );
    expect(circuit.level).toBe('danger');
    expect(circuit.faults).toMatchObject([{ code: 'cable_overloaded', args: { fuseProtects: false } }]);
  });
  test('a fuse that does not protect its cable, though the load is small; the cable stays', () => {
    const circuit = fridgeOn(cable(4, 2.5, { fuseA: 40 }));
    expect(circuit).toMatchObject({ ok: false, level: 'danger', adviseMm2: 2.5, fittedFuseA: 40 });
    expect(circuit.faults).toMatchObject([{ code: 'fuse_too_large', args: { fuseA: 10 } }]);
  });
});

test('a fuse smaller than the current it should carry is said', () => {
  expect(fridgeOn(cable(4, 2.5, { fuseA: 3 }))).toMatchObject({ ok: false, level: 'caution' });
});

test('a cable that cannot deliver the power at all says so, and the advice is for the real current', () => {
  const inverter = (wire: Cable) =>
    named(
      rigWith(
        undefined,
        {},
        { inverter: { ratingW: 600, standbyW: 7, on: 'always', efficiency: 0.9, ...LOW_VOLTAGE, cable: wire } },
      ),
      'inverter',
    );
  const farBelowTarget = inverter(cable(10, 1.5));
  expect(farBelowTarget.faults.map(({ code }) => code)).toContain('power_not_delivered');
  expect(farBelowTarget.ok).toBe(false);
  expect(inverter(cable(10, farBelowTarget.adviseMm2!)).ok).toBe(true);
});

test('without a cable only terminals are counted, and that is noted', () => {
  expect(fridgeOn(undefined)).toMatchObject({
    lengthM: null,
    sectionMm2: null,
    adviseMm2: null,
    ok: null,
    level: 'note',
  });
});

test('without a cable the sections that would do are told, each no longer than it may be', () => {
  const { wouldDo = [], currentA } = fridgeOn(undefined);
  expect(wouldDo.map(({ sectionMm2 }) => sectionMm2).slice(0, 2)).toEqual([0.75, 1]);
  for (const { sectionMm2, upToM, fuseA } of wouldDo) {
    expect(fuseA).toBeGreaterThanOrEqual(1.25 * currentA);
    expect(fridgeOn(cable(upToM - 0.01, sectionMm2)).ok).toBe(true);
    expect(fridgeOn(cable(upToM + 0.02, sectionMm2)).ok).toBe(false);
  }
});

test('cables in hotter air carry less and lose more; air beyond its range is refused', () => {
  const at = (air: WireAir) => circuits(rigWith(cable(4, 2.5)), air).find(({ name }) => name === 'fridge')!;
  expect(at({ cabinC: 55 }).ampacityA!).toBeLessThan(at({}).ampacityA!);
  expect(at({ cabinC: 55 }).dropV).toBeGreaterThan(at({}).dropV);
  expect(at({ engineC: 60 })).toEqual(at({}));
  // sqrt((70 - 30) / (70 - 30)) = 1: at 30 degC the table's own figure (DIN VDE 0298-4 table 11, from memory)
  expect(at({ cabinC: 30 }).ampacityA).toBeCloseTo(32, 9);
  for (const cabinC of [61, -41, Number.NaN]) expect(() => at({ cabinC })).toThrow(RangeError);
});

test('the battery main carries all loads and the inverter, the winch of the starter side not', () => {
  const rig = rigWith(cable(4, 2.5));
  // 45.3 W / 12 V + 5 A + (7 + 600 · 1.0528 + 0.1215 e-3 · 600²) W / 12 V
  expect(named(rig, 'battery main').currentA).toBeCloseTo(
    45.3 / 12 + 5 + named({ ...rig, inverter: { ...rig.inverter!, cable: cable(0, 25) } }, 'inverter').currentA,
    0,
  );
  expect(named(rig, 'battery main').currentA).toBeLessThan(rig.battery.maxDischargeA!);
});

test('a cable that is too thin for its load but has a fuse that suits it does not burn: the fuse opens', () => {
  const loads = (fuseA: number) => named(rigWith(cable(4, 2.5, { fuseA }), { compressorW: 600 }), 'fridge');
  expect(loads(20)).toMatchObject({ level: 'caution', ok: false });
  expect(loads(20).faults).toMatchObject([
    { code: 'cable_overloaded', args: { sectionMm2: 2.5, fuseProtects: true } },
    { code: 'fuse_too_small' },
    { code: 'power_not_delivered' },
    { code: 'start_voltage_low' },
  ]);
  expect(loads(40)).toMatchObject({ level: 'danger' });
  expect(loads(40).faults[0]).toMatchObject({ code: 'cable_overloaded', args: { fuseProtects: false } });
});

test('a relay limits nothing: the battery main carries what the alternator has to spare, or a lithium battery lets in', () => {
  const rig = rigWith(cable(4, 2.5));
  const alternator = { ...rig.alternator!, ratingA: 140, vehicleA: 30, voltageV: 14.2 };
  const main = (charger: NonNullable<Rig['alternator']>['charger']) =>
    named({ ...rig, solar: [], alternator: { ...alternator, charger } }, 'battery main').currentA;
  const relay = { kind: 'relay', resistanceOhm: 0.002 } as const;
  expect(main(relay)).toBeCloseTo(100, 9); // 100 Ah of LFP, 1 C
  expect(main(rig.alternator!.charger)).toBeLessThanOrEqual(rig.battery.maxChargeA);
});

test.each(['LFP', 'AGM'] as const)(
  'the fuse of the battery is told where it stands and what it must break: %s',
  (chemistry) => {
    const rig = rigWith(cable(4, 2.5));
    const { remark } = named({ ...rig, battery: { ...rig.battery, chemistry } }, 'battery main');
    expect(remark).toEqual({ code: 'fuse_at_battery', args: {} });
  },
);

test('a fuse that carries the load but not the start is told, though it does', () => {
  const circuit = fridgeOn(cable(4, 2.5, { fuseA: 5 }));
  expect(circuit).toMatchObject({
    ok: true,
    level: 'note',
    faults: [{ code: 'fuse_opens_at_start', args: { fittedFuseA: 5, surgeA: 10 } }],
  });
  expect(fridgeOn(cable(4, 2.5, { fuseA: 10 }))).toMatchObject({ ok: true, level: 'ok' });
});

test('the current of a constant power meets I · (V − I · R) = P', () => {
  const currentA = currentForPowerA(12, 0.1, 200);
  expect(currentA * (12 - currentA * 0.1)).toBeCloseTo(200, 9);
  expect(currentForPowerA(12, 0.1, 400)).toBeCloseTo(60, 12);
});
