import { describe, expect, test } from 'vitest';
import {
  type Dimension,
  formatQuantity,
  parseQuantity,
  QuantityError,
} from '../../../packages/core/src/quantity/index.js';

const fault = (text: string, dimension: Dimension): QuantityError => {
  try {
    const value = parseQuantity(text, dimension);
    throw new Error(`${text} was read as ${value}`);
  } catch (error) {
    if (error instanceof QuantityError) return error;
    throw error;
  }
};

describe('text with a unit is read as a number in the dimension’s own unit', () => {
  test.each<[string, Dimension, number]>([
    ['100 Ah', 'charge', 100],
    ['50Ah', 'charge', 50],
    ['50 ah', 'charge', 50],
    ['1200 mAh', 'charge', 1.2],
    ['0.33 kWh', 'energy', 330],
    ['1.2 kW', 'power', 1200],
    ['175W', 'power', 175],
    ['30 A', 'current', 30],
    ['150 mA', 'current', 0.15],
    ['12.8 V', 'voltage', 12.8],
    ['5 mohm', 'resistance', 0.005],
    ['5 mΩ', 'resistance', 0.005],
    ['5 m', 'length', 5],
    ['50 cm', 'length', 0.5],
    ['45 mm', 'thickness', 45],
    ['6 mm2', 'section', 6],
    ['6 mm²', 'section', 6],
    ['6mm^2', 'section', 6],
    ['1.1 m2', 'area', 1.1],
    ['11.5 kg', 'mass', 11.5],
    ['250 g', 'mass', 0.25],
    ['4 degC', 'temperature', 4],
    ['-18 °C', 'temperature', -18],
    ['4 C', 'temperature', 4],
    ['\u22125 degC', 'temperature', -5],
    ['8 degC', 'temperatureDifference', 8],
    ['8 K', 'temperatureDifference', 8],
    ['30 deg', 'angle', 30],
    ['30°', 'angle', 30],
    ['90 min', 'duration', 1.5],
    ['36 s', 'duration', 0.01],
    ['2 d', 'duration', 48],
    ['20 %', 'ratio', 0.2],
    ['20%', 'ratio', 0.2],
    ['0.2', 'ratio', 0.2],
    ['-0.36 %/degC', 'perKelvin', -0.0036],
    ['-0.36 %/K', 'perKelvin', -0.0036],
    ['-0.36%/°C', 'perKelvin', -0.0036],
    ['-24 mV/K', 'voltagePerKelvin', -0.024],
    ['-24 mV/degC', 'voltagePerKelvin', -0.024],
    ['45 L', 'volume', 45],
    ['45 litres', 'volume', 45],
    ['4.2 kWh/m2/day', 'irradiation', 4.2],
    ['4200 Wh/m²/day', 'irradiation', 4.2],
    ['4.2 peak sun hours', 'irradiation', 4.2],
    ['0.33 kWh/day', 'energyPerDay', 330],
    ['330 Wh a day', 'energyPerDay', 330],
    ['36 km/h', 'speed', 10],
    ['12', 'count', 12],
    ['12 times a day', 'count', 12],
    ['2 a day', 'count', 2],
    ['3/day', 'count', 3],
  ])('%s as %s', (text, dimension, expected) => {
    expect(parseQuantity(text, dimension)).toBeCloseTo(expected, 12);
  });

  test.each<[string, Dimension, number, string]>([
    ['40 degF', 'temperature', 40 / 9, 'Fahrenheit scale: (40 - 32) * 5/9'],
    ['40 F', 'temperature', 40 / 9, 'Fahrenheit scale: (40 - 32) * 5/9'],
    ['9 degF', 'temperatureDifference', 5, 'Fahrenheit scale: 9 degF are 5 K'],
    ['277.15 K', 'temperature', 4, 'ITS-90: 0 degC is 273.15 K'],
    ['1 lb', 'mass', 0.45359237, 'international avoirdupois pound, exact'],
    ['1 ft', 'length', 0.3048, 'international foot, exact'],
    ['1 knot', 'speed', 1852 / 3600, 'international nautical mile, exact'],
    ['3.6 MJ/m2/day', 'irradiation', 1, '1 kWh is 3.6 MJ, exact'],
  ])('%s as %s is %d (%s; %s)', (text, dimension, expected) => {
    expect(parseQuantity(text, dimension)).toBeCloseTo(expected, 9);
  });
});

describe('what is not a quantity of the wanted kind is refused, with a guess', () => {
  test('a current where a charge is needed', () => {
    const { message, hint, code } = fault('50 A', 'charge');
    expect(code).toBe('wrong_unit');
    expect(`${message}; ${hint}`).toBe('50 A where a charge in Ah is needed; did you mean 50 Ah?');
  });
  test('a bare number shows the accepted spelling', () => {
    const { message, hint, code } = fault('175', 'power');
    expect(code).toBe('bare_number');
    expect(message).toContain('no unit');
    expect(hint).toContain('175 W');
  });
  test.each<[string, Dimension, string]>([
    ['6 mm', 'section', '6 mm2'],
    ['3 m', 'duration', '3 min'],
    ['60 Wh', 'power', '60 W'],
    ['0.33 kWh', 'energyPerDay', '0.33 kWh/day'],
    ['28 Ah/day', 'energyPerDay', '336 Wh/day'],
    ['1.28 kWh', 'charge', 'at 12.8 V it is 100 Ah'],
    ['2,5 mm2', 'section', 'point'],
  ])('%s as %s: the hint says %s', (text, dimension, hint) => {
    expect(fault(text, dimension).hint).toContain(hint);
  });
  test.each([
    'NaN',
    'NaN Ah',
    'Infinity Ah',
    '-Infinity Ah',
    '1e999 Ah',
    '1e308 kAh',
    '',
    '   ',
    'Ah',
    '2 * 50 Ah',
    '50 Ah + 1 Ah',
    '50 Ah; 3',
    '(50) Ah',
    '50 createUnit("x")',
    '50 import("x")',
    '50 Ah to mAh',
    '50 constructor',
    '50 __proto__',
    '50 toString',
    '1 000 Ah',
    '50 %',
    '0x10 Ah',
    '50 Ah\u0000',
  ])('%j is no charge', (text) => {
    expect(fault(text, 'charge')).toBeInstanceOf(QuantityError);
  });
  test.each<[string, Dimension]>([
    ['20 h', 'ratio'],
    ['30 degC', 'angle'],
    ['5 kWh', 'power'],
    ['10 parsec per lightyear', 'length'],
    ['12 W times a day', 'count'],
    ['11 AWG 3', 'section'],
    ['41 AWG', 'section'],
    ['5/0 AWG', 'section'],
    ['14 W', 'energyPerDay'],
  ])('%s is not %s', (text, dimension) => {
    expect(fault(text, dimension)).toBeInstanceOf(QuantityError);
  });
});

test('people read three significant digits', () => {
  expect(formatQuantity(12.8123, 'voltage')).toBe('12.8 V');
  expect(formatQuantity(0.3333, 'ratio')).toBe('33.3 %');
  expect(formatQuantity(1234.5, 'energy')).toBe('1235 Wh');
  expect(formatQuantity(-0.0036, 'perKelvin')).toBe('-0.36 %/degC');
  expect(formatQuantity(0.000123, 'resistance')).toBe('0.000123 ohm');
  expect(formatQuantity(Number.POSITIVE_INFINITY, 'current')).toBe('no limit');
  expect(formatQuantity(Number.NaN, 'current')).toBe('unknown');
});
