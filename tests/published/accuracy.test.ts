import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

const here = fileURLToPath(new URL('.', import.meta.url));
const readme = readFileSync(new URL('README.md', import.meta.url), 'utf8');
const part = /<!-- accuracy -->\n([\s\S]*)<!-- \/accuracy -->/.exec(readme)?.[1] ?? '';
const printed = (...options: string[]) =>
  execFileSync(process.execPath, [`${here}accuracy.js`, ...options], { encoding: 'utf8' });

test('the accuracy tables of the README beside this are what the checks say now (npm run accuracy -- --write)', () => {
  expect(part).toBe(printed('--readme'));
});

test('all checks are printed, each with its cases, mean and worst error and source', () => {
  const lines = printed().split('\n');
  const rows = lines.filter((line) => /^\| (?!quantity|---)/.test(line));
  const written = readdirSync(here)
    .filter((name) => name.endsWith('.checks.ts'))
    .map((name) => name.replace('.checks.ts', ''));
  expect(lines.filter((line) => /^\*\*.*\*\*$/.test(line))).toEqual(written.map((topic) => `**${topic}**`));
  for (const row of rows) {
    const [, quantity, cases, mean, worst, source] = row.split('|').map((cell) => cell.trim());
    expect(quantity, row).not.toBe('');
    expect(Number(cases), row).toBeGreaterThan(0);
    expect(Number.parseFloat(worst!), row).toBeGreaterThanOrEqual(Number.parseFloat(mean!));
    expect(source!.length, row).toBeGreaterThan(4);
  }
  expect(rows.length).toBeGreaterThan((part.match(/^\| /gm) ?? []).length);
});
