import { expect, test } from 'vitest';
import type { Cable, PanelTechnology, SolarArray } from '../../../packages/core/src/rig/index.js';
import { circuits } from '../../../packages/core/src/wire/index.js';
import { cable, rigWith, solarCable } from './example.js';

/** The panel's and the controller's circuit of the example's array (Vmp 20.4 V, Isc 9.2 A, bonded) with a PWM controller. */
function pwm(wire: Cable | undefined, fields: Partial<SolarArray> = {}) {
  const rig = rigWith(undefined);
  const { cable: _, ...array } = rig.solar[0]!;
  const solar: SolarArray = {
    ...array,
    ...(wire && { cable: wire }),
    controller: { ...array.controller, kind: 'PWM' },
    ...fields,
  };
  const [panel, controller] = ['roof panel', 'roof controller'].map((name) =>
    circuits({ ...rig, solar: [solar] }).find((circuit) => circuit.name === name),
  );
  return { panel: panel!, controller: controller! };
}

test('a PWM controller has the same current on both sides: the short-circuit current, as far as it lets it through', () => {
  for (const [currentA, expected] of [
    [20, 9.2],
    [8, 8],
  ] as const) {
    const controller = { kind: 'PWM', currentA, efficiency: 0.98, standbyW: 0.1, startMarginV: 0 } as const;
    const both = pwm(solarCable(5, 6), { controller });
    expect(both.panel.currentA).toBeCloseTo(expected, 12);
    expect(both.controller.currentA).toBe(both.panel.currentA);
    // The panel's fuse must still bear its short circuit: 1.25 · 9.2 A = 11.5 A.
    expect(both.panel.fuseA).toBe(15);
  }
});

test('the drop may take what the hot module has above charging, and no more', () => {
  // King et al. 2004: 35 + 1000 · exp(-2.895 - 0.0463) = 87.8 °C; 20.4 V · (1 - 0.0036 · 62.8) = 15.79 V work there.
  // 14.2 V of absorption and 0.25 V of the controller are 14.45 V, so 1.34 V or 8.5 % may be lost.
  const { panel } = pwm(solarCable(5, 2.5));
  expect(panel.sourceV).toBeCloseTo(15.79, 2);
  expect(panel.limitPercent).toBeCloseTo((100 * 1.34) / 15.79, 1);
  // 10 m of 7.98 Ω/km at 68 °C (factor 1.189) and some warmth of its own are 0.097 Ω: 9.2 A lose 0.89 V, 5.6 %.
  expect(panel.dropV).toBeCloseTo(0.89, 1);
  expect(panel).toMatchObject({ ok: true, level: 'ok', adviseMm2: 2.5 });
  // of 1.5 mm² (13.3 Ω/km) 1.45 V and more
  const thin = pwm(solarCable(5, 1.5)).panel;
  expect(thin).toMatchObject({ ok: false, level: 'caution', adviseMm2: 2.5 });
  expect(thin.arrivesV).toBeLessThan(14.45);
  expect(thin.faults).toContainEqual(
    expect.objectContaining({
      code: 'drop_too_large',
      args: expect.objectContaining({ limitShare: expect.closeTo(0.085, 3) }),
    }),
  );
  // The same cable at an MPPT: 8.6 A lose 0.84 V of 20.4 V, 4.1 %, which costs as much power.
  const mppt = circuits({
    ...rigWith(undefined),
    solar: [{ ...rigWith(undefined).solar[0]!, cable: solarCable(5, 2.5) }],
  });
  expect(mppt.find(({ name }) => name === 'roof panel')).toMatchObject({ ok: false, limitPercent: 3 });
});

test('the remark says why, with a cable and without', () => {
  for (const wire of [solarCable(5, 2.5), undefined])
    expect(pwm(wire).panel.remark).toEqual({
      code: 'pwm_voltage_to_spare',
      args: { hotV: expect.closeTo(15.79, 2), hotC: expect.closeTo(87.8, 1), neededV: expect.closeTo(14.45, 9) },
    });
});

test('a module that hardly reaches charging when hot keeps the usual limit, for there a drop costs current', () => {
  // poly of 36 cells: 18.18 V · (1 - 0.0042 · 62.8) = 13.4 V, below the 14.45 V
  const { datasheet: _, ...array } = rigWith(undefined).solar[0]!;
  const of = (technology: PanelTechnology) => {
    const solar: SolarArray = {
      ...array,
      technology,
      cable: cable(5, 2.5),
      controller: { ...array.controller, kind: 'PWM' },
    };
    return circuits({ ...rigWith(undefined), solar: [solar] }).find(({ name }) => name === 'roof panel')!;
  };
  expect(of('poly')).toMatchObject({ limitPercent: 3, ok: false });
  expect(of('poly').remark).toEqual({
    code: 'pwm_voltage_scarce',
    args: { hotV: expect.closeTo(13.4, 1), hotC: expect.closeTo(87.8, 1), neededV: expect.closeTo(14.45, 9) },
  });
  // mono of 36 cells: 20.34 V · (1 - 0.0036 · 62.8) = 15.74 V
  expect(of('mono').limitPercent).toBeGreaterThan(8);
});

test('a controller with set points of its own is judged by these', () => {
  const charge = { absorptionV: 14.8 };
  const controller = { kind: 'PWM', currentA: 20, efficiency: 0.98, standbyW: 0.1, startMarginV: 0, charge } as const;
  const both = pwm(solarCable(5, 2.5), { controller });
  expect(both.controller.sourceV).toBe(14.8);
  // 15.79 V - 14.8 V - 0.25 V = 0.74 V, 4.7 %: the 0.81 V are too much now
  expect(both.panel.limitPercent).toBeCloseTo(4.7, 1);
  expect(both.panel.ok).toBe(false);
});
