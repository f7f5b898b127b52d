import { expect, test } from 'vitest';
import { judge, type Verdict } from './judge.js';
import { CHOICES, type Choice, variantOf } from './variants.js';

/** `VARIANTS=2000 npx vitest run tests/variants` tries more. */
const COUNT = Number(process.env.VARIANTS ?? 400);
const FIRST = Number(process.env.FIRST ?? 0);

const said = (choice: Choice) =>
  Object.entries(choice)
    .filter(([dimension, value]) => value !== CHOICES[dimension as keyof Choice][0])
    .map(([dimension, value]) => `${dimension}: ${value}`)
    .join(' | ');

test(`${COUNT} variants of one true log: each gives its day totals within 1 %, or asks, or refuses; none is wrong`, async () => {
  const counts: Record<Verdict, number> = { right: 0, asked: 0, refused: 0, wrong: 0 };
  const byMatter = new Map<string, Record<Verdict, number>>();
  const wrong: string[] = [];
  const notRight: string[] = [];
  for (let seed = FIRST; seed < FIRST + COUNT; seed++) {
    const variant = variantOf(seed);
    const { verdict, why } = await judge(variant);
    counts[verdict]++;
    for (const [dimension, value] of Object.entries(variant.choice)) {
      const key = `${dimension}: ${value}`;
      const matter = byMatter.get(key) ?? { right: 0, asked: 0, refused: 0, wrong: 0 };
      matter[verdict]++;
      byMatter.set(key, matter);
    }
    const line = `${seed} ${verdict}: ${said(variant.choice)}\n    ${why.slice(0, 300).replaceAll('\n', ' / ')}`;
    if (verdict === 'wrong') wrong.push(line);
    else if (verdict !== 'right') notRight.push(line);
  }
  const row = (name: string, { right, asked, refused, wrong: bad }: Record<Verdict, number>) =>
    `${name.padEnd(48)} ${[right, asked, refused, bad].map((count) => String(count).padStart(8)).join('')}`;
  console.log(
    [
      `${'matter'.padEnd(48)}    right   asked refused   wrong`,
      row('all', counts),
      ...(process.env.BY_MATTER
        ? [...byMatter].sort(([a], [b]) => a.localeCompare(b)).map(([name, matter]) => row(name, matter))
        : []),
      ...(process.env.LIST ? notRight : []),
      ...wrong,
    ].join('\n'),
  );
  expect(wrong).toEqual([]);
}, 600_000);
