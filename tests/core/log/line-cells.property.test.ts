import fc from 'fast-check';
import { expect, test } from 'vitest';
import { createLineCells } from '../../../packages/core/src/log/cells/line-cells.js';
import { splitLine } from '../../../packages/core/src/log/cells/split-line.js';

const cell = fc.oneof(
  fc.string({ maxLength: 8 }).map((text) => text.replaceAll('\u0001', '')),
  fc.constantFrom(
    '',
    ' ',
    '13.25',
    ' -1,5 ',
    '"13,25"',
    '"a ""b"""',
    '"',
    ' "x" y',
    '+7',
    '.5',
    '5.',
    '1e3',
    '0x10',
    '12.5.1',
  ),
);

test('the cells of a line, quoted or not, are those of its split, without the spaces around them', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(',', ';', '\t', '|'),
      fc.array(fc.array(cell), { minLength: 1 }),
      (delimiter, lines) => {
        const cells = createLineCells(delimiter, '.');
        for (const parts of lines) {
          const line = parts.join(delimiter);
          cells.cut(line);
          const split = splitLine(line, delimiter).map((text) => text.replace(/^ +| +$/g, ''));
          expect(Array.from({ length: cells.count }, (_, k) => cells.text(k))).toEqual(split);
          expect(cells.isBlank()).toBe(split.every((text) => text === ''));
          split.forEach((text, k) => {
            const value = cells.plainNumber(k);
            if (!Number.isNaN(value)) expect(value).toBe(Number(text));
          });
        }
      },
    ),
    { numRuns: 500 },
  );
});
