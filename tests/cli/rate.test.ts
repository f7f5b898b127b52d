import { expect, test } from 'vitest';
import { progressText, spanText } from '../../packages/cli/src/show/rate.js';

test('how far, how fast and how long still; what was there before counts for how far alone', () => {
  // 600 of the 1,000 here in 60 s are 10 a second; 9,000 are left: 900 s.
  const text = progressText({ done: 1_000, total: 10_000, doneHere: 600, elapsedS: 60 });
  expect(text).toBe('[##..................] 10 %  1,000 of 10,000  10/s  15 min 0 s left');
});

test('before the first row there is no speed, and at the end nothing left', () => {
  expect(progressText({ done: 0, total: 3, doneHere: 0, elapsedS: 0 })).toBe('[....................] 0 %  0 of 3');
  expect(progressText({ done: 3, total: 3, doneHere: 3, elapsedS: 2 })).toBe(
    '[####################] 100 %  3 of 3  1.5/s  0 s left',
  );
});

test('a million variants fit the narrowest usual terminal', () => {
  const text = progressText({ done: 999_999, total: 1_000_000, doneHere: 5, elapsedS: 3600 });
  expect(text.length).toBeLessThan(80);
});

test.each([
  [0.2, '1 s'],
  [59, '59 s'],
  [61, '1 min 1 s'],
  [3661, '1 h 1 min'],
  [1e6, '277 h 46 min'],
])('%d s is %s', (seconds, text) => {
  expect(spanText(seconds)).toBe(text);
});
