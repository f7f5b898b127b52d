import { join } from 'node:path';
import { example, inFolder, type Timed, timed } from './program.js';
import type { Measure } from './report.js';

const FEW = 1_000;
const MANY = 10_000;

/** One-year variants at 10 min of the battery's capacity alone, by the program as it is shipped. */
function sweep(variants: number, workers: number): Promise<Timed> {
  const vary = `battery.capacity=50:0.04:${50 + 0.04 * (variants - 1)} Ah`;
  const args = [
    'sweep',
    example('heron.yaml'),
    '--at',
    '41.7,-8.8',
    '--vary',
    vary,
    '--quiet',
    '--workers',
    String(workers),
  ];
  return inFolder((folder) => timed([...args, '--out', join(folder, 'rows.csv')]));
}

/** What a start costs is taken off the ratio, as it is the same for any number of workers. */
export async function benchSweep(): Promise<Measure[]> {
  const [start, one, two] = [await sweep(1, 1), await sweep(FEW, 1), await sweep(FEW, 2)];
  const many = await sweep(MANY, 2);
  return [
    { name: `sweep: ${MANY} one-year variants of the battery, 2 workers`, value: many.seconds, unit: 's', goal: 15 },
    { name: `sweep: one variant of ${FEW}, 1 worker`, value: (1e3 * (one.seconds - start.seconds)) / FEW, unit: 'ms' },
    {
      name: `sweep: speed of 2 workers over 1, ${FEW} variants`,
      value: (one.seconds - start.seconds) / (two.seconds - start.seconds),
      unit: 'x',
      more: true,
    },
    {
      name: 'sweep: cost of a variant among many over among few',
      value: perVariant(many, MANY, start) / perVariant(two, FEW, start),
      unit: 'x',
    },
    ...(many.peakMb && two.peakMb
      ? [
          { name: `sweep: most memory, ${FEW} variants`, value: two.peakMb, unit: 'MB' },
          { name: `sweep: most memory, ${MANY} variants`, value: many.peakMb, unit: 'MB' },
        ]
      : []),
  ];
}

const perVariant = ({ seconds }: Timed, variants: number, start: Timed) => (seconds - start.seconds) / variants;
