import fc from 'fast-check';
import { expect, test } from 'vitest';
import { awgSectionMm2 } from '../../packages/core/src/quantity/index.js';
import type { Cable } from '../../packages/core/src/rig/index.js';
import {
  AMPACITY_A,
  adviseSection,
  ampacityA,
  cableFit,
  cableLoopOhm,
  fuseFor,
} from '../../packages/core/src/wire/index.js';
import { cable } from '../core/wire/example.js';

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const metric = real(0.3, 300);
const lengthM = real(0, 30);
const demand = fc
  .record({
    sourceV: fc.constantFrom(12, 24, 14.2),
    currentA: real(0, 150),
    isPower: fc.boolean(),
    dropLimit: fc.constantFrom(0.03, 0.1),
    ambientC: real(0, 60),
  })
  .map(({ isPower, ...rest }) => (isPower ? { ...rest, powerW: rest.currentA * rest.sourceV } : rest));

test('a thicker cable never drops more, a longer one never less, a hotter one never less', () => {
  fc.assert(
    fc.property(metric, metric, lengthM, lengthM, real(-40, 100), real(0, 80), (a, b, m, more, c, hotter) => {
      const [thin, thick] = a < b ? [a, b] : [b, a];
      const ohm = cableLoopOhm(cable(m, thin), c);
      expect(cableLoopOhm(cable(m, thick), c)).toBeLessThanOrEqual(ohm * (1 + 1e-12));
      expect(cableLoopOhm(cable(m + more, thin), c)).toBeGreaterThanOrEqual(ohm);
      expect(cableLoopOhm(cable(m, thin), c + hotter)).toBeGreaterThanOrEqual(ohm);
    }),
  );
});

test('the same holds for the drop of a circuit, its own heat and constant powers included', () => {
  fc.assert(
    fc.property(metric, metric, lengthM, lengthM, demand, (a, b, m, more, asked) => {
      const [thin, thick] = a < b ? [a, b] : [b, a];
      const { dropV } = cableFit(cable(m, thin), asked);
      expect(cableFit(cable(m, thick), asked).dropV).toBeLessThanOrEqual(dropV * (1 + 1e-9) + 1e-12);
      expect(cableFit(cable(m + more, thin), asked).dropV).toBeGreaterThanOrEqual(dropV * (1 - 1e-9) - 1e-12);
    }),
  );
});

test('a thicker gauge never drops more', () => {
  const order = ['18', '16', '14', '12', '10', '8', '6', '4', '2', '1', '1/0', '2/0', '3/0', '4/0'];
  const ohms = order.map((gaugeAwg) => cableLoopOhm(cable(3, awgSectionMm2(gaugeAwg)!, { gaugeAwg }), 20));
  ohms.slice(1).forEach((ohm, i) => {
    expect(ohm).toBeLessThan(ohms[i]!);
  });
});

test('ampacity falls with heat and company, grows with section', () => {
  fc.assert(
    fc.property(
      metric,
      metric,
      real(0, 69),
      real(0, 20),
      fc.integer({ min: 1, max: 30 }),
      (a, b, c, hotter, bundled) => {
        const [thin, thick] = a < b ? [a, b] : [b, a];
        const limitA = ampacityA(cable(1, thin, { bundled }), c);
        expect(ampacityA(cable(1, thick, { bundled }), c)).toBeGreaterThanOrEqual(limitA * (1 - 1e-12));
        expect(ampacityA(cable(1, thin, { bundled }), c + hotter)).toBeLessThanOrEqual(limitA);
        expect(ampacityA(cable(1, thin, { bundled: bundled + 1 }), c)).toBeLessThan(limitA + 1e-12);
      },
    ),
  );
});

test('a fuse lies between the load and the ampacity, or there is none and a reason', () => {
  fc.assert(
    fc.property(real(0, 600), real(0, 900), (loadA, limitA) => {
      const { fuseA, lacks, smallestA } = fuseFor({ loadA, ampacityA: limitA });
      expect(fuseA === null).toBe(lacks !== undefined);
      if (lacks === 'ampacity') expect(smallestA).toBeGreaterThan(limitA);
      if (fuseA !== null) {
        expect(fuseA).toBeGreaterThanOrEqual(1.25 * loadA * (1 - 1e-9));
        expect(fuseA).toBeLessThanOrEqual(limitA);
      }
    }),
  );
});

test('the advised section meets drop and fuse, and none below it does', () => {
  fc.assert(
    fc.property(lengthM, demand, fc.boolean(), (m, asked, isGauge) => {
      const wire: Cable = cable(m, 1, isGauge ? { gaugeAwg: '18' } : {});
      const advised = adviseSection(wire, asked);
      if (advised === undefined) return;
      const fit = cableFit(advised, asked);
      expect(fit.dropOk && fit.fuse.fuseA !== null).toBe(true);
      for (const size of AMPACITY_A) {
        if (isGauge || size[0] >= advised.sectionMm2) continue;
        const below = cableFit({ ...wire, sectionMm2: size[0] }, asked);
        expect(below.dropOk && below.fuse.fuseA !== null).toBe(false);
      }
    }),
  );
});
