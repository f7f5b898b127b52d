import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  compileExpression,
  DIMENSIONS,
  type Dimension,
  EXPRESSION_VARIABLES,
  ExpressionError,
  formatClock,
  parseClock,
  parseQuantity,
  parseWindows,
  QuantityError,
  writeQuantity,
} from '../../../packages/core/src/quantity/index.js';

const dimension = fc.constantFrom(...(Object.keys(DIMENSIONS) as Dimension[]));

test('what is written is read back exactly', () => {
  fc.assert(
    fc.property(dimension, fc.double({ noNaN: true, noDefaultInfinity: true }), (kind, value) => {
      expect(parseQuantity(writeQuantity(value, kind), kind) === value).toBe(true); // === takes -0 for 0
    }),
  );
});

test('any text gives a finite number or a QuantityError', () => {
  const near = fc
    .tuple(
      fc.double().map(String),
      fc.constantFrom('Ah', 'W', 'mm2', '%', 'AWG', '/day', '°', 'a day', 'kWh/m2/day', '()'),
    )
    .map(([n, u]) => n + u);
  fc.assert(
    fc.property(fc.oneof(fc.string({ unit: 'binary' }), fc.string(), near), dimension, (text, kind) => {
      try {
        expect(Number.isFinite(parseQuantity(text, kind))).toBe(true);
      } catch (error) {
        expect(error).toBeInstanceOf(QuantityError);
      }
    }),
  );
});

test('any text is a window, or a QuantityError', () => {
  fc.assert(
    fc.property(fc.oneof(fc.string(), fc.stringMatching(/^[0-9:]{1,6} to (sunset|sunrise)[ +0-9h-]{0,8}$/)), (text) => {
      try {
        parseWindows(text);
      } catch (error) {
        expect(error).toBeInstanceOf(QuantityError);
      }
    }),
  );
});

test('a clock time to the minute is read back', () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 24 * 60 }), (minutes) => {
      const text = formatClock({ kind: 'clock', hour: minutes / 60 });
      expect(parseClock(text)).toEqual({ kind: 'clock', hour: Math.floor(minutes / 60) + (minutes % 60) / 60 });
    }),
  );
});

test('any text is an expression that gives a number, or an ExpressionError', () => {
  const words = fc
    .array(
      fc.constantFrom(
        'cabin',
        'hour',
        '(',
        ')',
        '+',
        '*',
        '?',
        ':',
        '2',
        '.5',
        'min',
        ',',
        '<',
        ' and ',
        '"',
        '[',
        ']',
        '.',
        '=',
        ';',
        '^',
        '%',
        "'",
        '!',
        'constructor',
      ),
      { maxLength: 14 },
    )
    .map((parts) => parts.join(''));
  fc.assert(
    fc.property(fc.oneof(fc.string(), words), (text) => {
      try {
        expect(
          typeof compileExpression(text, EXPRESSION_VARIABLES).evaluate({ ambient: 20, cabin: 25, hour: 12, soc: 0.5 }),
        ).toBe('number');
      } catch (error) {
        expect(error).toBeInstanceOf(ExpressionError);
      }
    }),
    { numRuns: 500 },
  );
});
