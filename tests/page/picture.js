// Run by `npm run picture`: draws pictures/page.png of the README, three looks at the page of the example on a phone.
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';

const root = fileURLToPath(new URL('../../', import.meta.url));
const [WIDTH, HEIGHT, GAP] = [390, 844, 26];
/** What the top of each look is: an element of the page, and where its colours come from. */
const LOOKS = [
  { to: 'h1', colorScheme: 'light' },
  { to: '#controls', colorScheme: 'light' },
  { to: '.second', colorScheme: 'dark' },
];

const executablePath = (process.env.PATH ?? '')
  .split(delimiter)
  .map((folder) => join(folder, 'chromium'))
  .find((path) => existsSync(path));
if (!executablePath) throw new Error('no chromium on the path: it draws the picture');

const file = join(mkdtempSync(join(tmpdir(), 'stayput-picture-')), 'page.html');
execFileSync(process.execPath, [
  join(root, 'packages/cli/dist/stayput.js'),
  ...['page', join(root, 'examples/heron.yaml'), '--place', 'Porto', '--from', '2026-10-01', '--out', file, '--quiet'],
]);
const browser = await chromium.launch({ executablePath, args: ['--no-sandbox'] });
const shots = [];
for (const { to, colorScheme } of LOOKS) {
  const page = await browser.newPage({ viewport: { width: WIDTH, height: HEIGHT }, colorScheme, locale: 'en-GB' });
  await page.goto(`file://${file}`);
  await page.waitForFunction(() => document.querySelector('.bars')?.textContent.includes('without it'), undefined, {
    timeout: 240_000,
  });
  await page.evaluate((selector) => {
    const { top } = document.querySelector(selector).getBoundingClientRect();
    if (selector !== 'h1') window.scrollTo(0, window.scrollY + top - 110);
  }, to);
  await page.waitForTimeout(300);
  shots.push((await page.screenshot()).toString('base64'));
  await page.close();
}
const sheet = await browser.newPage({
  viewport: { width: shots.length * (WIDTH + GAP) + GAP, height: HEIGHT + 2 * GAP },
});
await sheet.setContent(`<style>body{margin:0;display:flex;gap:${GAP}px;padding:${GAP}px;background:#e6e4dc}
img{width:${WIDTH}px;height:${HEIGHT}px;border-radius:26px;box-shadow:0 2px 14px #0003}</style>
${shots.map((shot) => `<img src="data:image/png;base64,${shot}">`).join('')}`);
await sheet.waitForTimeout(300);
mkdirSync(join(root, 'pictures'), { recursive: true });
await sheet.screenshot({ path: join(root, 'pictures/page.png') });
await browser.close();
