import { describe, expect, test } from 'vitest';
import { readRig } from '../../../packages/core/src/rig/index.js';
import { checkRig, controllerFindings } from '../../../packages/core/src/simulate/index.js';

/** Two invented modules of 40 V in series: IEC 60891 has 2 · 40 V · (1 + 0.003 · 35) = 88.4 V at -10 degC. */
const SHEET = 'datasheet: { voc: 40 V, isc: 9 A, vmp: 32 V, imp: 8.5 A, tempVoltage: -0.3 %/degC }';
const rigOf = ({ series = 2, bears = '', sheet = `, ${SHEET}`, more = '' }) =>
  readRig(`
battery: { chemistry: LFP, capacity: 100 Ah }
solar:
  - { power: 272 W, count: ${series}, series: ${series}${sheet}${more}, controller: { kind: MPPT, current: 30 A${bears && `, inputVoltage: ${bears}`} } }
`).rig;
const found = (of: Parameters<typeof rigOf>[0]) => controllerFindings(rigOf(of));

describe('the largest voltage a controller bears, against its panels in the cold', () => {
  test.each([
    ['88.3 V', 'danger'],
    ['88.5 V', 'caution'],
    // 88.4 V / 0.95 = 93.05 V
    ['93 V', 'caution'],
  ])('%s is a %s', (bears, level) => {
    const [finding, ...others] = found({ bears });
    expect(others).toEqual([]);
    expect(finding).toMatchObject({ level, path: 'solar[0].controller.inputVoltage' });
    expect(finding!.args).toMatchObject({ series: 2, coldV: expect.closeTo(88.4, 6), coldC: -10 });
  });

  test('above it the controller is destroyed and can burn, near it little is left, and what would do is given', () => {
    // 0.003 · 80 V · 10 K = 2.4 V; 88.4 V / 0.95 = 93.05 V
    expect(found({ bears: '80 V' })[0]).toMatchObject({
      code: 'array_voltage_destroys',
      args: { tenKelvinV: expect.closeTo(2.4, 6), maxInputV: 80, neededV: expect.closeTo(93.05, 2), isLive: true },
    });
    // 1.6 V / 2.4 V · 10 K = 6.7 K
    expect(found({ bears: '90 V' })[0]).toMatchObject({
      code: 'array_voltage_scarce',
      args: { marginShare: 0.05, reachedC: expect.closeTo(-16.67, 2), isLive: true },
    });
    for (const bears of ['90 V', '93.1 V']) expect(found({ bears })[0]!.code).not.toBe('array_voltage_destroys');
  });

  test('with more to spare it is enough: a note, and still not to be touched from 60 V on', () => {
    expect(found({ bears: '93.1 V' })[0]).toMatchObject({ level: 'caution' });
    // 4.7 V / 2.4 V · 10 K = 19.6 K
    expect(found({ bears: '93.1 V' })[0]).toMatchObject({
      code: 'array_voltage_enough',
      args: { reachedC: expect.closeTo(-29.58, 2), isLive: true, touchV: 60 },
    });
    // 44.2 V of one module, 1.2 V more for each 10 K: 5.8 V is 48.3 K
    const [one] = found({ series: 1, bears: '50 V' });
    expect(one).toMatchObject({
      level: 'note',
      code: 'array_voltage_enough',
      args: { series: 1, coldV: expect.closeTo(44.2, 6), maxInputV: 50, reachedC: expect.closeTo(-58.33, 2) },
    });
    expect(one!.args).toMatchObject({ isLive: false });
    // Nobody lives in colder air than -60 °C: 1.2 V · 5 = 6 V
    expect(found({ series: 1, bears: '50.3 V' })[0]!.args).not.toHaveProperty('reachedC');
    const even = ', datasheet: { voc: 40 V, isc: 9 A, vmp: 32 V, imp: 8.5 A, tempVoltage: 0 %/degC }';
    const [scarce] = found({ series: 1, bears: '40.1 V', sheet: even });
    expect(scarce!.code).toBe('array_voltage_scarce');
    expect(scarce!.args).not.toHaveProperty('reachedC');
  });

  test('what it just bears is near it, and what is just 5 % below is near it too', () => {
    // no coefficient of voltage: the module stands at the same 38 V in any cold; 38 V are 95 % of 40 V
    const still = (bears: string) =>
      found({
        series: 1,
        bears,
        sheet: ', datasheet: { voc: 38 V, isc: 9 A, vmp: 32 V, imp: 8.5 A, tempVoltage: 0 %/degC }',
      })[0]!;
    for (const bears of ['38 V', '40 V']) {
      expect(still(bears).level).toBe('caution');
      expect(still(bears)).toMatchObject({ code: 'array_voltage_scarce', args: { tenKelvinV: 0 } });
    }
    expect(still('37.9 V').level).toBe('danger');
    expect(still('40.1 V').level).toBe('note');
  });

  test('one module alone can be too much, and needs another controller', () => {
    const [one] = found({ series: 1, bears: '40 V' });
    expect(one).toMatchObject({ level: 'danger' });
    // 44.2 V / 0.95 = 46.5 V
    expect(one!.args).toMatchObject({ series: 1, neededV: expect.closeTo(46.53, 2) });
  });

  test('not given: one module is not remarked on, more in series are, with the key that answers', () => {
    expect(found({ series: 1 })).toEqual([]);
    const [two] = found({});
    expect(two).toMatchObject({ level: 'caution', path: 'solar[0].series' });
    expect(two).toMatchObject({ code: 'array_voltage_unknown', args: { coldV: expect.closeTo(88.4, 6) } });
  });

  test('it is among the findings of the rig, and the gravest come first', () => {
    expect(checkRig(rigOf({ bears: '80 V' }))[0]).toEqual(found({ bears: '80 V' })[0]);
  });

  test.each([
    // 60 cells in series in a module above 220 W; 0.675 V and -0.29 %/K a cell of mono, 0.62 V and -0.33 %/K of poly
    ['mono', 2 * 60 * 0.675 * (1 + 0.0029 * 35)],
    ['poly', 2 * 60 * 0.62 * (1 + 0.0033 * 35)],
  ])('without a datasheet the voltages usual for %s are taken', (technology, coldV) => {
    const of = (bearsV: number) =>
      found({ sheet: '', more: `, technology: ${technology}`, bears: `${bearsV} V` })[0]!.code;
    expect(of(coldV - 0.01)).toBe('array_voltage_destroys');
    expect(of(coldV + 0.01)).toBe('array_voltage_scarce');
    // NEC table 690.7(A), from memory: 1.14 down to -10 degC, where the coefficient is not known. Enough is enough for that too.
    const atStcV = technology === 'mono' ? 81 : 74.4;
    expect(of(1.14 * atStcV)).not.toBe('array_voltage_enough');
  });
});

describe('the current a PWM controller bears, against what its panels give', () => {
  const of = (amps: number, kind = 'PWM', parallel = 1) =>
    controllerFindings(
      readRig(
        `{ battery: { chemistry: LFP, capacity: 100 Ah }, solar: [{ power: 170 W, count: ${2 * parallel}, series: 2, datasheet: { voc: 22 V, isc: 9.6 A, vmp: 18.5 V, imp: 9.19 A }, controller: { kind: ${kind}, current: ${amps} A } }] }`,
      ).rig,
    ).filter(({ path }) => path === 'solar[0].controller.current');

  test('NEC 690.8(A)(1), from memory: a quarter above the short-circuit current, of every string', () => {
    // 1.25 · 9.6 A = 12 A
    expect(of(12)).toEqual([]);
    expect(of(24, 'PWM', 2)).toEqual([]);
    const [near] = of(11.9);
    expect(near).toMatchObject({ level: 'caution' });
    expect(near).toMatchObject({ code: 'pwm_current_high', args: { shortA: 9.6, brightA: 12, currentA: 11.9 } });
    expect(of(9.5)[0]!.args).toMatchObject({ shortA: 9.6, currentA: 9.5 });
    expect(of(23.9, 'PWM', 2)[0]!.args).toMatchObject({ shortA: 19.2, brightA: 24 });
  });

  test('an MPPT holds the current back, and may have more panels than it can use', () => {
    expect(of(5, 'MPPT')).toEqual([]);
  });

  test('a controller that is left to the usual size bears its panels', () => {
    for (const watts of [50, 100, 175, 240, 400]) {
      const { rig } = readRig(
        `{ battery: { chemistry: AGM, capacity: 100 Ah }, solar: [{ power: ${watts} W, controller: { kind: PWM } }] }`,
      );
      expect(controllerFindings(rig)).toEqual([]);
    }
  });
});

test('an input voltage that no controller has is refused', () => {
  for (const bears of ['5 V', '100', '20 A']) expect(() => rigOf({ bears })).toThrow(/inputVoltage/);
});

describe('a panel of which only the watts are known', () => {
  const codes = (panel: string) =>
    checkRig(readRig(`{ battery: { chemistry: LFP, capacity: 100 Ah }, solar: [${panel}] }`).rig).map(
      ({ code }) => code,
    );

  test('above 220 W is said to be taken as one made for 12 V, unless its cells or datasheet are given', () => {
    expect(codes('{ power: 221 W }')).toContain('cells_assumed');
    for (const known of ['{ power: 220 W }', '{ power: 300 W, cells: 60 }', `{ power: 272 W, ${SHEET} }`])
      expect(codes(known), known).not.toContain('cells_assumed');
  });

  test('of more cells than a 12 V battery needs is wasted behind PWM', () => {
    expect(codes('{ power: 300 W, cells: 60, controller: { kind: PWM } }')).toContain('pwm_wastes_voltage');
    expect(codes('{ power: 300 W, controller: { kind: PWM } }')).not.toContain('pwm_wastes_voltage');
  });

  test('that lies flat and has an azimuth says something that does not count', () => {
    expect(codes('{ power: 100 W, azimuth: 90 deg }')).toContain('azimuth_of_flat');
    expect(codes('{ power: 100 W, tilt: 5 deg, azimuth: 90 deg }')).not.toContain('azimuth_of_flat');
  });
});
