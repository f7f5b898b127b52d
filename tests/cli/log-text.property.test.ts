import { TextDecoder } from 'node:util';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { textOf } from '../../packages/cli/src/files/log-text.js';

const pieces = fc.array(
  fc.oneof(
    {
      weight: 4,
      arbitrary: fc.string({ maxLength: 12 }).map((text) => [...Buffer.from(text.replaceAll('\0', '')).values()]),
    },
    fc.constantFrom('°', 'Ω', '−', '🔋', '\ufeff').map((text) => [...Buffer.from(text).values()]),
    fc.array(fc.integer({ min: 128, max: 255 }), { minLength: 1, maxLength: 3 }),
  ),
  { maxLength: 12 },
);

test('bytes cut anywhere, of letters sound and broken, become the text that a decoder makes of the whole', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.constantFrom('time;', '\ufefftime;'),
      pieces,
      fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 1 }),
      async (head, parts, sizes) => {
        const bytes = Uint8Array.from([...Buffer.from(head), ...parts.flat()]);
        const cut = async function* () {
          let at = 5;
          yield bytes.subarray(0, at);
          for (let k = 0; at < bytes.length; k++) {
            const to = at + sizes[k % sizes.length]!;
            yield bytes.subarray(at, to);
            at = to;
          }
        };
        let text = '';
        for await (const some of textOf(cut())) text += some;
        expect(text).toBe(new TextDecoder().decode(bytes));
      },
    ),
    { numRuns: 1000 },
  );
});
