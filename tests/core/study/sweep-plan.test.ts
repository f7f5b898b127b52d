import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { MAX_VARIANTS, parseVary, planSweep, variantsOf } from '../../../packages/core/src/study/index.js';

const textsOf = (text: string) => {
  const vary = parseVary(text);
  return Array.from({ length: vary.count }, (_, i) => vary.textAt(i));
};

describe('values of one quantity', () => {
  // Ranges first:step:last with both ends, and first:last in ones: mathjs, "Ranges" in its documentation of expressions.
  test.each([
    ['battery.capacity=50:25:200 Ah', ['50 Ah', '75 Ah', '100 Ah', '125 Ah', '150 Ah', '175 Ah', '200 Ah']],
    ['a=1:3', ['1', '2', '3']],
    ['a=3:-1:1', ['3', '2', '1']],
    ['a=0:2:5', ['0', '2', '4']],
    ['a=0:0.1:0.3', ['0', '0.1', '0.2', '0.3']],
    ['a=-10:10:10 degC', ['-10 degC', '0 degC', '10 degC']],
    ['a=10:10/4:15 %', ['10 %', '12.5 %', '15 %']],
    ['a=1e2:1e2:3e2 Ah', ['100 Ah', '200 Ah', '300 Ah']],
    ['a=5:1:5 W', ['5 W']],
    ['a=0.3:0.3:0.9 kWh/day', ['0.3 kWh/day', '0.6 kWh/day', '0.9 kWh/day']],
    ['a=1:2 /day', ['1 /day', '2 /day']],
    ['battery.capacity=50, 100,200 Ah', ['50 Ah', '100 Ah', '200 Ah']],
    ['a=50 Ah,1.2 kAh', ['50 Ah', '1.2 kAh']],
    ['a=1:2:5,10,20 A', ['1 A', '3 A', '5 A', '10 A', '20 A']],
    ['battery.chemistry=LFP,AGM', ['LFP', 'AGM']],
    ['solar[0].cable.gauge=10 AWG,1/0 AWG', ['10 AWG', '1/0 AWG']],
    ['loads.lights.when=sunset to 22:30,18:00 to 23:00', ['sunset to 22:30', '18:00 to 23:00']],
    ['a=09:30,10:20', ['09:30', '10:20']],
    ['a="1:3",2', ['"1:3"', '2']],
    ['a=2026-10-03,2026-11-03', ['2026-10-03', '2026-11-03']],
    ['a="clamp(4 * (cabin - 24), 0, 30)",5 W', ['"clamp(4 * (cabin - 24), 0, 30)"', '5 W']],
    [
      'solar[0].shade=[],[{ from: "07:00", to: "09:00", keeps: 40 % }]',
      ['[]', '[{ from: "07:00", to: "09:00", keeps: 40 % }]'],
    ],
    ['stops[0].at=[41.7, -8.8],[43.6, -8.1]', ['[41.7, -8.8]', '[43.6, -8.1]']],
  ])('%s', (text, expected) => {
    expect(textsOf(text)).toEqual(expected);
  });

  test('a common unit stands in the heading, and cells are numbers; else cells are texts', () => {
    const one = parseVary('battery.capacity=50,100 Ah');
    expect([one.unit, one.cellAt(0), one.cellAt(1)]).toEqual(['Ah', 50, 100]);
    const two = parseVary('a=50 Ah,1.2 kAh');
    expect([two.unit, two.cellAt(0), two.cellAt(1)]).toEqual([undefined, '50 Ah', '1.2 kAh']);
    const bare = parseVary('battery.count=1:3');
    expect([bare.unit, bare.cellAt(2)]).toEqual(['', 3]);
  });

  test.each([
    ['', /does not say what to vary/],
    ['battery.capacity', /does not say what to vary/],
    ['=50 Ah', /does not say what to vary/],
    ['battery.capacity=', /has no values/],
    ['a=1,,2', /empty place/],
    ['a=1,2,', /empty place/],
    ['a=50:0:200 Ah', /the step of "50:0:200 Ah" is 0/],
    ['a=200:25:50 Ah', /never gets from 200 to 50.*did you mean 50:25:200 Ah\?/],
    ['a=50:-25:200 Ah', /did you mean 50:25:200 Ah\?/],
    ['a=1:2:3:4', /has 4 parts/],
    ['a=1:1/0:3', /no finite number|division by 0/],
    ['a=1:(2:3', /./],
    ['a=1:1:1e400', /not finite/],
    ['a=LFP,AGM,LFP', /"LFP" is given twice/],
    ['a=50:25:100,75 Ah', /"75 Ah" is given twice/],
    ['a=1\n2', /line break/],
  ])('%j is refused', (text, message) => {
    expect(() => textsOf(text)).toThrow(message);
    expect(() => textsOf(text)).toThrow(expect.objectContaining({ name: 'ConfigError' }));
  });
});

describe('the variants of a sweep', () => {
  test('every combination, the last quantity fastest', () => {
    const plan = planSweep(['a=1:2', 'b=x,y,z']);
    expect(plan.variants).toBe(6);
    expect(Array.from({ length: 6 }, (_, i) => plan.indexes(i))).toEqual([
      [0, 0],
      [0, 1],
      [0, 2],
      [1, 0],
      [1, 1],
      [1, 2],
    ]);
  });

  test('a thousand million are counted, not made, and the way out is told', () => {
    const plan = planSweep(['a=1:1000', 'b=1:1000', 'c=1:1000']);
    expect(plan.variants).toBe(1e9);
    expect(plan.indexes(1e9 - 1)).toEqual([999, 999, 999]);
    expect(() => variantsOf(plan)).toThrow(
      /1,000,000,000 variants.*1,000,000 at most.*1,000 parts.*part i\/n.*sample N/,
    );
    expect(() => variantsOf(plan, { part: 1, of: 999 })).toThrow(/part i\/n/);
    expect(variantsOf(plan, { part: 1000, of: 1000 })).toEqual({ from: 1e9 - MAX_VARIANTS, to: 1e9 });
    expect(() => planSweep(['a=1:1:1e9', 'b=1:1:1e9'])).toThrow(/1\.0e\+18 variants/);
  });

  test.each([
    [['a=1,2', 'a=3,4'], /varied twice/],
    [['battery=x,y', 'battery.capacity=1:2 Ah'], /change the same thing/],
    [['solar[0].power=1:2 W', 'solar.0.power=1:2 W'], /varied twice/],
    [[], /nothing is varied/],
  ])('%j is refused', (vary, message) => {
    expect(() => planSweep(vary)).toThrow(message);
  });

  test('the parts of any sweep cover it once, in order, as equal as they divide', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 5000 }), fc.integer({ min: 1, max: 60 }), (variants, of) => {
        const plan = planSweep([`a=1:1:${variants}`]);
        let next = 0;
        for (let part = 1; part <= of; part++) {
          const { from, to } = variantsOf(plan, { part, of });
          expect(from).toBe(next);
          expect(Math.abs(to - from - variants / of)).toBeLessThan(1);
          next = to;
        }
        expect(next).toBe(variants);
      }),
    );
  });

  test('a Latin hypercube has one variant in each of its strata, in every quantity (McKay, Beckman & Conover 1979)', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 200 }), fc.integer({ min: 0, max: 1e9 }), (sample, seed) => {
        const plan = planSweep([`a=1:1:${sample}`, `b=1:1:${3 * sample}`], { sample, seed });
        expect(plan.variants).toBe(sample);
        const drawn = Array.from({ length: sample }, (_, i) => plan.indexes(i));
        const sorted = (values: number[]) => values.sort((x, y) => x - y);
        const strata = Array.from({ length: sample }, (_, i) => i);
        expect(sorted(drawn.map(([a]) => a!))).toEqual(strata);
        expect(sorted(drawn.map(([, b]) => Math.floor(b! / 3)))).toEqual(strata);
      }),
    );
  });

  test('the same seed draws the same, another seed others; two quantities do not go together', () => {
    const draw = (seed: number) => {
      const plan = planSweep(['a=1:1000', 'b=1:1000'], { sample: 1000, seed });
      return Array.from({ length: 1000 }, (_, i) => plan.indexes(i));
    };
    expect(draw(7)).toEqual(draw(7));
    expect(draw(7)).not.toEqual(draw(8));
    const mean = 499.5;
    const [both, one] = [draw(7), draw(7)].map((rows, k) =>
      rows.reduce((sum, [a, b]) => sum + (a! - mean) * ((k === 0 ? b! : a!) - mean), 0),
    );
    // Of 1000 pairs drawn independently the correlation has a standard deviation of 0.03.
    expect(Math.abs(both! / one!)).toBeLessThan(0.12);
  });
});
