import { checkRig, readRig, readTrip, simulate } from '@stayput/core';
import { overloads } from '@stayput/core/model';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';

const rigOf = (loads: string, inverter = 'inverter: { rating: 2000 W, efficiency: 90 % }') =>
  readRig(`
battery: { chemistry: LFP, capacity: 100 Ah, maxDischarge: 100 A }
${inverter}
loads: [${loads}]
`).rig;
const HOB = 'name: hob, power: 1800 W, hours: 0.2, inverter: true';
const said = (loads: string, inverter?: string) =>
  overloads(rigOf(loads, inverter)).map(({ code, args }) => [code, args.names]);

describe('a hob of 1,800 W on a battery that gives 100 A', () => {
  // 1,800 W and the inverter's loss at some 13 V are far above 100 A, and 100 A at 13.6 V are 1,360 W
  test.each(['', ', when: "18:00 to 18:12"', ', when: "18:00 to 19:00"', ', when: sunset to 23:00'])(
    'is too much wherever its hours are written: %s',
    (when) => {
      const rig = rigOf(`{ ${HOB}${when} }`);
      expect(overloads(rig)).toMatchObject([
        { code: 'battery_overload', args: { names: ['hob'], maxDischargeA: 100, fromSoc: 1 } },
      ]);
      const finding = checkRig(rig).find(({ code }) => code === 'battery_overload');
      expect(finding).toMatchObject({ level: 'danger', path: 'loads[0]' });
      const { args } = finding as { args: { askedW: number; currentA: number; voltageV: number } };
      expect(args.askedW).toBeGreaterThan(1800);
      expect(args.currentA * args.voltageV).toBeCloseTo(args.askedW, 6);
    },
  );

  test('the run warns of it with and without times, but not where it is not used', () => {
    const trip = (use: string) =>
      readTrip(`{ stops: [{ at: [41.1, -8.6], from: 2026-06-10, nights: 2${use} }], weather: clear }`).trip;
    for (const when of ['', ', when: "18:00 to 18:12"']) {
      const codes = (use: string) => simulate(rigOf(`{ ${HOB}${when} }`), trip(use)).warnings.map(({ code }) => code);
      expect(codes('')).toContain('battery_overload');
      expect(codes(', use: { hob: 0 }')).not.toContain('battery_overload');
    }
  });
});

test('a kettle of 1,000 W on an inverter of 600 W is a danger, one of 600 W is none', () => {
  const kettle = (watts: number) => `{ name: kettle, power: ${watts} W, hours: 0.1, inverter: true }`;
  const inverter = 'inverter: { rating: 600 W }';
  expect(checkRig(rigOf(kettle(1000), inverter)).find(({ code }) => code === 'inverter_overload')).toEqual({
    level: 'danger',
    path: 'loads[0]',
    code: 'inverter_overload',
    args: { names: ['kettle'], askedW: 1000, ratingW: 600 },
  });
  expect(said(kettle(600), inverter)).toEqual([]);
});

describe('loads that are too much together', () => {
  const two = (first: string, second: string) =>
    said(
      `{ name: kettle, power: 700 W, hours: 0.1, inverter: true${first} }, { name: toaster, power: 600 W, hours: 0.1, inverter: true${second} }, { name: lamp, power: 5 W }`,
      'inverter: { rating: 1000 W }',
    );
  test.each([
    ['at any time', '', '', true],
    ['in windows that meet', ', when: "07:00 to 08:00"', ', when: "07:30 to 09:00"', true],
    ['across midnight', ', when: "22:00 to 02:00"', ', when: "01:00 to 03:00"', true],
    ['by the sun, which may rise then', ', when: sunrise to 13:00', ', when: "05:00 to 06:00"', true],
    ['one window ends as the other begins', ', when: "07:00 to 08:00"', ', when: "08:00 to 09:00"', false],
    ['at other times of the day', ', when: "07:00 to 08:00"', ', when: "18:00 to 19:00"', false],
  ])('%s', (_what, first, second, isTogether) => {
    expect(two(first, second)).toEqual(isTogether ? [['inverter_overload', ['kettle', 'toaster']]] : []);
  });

  test('is a caution, as they need not meet, and names the fewest that are too many', () => {
    const rig = rigOf(
      ['kettle', 'toaster', 'fan']
        .map((name, k) => `{ name: ${name}, power: ${700 - 100 * k} W, hours: 0.1, inverter: true }`)
        .join(', '),
      'inverter: { rating: 1000 W }',
    );
    expect(checkRig(rig).filter(({ code }) => code === 'inverter_overload')).toMatchObject([
      { level: 'caution', args: { names: ['kettle', 'toaster'], askedW: 1300 } },
    ]);
  });
});

test('a battery whose voltage falls below its disconnect is overloaded without a limit of current', () => {
  const rig = readRig(`
battery: { chemistry: AGM, capacity: 50 Ah, disconnect: 11.5 V, reconnect: 12.5 V }
loads: [{ name: winch, current: 200 A, times: 1, lasts: 1 min }]
`).rig;
  expect(overloads(rig)).toMatchObject([
    { code: 'battery_overload', args: { names: ['winch'], disconnectV: 11.5, fromSoc: 1 } },
  ]);
});

test('without their windows, loads are never judged better than with them', () => {
  const hour = fc.integer({ min: 0, max: 23 });
  const load = fc.record({
    watts: fc.integer({ min: 50, max: 900 }),
    from: hour,
    lasts: fc.integer({ min: 1, max: 8 }),
    ac: fc.boolean(),
  });
  fc.assert(
    fc.property(fc.array(load, { minLength: 10, maxLength: 10 }), (loads) => {
      const of = (hasWindows: boolean) =>
        rigOf(
          loads
            .map(({ watts, from, lasts, ac }, k) => {
              const when = hasWindows ? `, when: "${from}:00 to ${(from + lasts) % 24}:00"` : '';
              return `{ name: load${k}, power: ${watts} W, hours: 0.2, inverter: ${ac}${when} }`;
            })
            .join(', '),
          'inverter: { rating: 1000 W }',
        );
      const grade = (hasWindows: boolean) =>
        (['inverter_overload', 'battery_overload'] as const).map(
          (code) =>
            checkRig(of(hasWindows))
              .filter((finding) => finding.code === code)
              .map(({ level }) => ({ note: 0, caution: 1, danger: 2 })[level])
              .sort()
              .at(-1) ?? 0,
        );
      const [withWindows, without] = [grade(true), grade(false)];
      withWindows.forEach((one, k) => {
        expect(without[k]).toBeGreaterThanOrEqual(one);
      });
    }),
    { numRuns: 30 },
  );
});
