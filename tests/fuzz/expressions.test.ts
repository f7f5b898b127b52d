import { readRig } from '@stayput/core';
import { compileExpression, EXPRESSION_VARIABLES } from '@stayput/core/model';
import { describe, expect, test } from 'vitest';
import { ESCAPES } from './expressions.js';

const SCOPE = { ambient: 20, cabin: 25, hour: 12, soc: 0.5 };
/** Escapes that turn out to be plain arithmetic: what they must give. */
const ARITHMETIC: Readonly<Record<string, number>> = {
  'cabin # comment': 25,
};

describe('no known way out of an expression leads out', () => {
  test.each(ESCAPES.map((text) => [text.length > 60 ? `${text.slice(0, 50)}… (${text.length})` : text, text]))(
    '%s',
    (_, text) => {
      const before = [Object, Function, Array, String, Number].map(
        ({ prototype }) => Reflect.ownKeys(prototype).length,
      );
      let value: unknown;
      let refused: unknown;
      try {
        value = compileExpression(text, EXPRESSION_VARIABLES).evaluate(SCOPE);
      } catch (error) {
        refused = error;
      }
      if (refused !== undefined) expect((refused as Error).name).toBe('ExpressionError');
      else {
        expect(typeof value).toBe('number');
        if (ARITHMETIC[text] !== undefined) expect(value).toBe(ARITHMETIC[text]);
        // what is let through is made of numbers, names of ours and arithmetic alone
        else
          expect(text).toMatch(/^(?:[\d.xe()+\-*/^%?:<>=\s]|cabin|hour|soc|ambient|abs|not|true|pi|0x[\da-f]+|xor)+$/);
      }
      const after = [Object, Function, Array, String, Number].map(({ prototype }) => Reflect.ownKeys(prototype).length);
      expect(after).toEqual(before);
    },
  );

  test('nor in a rig: each is refused with a ConfigError, or draws a power', () => {
    for (const power of ESCAPES)
      try {
        const { loads } = readRig(
          JSON.stringify({ battery: { chemistry: 'LFP', capacity: '1 Ah' }, loads: [{ name: 'a', power }] }),
        ).rig;
        expect(loads).toHaveLength(1);
      } catch (error) {
        expect((error as Error).name).toBe('ConfigError');
      }
  });
});

test.each([
  ['deep brackets', `${'('.repeat(249)}1${')'.repeat(249)}`],
  ['a tower of powers', `${'9^'.repeat(249)}9`],
  ['many conditions', `${'1?'.repeat(120)}1${':1'.repeat(120)}`],
  ['many comparisons', `1${'<1'.repeat(249)}`],
  ['calls in calls', `${'abs('.repeat(99)}1${')'.repeat(99)}`],
])('%s end in bounded time', (_, text) => {
  const began = performance.now();
  try {
    compileExpression(text, EXPRESSION_VARIABLES).evaluate(SCOPE);
  } catch (error) {
    expect((error as Error).name).toBe('ExpressionError');
  }
  expect(performance.now() - began).toBeLessThan(10_000); // a hang is meant, not a pace
});
