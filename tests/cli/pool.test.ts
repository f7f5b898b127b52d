import { expect, test } from 'vitest';
import { type PoolOptions, rowsInOrder } from '../../packages/cli/src/pool/in-order.js';

const script = new URL('../fixtures/crashing-worker.mjs', import.meta.url);
const numbers = (from: number, to: number) => Array.from({ length: to - from }, (_, i) => from + i);

async function run(workerData: object, more: Partial<PoolOptions<number | string>> = {}): Promise<(number | string)[]> {
  const rows: (number | string)[] = [];
  const stopped = (item: number, why: string) => `${item}: ${why}`;
  for await (const some of rowsInOrder({ script, workerData, workers: 3, from: 5, to: 60, chunk: 4, stopped, ...more }))
    rows.push(...some);
  return rows;
}

test.each([1, 2, 7, 100])('rows come in order from %i workers, the later ones done first', async (workers) => {
  expect(await run({ slow: true }, { workers })).toEqual(numbers(5, 60));
});

test('no items, no rows', async () => {
  expect(await run({}, { from: 9, to: 9 })).toEqual([]);
});

test.each([1, 3])('a worker that stops costs its one item, which says why; %i workers do the rest', async (workers) => {
  const rows = await run({ throwsAt: [7, 8, 59], exitsAt: [20] }, { workers });
  const expected: (number | string)[] = numbers(5, 60);
  for (const item of [7, 8, 59]) expected[item - 5] = `${item}: stumbled over ${item}`;
  expected[15] = '20: exit code 9';
  expect(rows).toEqual(expected);
});

test('workers that cannot even begin end the work', async () => {
  await expect(run({ dies: 'at once' })).rejects.toThrow('a worker could not begin: no ground under it');
});

test('whoever stops reading ends the workers too', async () => {
  const stopped = (item: number) => item;
  for await (const some of rowsInOrder({ script, workerData: {}, workers: 2, from: 0, to: 1e6, chunk: 1, stopped })) {
    expect(some).toEqual([0]);
    break;
  }
});
