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
    expect(finding!.text).toMatch(/^2 in series stand at 88\.4 V at -10 °C when nothing is drawn/);
  });

  test('above it the controller is destroyed and can burn, near it little is left, and what would do is told', () => {
    // 0.003 · 80 V · 10 K = 2.4 V; 88.4 V / 0.95 = 93.05 V
    expect(found({ bears: '80 V' })[0]!.text).toMatch(
      /2\.4 V more for each 10 K colder.*bears 80 V: the controller is destroyed, and it can burn; put fewer in series, or use a controller that bears 94 V or more; above 60 V/,
    );
    // 1.6 V / 2.4 V · 10 K = 6.7 K
    expect(found({ bears: '90 V' })[0]!.text).toMatch(/no more than 5 % is left, and at -16 °C nothing; above 60 V/);
    for (const bears of ['90 V', '93.1 V']) expect(found({ bears })[0]!.text).not.toMatch(/destroyed/);
  });

  test('with more to spare it is enough: a note, and still not to be touched from 60 V on', () => {
    expect(found({ bears: '93.1 V' })[0]).toMatchObject({ level: 'caution' });
    // 4.7 V / 2.4 V · 10 K = 19.6 K
    expect(found({ bears: '93.1 V' })[0]!.text).toMatch(
      /which is enough down to -29 °C; above 60 V touching it is dangerous$/,
    );
    // 44.2 V of one module, 1.2 V more for each 10 K: 5.8 V is 48.3 K
    const [one] = found({ series: 1, bears: '50 V' });
    expect(one).toMatchObject({ level: 'note' });
    expect(one!.text).toMatch(/^it stands at 44\.2 V .* bears 50 V, which is enough down to -58 °C$/);
    // Nobody lives in colder air than -60 °C: 1.2 V · 5 = 6 V
    expect(found({ series: 1, bears: '50.3 V' })[0]!.text).toMatch(/which is enough$/);
    const even = ', datasheet: { voc: 40 V, isc: 9 A, vmp: 32 V, imp: 8.5 A, tempVoltage: 0 %/degC }';
    expect(found({ series: 1, bears: '40.1 V', sheet: even })[0]!.text).toMatch(/no more than 5 % is left$/);
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
      expect(still(bears).text).toMatch(/\(0\.0 V more for each 10 K colder\).*no more than 5 % is left/);
    }
    expect(still('37.9 V').level).toBe('danger');
    expect(still('40.1 V').level).toBe('note');
  });

  test('one module alone can be too much, and needs another controller', () => {
    const [one] = found({ series: 1, bears: '40 V' });
    expect(one).toMatchObject({ level: 'danger' });
    expect(one!.text).toMatch(/; use a controller that bears 47 V or more$/);
  });

  test('not given: one module is not remarked on, more in series are, with the key that answers', () => {
    expect(found({ series: 1 })).toEqual([]);
    const [two] = found({});
    expect(two).toMatchObject({ level: 'caution', path: 'solar[0].series' });
    expect(two!.text).toMatch(/about 88 V in the cold.*controller\.inputVoltage/);
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
      found({ sheet: '', more: `, technology: ${technology}`, bears: `${bearsV} V` })[0]!.text;
    expect(of(coldV - 0.01)).toMatch(/destroyed/);
    expect(of(coldV + 0.01)).not.toMatch(/destroyed/);
    // NEC table 690.7(A), from memory: 1.14 down to -10 degC, where the coefficient is not known. Enough is enough for that too.
    const atStcV = technology === 'mono' ? 81 : 74.4;
    expect(of(1.14 * atStcV)).not.toMatch(/which is enough/);
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
    expect(near!.text).toMatch(/up to 9\.6 A in full sun and 12\.0 A .* and then more than the 11\.9 A .* overheats/);
    expect(of(9.5)[0]!.text).toMatch(/clouds, more than the 9\.5 A/);
    expect(of(23.9, 'PWM', 2)[0]!.text).toMatch(/up to 19\.2 A .*use a PWM controller of 24 A or more, or an MPPT/);
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
