import { describe, expect, test } from 'vitest';
import { wrongImports } from '../../packages/core/rooms.js';

const importing = (file: string, path: string) => wrongImports(file, `import { x } from '${path}';`);

describe('the order of the rooms of core (packages/core/rooms.js)', () => {
  test('lets a room look up, through the face of the other, and a floor at the floors before it', () => {
    expect(importing('simulate/loop/loop.ts', '../../battery/index.js')).toEqual([]);
    expect(importing('simulate/report/trace.ts', '../ledger/ledger.js')).toEqual([]);
    expect(importing('simulate/loop/loop.ts', './loop-state.js')).toEqual([]);
    expect(importing('index.ts', './log/index.js')).toEqual([]);
  });

  test.each([
    ['battery/model.ts', '../simulate/index.js', 'stands below battery/'],
    ['simulate/loop/loop.ts', '../../battery/model.js', 'not battery/index.js'],
    ['simulate/loop/loop.ts', '../report/trace.js', 'stands below simulate/loop'],
    ['log/read/spikes.ts', '../index.js', "its own room's face"],
    ['battery/model.ts', '../index.js', 'a face of the whole library'],
    ['attic/dust.ts', './mote.js', 'not in the list'],
    ['log/attic/dust.ts', './mote.js', 'not in the list'],
  ])('refuses that %s imports %s', (file, path, why) => {
    expect(importing(file, path)).toEqual([expect.stringContaining(why)]);
  });
});
