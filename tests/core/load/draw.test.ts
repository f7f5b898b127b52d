import { expect, test } from 'vitest';
import {
  compileLoadExpression,
  drawColumn,
  expressionColumn,
  peakDraw,
  usesSoc,
} from '../../../packages/core/src/load/index.js';
import { ExpressionError } from '../../../packages/core/src/quantity/index.js';
import { scheduled } from './example.js';

const columns = {
  ambientC: Float64Array.of(20, 30, 40),
  cabinC: Float64Array.of(22, 33, 44),
  localHour: Float64Array.of(8, 12, 16),
};
const expression = (text: string) => scheduled({ draw: { kind: 'expression', text } });

test('an expression is evaluated at each step, and never below nothing', () => {
  const fan = compileLoadExpression('clamp(4 * (cabin - 24), 0, 30)');
  expect([...expressionColumn(fan, columns)]).toEqual([0, 30, 30]);
  expect([...expressionColumn(compileLoadExpression('ambient - 30'), columns)]).toEqual([0, 0, 10]);
  expect([...expressionColumn(compileLoadExpression('1 / (hour - 12)'), columns)]).toEqual([0, 0, 0.25]);
});

test('draw times the timetable; amps stay amps', () => {
  const onShare = Float64Array.of(0, 0.5, 2);
  expect(drawColumn(scheduled(), onShare, columns)).toEqual({ kind: 'power', powerW: Float64Array.of(0, 5, 20) });
  expect(drawColumn(scheduled({ draw: { kind: 'current', currentA: 3 } }), onShare, columns)).toEqual({
    kind: 'current',
    currentA: Float64Array.of(0, 1.5, 6),
  });
  expect(drawColumn(expression('ambient'), onShare, columns)).toEqual({
    kind: 'power',
    powerW: Float64Array.of(0, 15, 80),
  });
});

test('only an expression that looks at soc must be evaluated in the loop', () => {
  expect(usesSoc(expression('60 * (soc > 0.9)'))).toBe(true);
  expect(usesSoc(expression('cabin'))).toBe(false);
  expect(usesSoc(scheduled())).toBe(false);
});

test('the peak of an expression is found for its cable', () => {
  expect(peakDraw(expression('clamp(4 * (cabin - 24), 0, 30)'))).toEqual({ kind: 'power', value: 30 });
  expect(peakDraw(expression('(hour > 19) * 25 * soc'))).toEqual({ kind: 'power', value: 25 });
});

test('an unknown name says where', () => {
  expect(() => compileLoadExpression('4 * (cabim - 24)')).toThrow(ExpressionError);
});
