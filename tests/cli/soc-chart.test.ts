import fc from 'fast-check';
import { expect, test } from 'vitest';
import { socChart } from '../../packages/cli/src/show/soc-chart.js';
import { styleFor } from '../../packages/cli/src/show/style.js';

const plain = styleFor(false);
const STEPS = 144;

/** Days that begin on 2026-10-01, with a state of charge for each step. */
function series(days: number, soc: (step: number) => number) {
  const values = Float64Array.from({ length: days * STEPS }, (_, i) => soc(i));
  const step = values.indexOf(Math.min(...values));
  return {
    soc: values,
    days: Array.from({ length: days }, (_, k) => ({
      date: new Date(Date.UTC(2026, 9, 1 + k)).toISOString().slice(0, 10),
      firstStep: k * STEPS,
    })),
    floor: 0.2,
    lowest: { step, text: '34 %, 5 Oct 08:10' },
  };
}

const daily = (step: number) => 0.7 + 0.15 * Math.sin((2 * Math.PI * step) / STEPS) - 0.004 * (step / STEPS);

/** The highest dot of each column of dots, read back from the Braille patterns (Unicode, block U+2800). */
function topsOf(lines: readonly string[]): number[] {
  const rows = lines.slice(0, 13).map((line) => [...line].slice(5));
  const columns = Math.max(...rows.map((row) => row.length));
  return Array.from({ length: columns * 2 }, (_, x) => {
    for (let y = 0; y < rows.length * 4; y++) {
      const code = rows[Math.floor(y / 4)]![Math.floor(x / 2)]?.codePointAt(0) ?? 0;
      const bit = [
        [0x01, 0x02, 0x04, 0x40],
        [0x08, 0x10, 0x20, 0x80],
      ][x % 2]![y % 4]!;
      if (code >= 0x2800 && code < 0x2900 && (code - 0x2800) & bit) return rows.length * 4 - y;
    }
    return 0;
  });
}

test.each([80, 100, 120, 200])('thirty days show thirty peaks at %i columns', (width) => {
  const tops = topsOf(socChart(series(30, daily), width, true, plain));
  const middle = (Math.max(...tops) + Math.min(...tops)) / 2;
  // A peak begins where the line rises above the middle; the slow fall is far less than the day's swing.
  const peaks = tops.filter((top, x) => top > middle && (x === 0 || tops[x - 1]! <= middle)).length;
  expect(peaks).toBe(30);
});

test('the lowest point is named under the place where it is', () => {
  const days = series(10, (step) => (step === 500 ? 0.34 : 0.8));
  const lines = socChart(days, 80, true, plain);
  const row = lines.findIndex((line) => line.includes('▲ 34 %, 5 Oct 08:10'));
  expect(row).toBeGreaterThan(0);
  const column = [...lines[row]!].indexOf('▲');
  expect(column).toBe(5 + Math.floor((500 / (10 * STEPS)) * 75));
  expect([...lines[row - 1]!][column]).toMatch(/[\u2801-\u28ff]/);
});

test('no line is wider than asked, the low point is always named, and ASCII is ASCII', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 400 }),
      fc.integer({ min: 40, max: 200 }),
      fc.boolean(),
      fc.double({ min: 0, max: 1, noNaN: true }),
      (days, width, unicode, depth) => {
        const lines = socChart(
          series(days, (step) => 1 - (depth * ((step * 7919) % 997)) / 997),
          width,
          unicode,
          plain,
        );
        for (const line of lines) expect([...line].length).toBeLessThanOrEqual(width);
        expect(lines.some((line) => line.includes('34 %, 5 Oct 08:10'))).toBe(true);
        if (!unicode) expect(lines.join('')).not.toMatch(/\P{ASCII}/u);
      },
    ),
    { numRuns: 60 },
  );
});

test('dates stand under their midnights and do not run together', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 800 }), fc.integer({ min: 60, max: 200 }), (days, width) => {
      const labels = socChart(series(days, daily), width, true, plain).at(-1)!;
      expect(labels).toMatch(days > 62 ? /^ {5}Oct 2026( |$)/ : /^ {5}1 Oct( |$)/);
      expect(labels).not.toMatch(/[A-Za-z]\d/);
    }),
    { numRuns: 60 },
  );
});
