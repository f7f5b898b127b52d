import { describe, expect, test } from 'vitest';
import type { Cable, Rig } from '../../../packages/core/src/rig/index.js';
import {
  adviseSection,
  ampacityA,
  bundleFactor,
  type Circuit,
  type CircuitDemand,
  cableFit,
  cableLoopOhm,
  cableReaches,
  circuits,
  conductorC,
  currentForPowerA,
  fuseFor,
  WIRE_CAUTIONS,
} from '../../../packages/core/src/wire/index.js';
import { cable, rigWith } from './example.js';

const demand = (fields: Partial<CircuitDemand> = {}): CircuitDemand => ({
  sourceV: 12,
  currentA: 5,
  dropLimit: 0.03,
  ambientC: 30,
  ...fields,
});

describe('at the ends of what is allowed', () => {
  test('a fuse of just 1.25 times the load, and just of the ampacity, will do; the largest is 500 A', () => {
    expect(fuseFor({ loadA: 8, ampacityA: 10 }).fuseA).toBe(10);
    expect(fuseFor({ loadA: 8, ampacityA: 9.9 }).fuseA).toBeNull();
    expect(fuseFor({ loadA: 400, ampacityA: 500 }).fuseA).toBe(500);
    expect(fuseFor({ loadA: 0, ampacityA: 0.5 }).fuseA).toBeNull();
    expect(fuseFor({ loadA: 0, ampacityA: 1 }).fuseA).toBe(1);
    expect(fuseFor({ loadA: 0, ampacityA: 0 }).fuseA).toBeNull();
  });

  test('lengths of 0 and 1000 m and conductors of −60 and 200 °C are calculated, what lies beyond is refused', () => {
    // class 5: 1000 m out and back of 7.98 Ω/km (IEC 60228)
    expect(cableLoopOhm(cable(1000, 2.5), 20)).toBeCloseTo(2 * 7.98, 9);
    expect(cableLoopOhm(cable(0, 2.5), 20)).toBe(0);
    for (const c of [-60, 200]) expect(cableLoopOhm(cable(1, 2.5), c)).toBeGreaterThan(0);
    for (const c of [-60.1, 200.1]) expect(() => cableLoopOhm(cable(1, 2.5), c)).toThrow(/conductorC.*-60 to 200/);
    expect(() => cableLoopOhm(cable(1, Number.POSITIVE_INFINITY), 20)).toThrow(/sectionMm2/);
    expect(() => cableLoopOhm(cable(-1, 2.5), 20)).toThrow(/lengthM/);
  });

  test('no cable carries anything without a section, or with insulation no warmer than the table’s 30 °C air', () => {
    for (const insulationC of [30, Number.NaN])
      expect(() => ampacityA(cable(1, 2.5, { insulationC }), 20)).toThrow(/insulationC/);
    for (const section of [0, Number.NaN]) expect(() => ampacityA(cable(1, section), 20)).toThrow(/sectionMm2/);
  });

  test('beyond the table the current follows section^0.6', () => {
    expect(ampacityA(cable(1, 240), 30)).toBeCloseTo(344 * 2 ** 0.6, 9);
    expect(ampacityA(cable(1, 0.375), 30)).toBeCloseTo(15 * 0.5 ** 0.6, 9);
  });

  test('a single wire is no bundle; a share of a wire counts as a whole one', () => {
    expect(bundleFactor(0)).toBe(1);
    expect(bundleFactor(1)).toBe(1);
    expect(bundleFactor(2.2)).toBe(bundleFactor(3));
  });

  test('a conductor is as hot as the air where it may carry nothing, and never above its insulation’s limit', () => {
    expect(conductorC(cable(1, 2.5), 75, 10)).toBe(75);
    expect(conductorC(cable(1, 2.5), 40, 1000)).toBe(70);
    // insulation of 105 °C is credited no more than the table's 70 °C at 30 °C
    const hot = cable(1, 2.5, { insulationC: 105 });
    expect(conductorC(hot, 30, ampacityA(hot, 30))).toBeCloseTo(70, 9);
    expect(conductorC(hot, 80, ampacityA(hot, 80))).toBeGreaterThanOrEqual(80);
  });
});

describe('what arrives', () => {
  test('no loop carries more than its voltage over its resistance, and no start leaves less than nothing', () => {
    const long = cable(200, 0.75);
    const fit = cableFit(long, demand({ currentA: 200, surgeA: 300, ambientC: 20 }));
    expect(fit.currentA).toBeCloseTo(12 / fit.loopOhm, 9);
    expect(fit.arrivesV).toBeCloseTo(0, 9);
    expect(fit.surgeArrivesV).toBe(0);
  });

  test('a constant power takes the smaller of its two currents, and at the most it can get just V / 2R', () => {
    // 12 V behind 1 Ω give 20 W at 2 A (10 V) and at 10 A (2 V); 36 W at 6 A and no more
    expect(currentForPowerA(12, 1, 20)).toBeCloseTo(2, 12);
    expect(currentForPowerA(12, 1, 36)).toBeCloseTo(6, 12);
    expect(currentForPowerA(12, 1, 37)).toBeCloseTo(6, 12);
  });

  test('a drop just at its limit is within it', () => {
    const wire = cable(3, 2.5);
    const { dropV } = cableFit(wire, demand());
    expect(cableFit(wire, demand({ dropLimit: dropV / 12 })).dropOk).toBe(true);
    expect(cableFit(wire, demand({ dropLimit: 0.999 * (dropV / 12) })).dropOk).toBe(false);
  });

  test('what must arrive is asked of the lasting current too, and just enough is enough', () => {
    const wire = cable(3, 2.5);
    const { arrivesV } = cableFit(wire, demand());
    expect(cableFit(wire, demand({ minV: arrivesV })).surgeOk).toBe(true);
    expect(cableFit(wire, demand({ minV: arrivesV + 0.001 })).surgeOk).toBe(false);
    const { surgeArrivesV } = cableFit(wire, demand({ surgeA: 20 }));
    expect(surgeArrivesV).toBeLessThan(arrivesV);
    expect(cableFit(wire, demand({ surgeA: 20, minV: arrivesV })).surgeOk).toBe(false);
    // a start that takes less than the lasting current does not hide it
    expect(cableFit(wire, demand({ surgeA: 1, minV: arrivesV + 0.001 })).surgeOk).toBe(false);
  });

  test('the fuse bears the larger of the lasting currents', () => {
    const wire = cable(1, 6);
    expect(cableFit(wire, demand({ currentA: 8, fuseLoadA: 16 })).fuse.fuseA).toBe(20);
    expect(cableFit(wire, demand({ currentA: 16, fuseLoadA: 8 })).fuse.fuseA).toBe(20);
  });
});

describe('cables still to be chosen', () => {
  test('a small load reaches 20 m with the first section, and that ends the list', () => {
    expect(cableReaches(demand({ currentA: 0.2 }))).toEqual([{ sectionMm2: 0.75, upToM: 20, fuseA: 1 }]);
  });

  test('each reach is the longest to a centimetre: a hair more fails', () => {
    const asked = demand({ currentA: 10 });
    const reaches = cableReaches(asked);
    expect(reaches).toHaveLength(4);
    for (const { sectionMm2, upToM, fuseA } of reaches) {
      // ordinary PVC alone at 30 °C: 3 % of 12 V over the loop at the conductor's own temperature
      expect(cableFit(cable(upToM, sectionMm2), asked)).toMatchObject({ dropOk: true, fuse: { fuseA } });
      if (upToM < 20) expect(cableFit(cable(upToM + 0.011, sectionMm2), asked).dropOk).toBe(false);
    }
    expect(cableReaches(asked, 2)).toEqual(reaches.slice(0, 2));
  });

  test('none carries what no fuse does, and there is no advice then', () => {
    expect(cableReaches(demand({ currentA: 450 }))).toEqual([]);
    expect(adviseSection(cable(1, 50), demand({ currentA: 450 }))).toBeUndefined();
  });
});

describe('what a judged circuit says', () => {
  const named = (rig: Rig, name: string): Circuit => circuits(rig).find((circuit) => circuit.name === name)!;
  const fridgeOn = (wire: Cable, fields = {}) => named(rigWith(wire, fields), 'fridge');
  const pumpOn = (wire: Cable, currentA = 5) => {
    const base = rigWith(cable(4, 2.5));
    const loads = base.loads.map((load) =>
      load.name === 'pump' ? { ...load, cable: wire, draw: { kind: 'current' as const, currentA } } : load,
    );
    return named({ ...base, loads } as Rig, 'pump');
  };

  test('nothing of a good one', () => {
    expect(fridgeOn(cable(4, 2.5))).toMatchObject({ faults: [], level: 'ok' });
  });

  test('drop, limit, current and section of one that loses too much', () => {
    // 2 · 30 m · 13.3 Ω/km · (234.5 + 45) / 254.5 = 0.88 Ω: 5 A lose 4.4 V of 12, 37 %
    const { faults, level, adviseMm2 } = pumpOn(cable(30, 1.5));
    expect(faults).toMatchObject([
      { code: 'drop_too_large', args: { dropShare: expect.closeTo(0.37, 1), currentA: 5, limitShare: 0.1 } },
    ]);
    expect(adviseMm2).toBe(6);
    expect(level).toBe('caution');
  });

  test('what arrives at the start, and why that is too little', () => {
    const { faults, adviseMm2 } = fridgeOn(cable(8, 1.5), { critical: false });
    // 12 V − 10 A · 2 · 8 m · 13.3 Ω/km · 279.5 / 254.5 = 9.66 V
    expect(faults).toMatchObject([
      { code: 'start_voltage_low', args: { arrivesV: expect.closeTo(9.66, 1), currentA: 10, cutOutV: 10.4 } },
    ]);
    expect(adviseMm2).toBe(2.5);
  });

  test('gauge and area of a cable given by its gauge', () => {
    const { adviseAwg, adviseMm2 } = fridgeOn(cable(8, 1.309, { gaugeAwg: '16' }));
    expect([adviseAwg, adviseMm2]).toEqual(['12', expect.closeTo(3.31, 2)]);
  });

  test('current, ampacity and air of one that can burn', () => {
    // 32 A of 2.5 mm² at 30 °C are 27.7 A at 40 °C: sqrt(30 / 40)
    const { faults, level } = pumpOn(cable(0.5, 2.5), 40);
    expect(faults).toMatchObject([
      {
        code: 'cable_overloaded',
        level: 'danger',
        args: {
          currentA: 40,
          sectionMm2: 2.5,
          ampacityA: expect.closeTo(27.7, 1),
          ambientC: 40,
          fuseProtects: false,
        },
      },
    ]);
    expect(level).toBe('danger');
  });

  test('why no fuse suits a cable that carries its load but nothing more', () => {
    // 26 A asks for a fuse of 35 A, the cable for at most 27.7 A
    expect(pumpOn(cable(0.5, 2.5), 26)).toMatchObject({ level: 'caution', ok: false, fuseA: null, adviseMm2: 4 });
    expect(pumpOn(cable(0.5, 2.5), 26).faults).toMatchObject([
      { code: 'no_fuse_protects', args: { currentA: 26, fuseA: 35, ampacityA: expect.closeTo(27.7, 1) } },
    ]);
  });

  test('both figures of a fuse that does not protect its cable, and the largest that would', () => {
    const tooLarge = { fittedFuseA: 40, sectionMm2: 2.5, ampacityA: expect.closeTo(27.7, 1), largestFuseA: 25 };
    expect(fridgeOn(cable(4, 2.5, { fuseA: 40 }))).toMatchObject({
      faults: [{ code: 'fuse_too_large', args: { ...tooLarge, fuseA: 10 } }],
      adviseMm2: 2.5,
    });
    expect(pumpOn(cable(0.5, 2.5, { fuseA: 40 }), 26).faults).toMatchObject([
      { code: 'no_fuse_protects' },
      { code: 'fuse_too_large', args: { ...tooLarge, fuseA: null } },
    ]);
  });

  test('a fuse between the load and the ampacity is right, at either end too', () => {
    for (const fuseA of [5, 25])
      expect(pumpOn(cable(1, 2.5, { fuseA }))).toMatchObject({ ok: true, fittedFuseA: fuseA });
    expect(pumpOn(cable(1, 2.5, { fuseA: 4 }))).toMatchObject({ ok: false, level: 'caution' });
    expect(pumpOn(cable(1, 2.5, { fuseA: 4 })).faults).toMatchObject([
      { code: 'fuse_too_small', args: { fittedFuseA: 4, currentA: 5 } },
    ]);
  });

  test('that nothing thicker helps where even 120 mm² does not', () => {
    const farBelowTarget = pumpOn(cable(900, 2.5), 30);
    expect(farBelowTarget).toMatchObject({ adviseMm2: null, ok: false });
  });

  test('that no cable is given, with sections that would do', () => {
    const { lengthM, wouldDo, ampacityA: carries, fuseA } = named(rigWith(undefined), 'fridge');
    expect(lengthM).toBeNull();
    expect(wouldDo!.length).toBeGreaterThan(0);
    expect([carries, fuseA]).toEqual([null, null]);
  });

  test('the advice is never thinner than a cable that is thick enough', () => {
    expect(fridgeOn(cable(4, 16, { fuseA: 100 }))).toMatchObject({ adviseMm2: 16, level: 'danger' });
  });

  test('the cautions stand by: estimate, licensed person, fuse at the battery', () => {
    expect(WIRE_CAUTIONS.join(' ')).toMatch(/not an electrical design.*licensed person.*battery end/);
  });
});
