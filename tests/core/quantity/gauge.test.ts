import { expect, test } from 'vitest';
import { awgSectionMm2, parseQuantity, readGauge } from '../../../packages/core/src/quantity/index.js';

// ASTM B258 defines the diameters: 36 AWG is 0.005 in, 4/0 AWG 0.46 in, exactly.
test.each([
  ['36', (Math.PI / 4) * 0.127 ** 2, 1e-12, 'ASTM B258: 0.0050 in by definition'],
  ['4/0', (Math.PI / 4) * (0.46 * 25.4) ** 2, 1e-12, 'ASTM B258: 0.4600 in by definition'],
  // from memory: the usual table of AWG sizes in mm2
  ['10', 5.261, 5e-4, 'AWG table, from memory'],
  ['12', 3.309, 5e-4, 'AWG table, from memory'],
  ['6', 13.3, 5e-3, 'AWG table, from memory'],
  ['1/0', 53.49, 5e-4, 'AWG table, from memory'],
])('%s AWG is %d mm2 (within %d; %s)', (gauge, expected, relative) => {
  const area = awgSectionMm2(gauge)!;
  expect(Math.abs(area - expected)).toBeLessThanOrEqual(relative * expected);
});

test('three gauges are about a factor of two in area (common practice, no source)', () => {
  expect(awgSectionMm2('10')! / awgSectionMm2('13')!).toBeCloseTo(2, 1);
});

test.each([
  ['10 AWG', '10'],
  ['10awg', '10'],
  ['AWG 1/0', '1/0'],
  ['2/0 AWG', '2/0'],
  ['10', undefined],
  ['41 AWG', undefined],
  ['5/0 AWG', undefined],
  ['-1 AWG', undefined],
  ['10.5 AWG', undefined],
])('%s is read as the gauge %s', (text, gauge) => {
  expect(readGauge(text)).toBe(gauge);
});

test('a section may be given as a gauge', () => {
  expect(parseQuantity('10 AWG', 'section')).toBe(awgSectionMm2('10'));
});
