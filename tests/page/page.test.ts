/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
import { readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { PALETTE } from '../../packages/cli/src/show/charts/palette.js';
import { folderWith, stayput, stayputProcess } from '../cli/run-cli.js';
import { axeFindings, CHROMIUM, crowdedWords, launch, NEEDS_CHROMIUM, opened, pdfPages, unfold } from './browser.js';
import { HOSTILE_PARTS, HOSTILE_RIG, HOSTILE_TRIP } from './hostile.js';

const example = (name: string) => fileURLToPath(new URL(`../../examples/${name}`, import.meta.url));
const HERON = example('heron.yaml');
const PORTO = ['--place', 'Porto', '--step', '1h'];
const FORTNIGHT = [...PORTO, '--from', '2026-10-03', '--days', '14'];

const PAGES: Readonly<Record<string, readonly string[]>> = {
  report: ['report', HERON, ...FORTNIGHT, '--years', '2', '--parts', example('parts.yaml'), '--out'],
  'report-of-a-year': ['report', HERON, ...PORTO, '--from', '2026-01-01', '--days', '365', '--years', '1', '--out'],
  'report-of-40-days': [
    'report',
    HERON,
    ...PORTO,
    '--from',
    '2026-06-01',
    '--days',
    '40',
    '--years',
    '1',
    '--parts',
    example('parts.yaml'),
    '--out',
  ],
  hostile: ['report', 'rig.yaml', 'trip.yaml', '--step', '1h', '--years', '1', '--parts', 'parts.yaml', '--out'],
  simulate: ['simulate', HERON, ...FORTNIGHT, '--report'],
  stay: ['stay', HERON, ...PORTO, '--years', '2', '--report'],
  tonight: [
    'tonight',
    HERON,
    '--place',
    'Porto',
    '--now',
    '2026-10-10 18:00',
    '--soc',
    '43',
    '--sky',
    'dull, dull, fair',
    '--report',
  ],
  yield: ['yield', HERON, ...PORTO, '--years', '2', '--report'],
  size: ['size', HERON, example('parts.yaml'), ...FORTNIGHT, '--years', '2', '--report'],
  compare: ['compare', example('log-parked.yaml'), example('log-parked.csv'), '--place', 'Porto', '--report'],
  calibrate: ['calibrate', example('log-parked.yaml'), example('log-parked.csv'), '--place', 'Porto', '--report'],
  wires: ['wires', example('thin-cable.yaml'), '--report'],
  check: ['check', HERON, '--report'],
  log: ['log', example('log-parked.csv'), '--report'],
  sweep: [
    'sweep',
    HERON,
    ...FORTNIGHT,
    '--vary',
    'solar.roof.count=1,2,3',
    '--vary',
    'battery.capacity=60,100,200 Ah',
    '--report',
  ],
  'sweep-of-one': [
    'sweep',
    HERON,
    ...FORTNIGHT,
    '--vary',
    'battery.capacity=60,100,200 Ah',
    '--answer',
    'lowestSoc',
    '--report',
  ],
  'stay-at-stops': ['stay', HERON, example('north-west-coast.yaml'), '--years', '1', '--step', '1h', '--report'],
};
const LOOKS = [
  { width: 360, colorScheme: 'dark' },
  { width: 1100, colorScheme: 'light' },
] as const;

const PHONE = { width: 390, height: 844, colorScheme: 'light' } as const;
/** --set, stayput check, battery.maxCharge, solar[0].tilt, { low: 2 %, on: with loads, rig.yaml */
const OF_THE_PROGRAM =
  /(?:^|\s)--[a-z][\w-]*|\bstayput [a-z]+|\b[a-z]+(?:\[\d+\])?\.[a-z][A-Za-z]+|\{[^}]*:|"[a-z]+: |[\w-]+\.(?:ya?ml|csv|json|html|epw)\b|\b(?!deg[CF]: |k?Wh: )[a-z]+[A-Z]\w*: /g;

/** How many pictures are shown, and which of them have nothing drawn in them but their key. */
function pictures(page: Page): Promise<{ shown: number; empty: string[] }> {
  const hues = (['sun', 'battery', 'engine', 'mains', 'trouble'] as const).map((hue) => PALETTE[hue][0]);
  return page.evaluate((marks) => {
    const shown = [...document.querySelectorAll('figure svg')].filter((svg) => svg.getBoundingClientRect().width > 0);
    const empty = shown.filter((svg) => {
      const paths = [...svg.querySelectorAll('path')].filter((path) =>
        [path.getAttribute('fill'), path.getAttribute('stroke')].some((hue) => hue && marks.includes(hue)),
      );
      const boxes = paths.map((path) => path.getBoundingClientRect());
      // a mark with words of its own, or a line or an area: larger than any sign of the key
      const isLarge = boxes.some(({ width, height }) => Math.max(width, height) > 24);
      // of any colour: those of a map are its own
      const hasWords = [...svg.querySelectorAll('path')].some(
        (path) => path.querySelector('title') && path.getBoundingClientRect().width > 0,
      );
      return !isLarge && !hasWords;
    });
    return { shown: shown.length, empty: empty.map((svg) => svg.querySelector('title')?.textContent ?? '') };
  }, hues as string[]);
}

describe.skipIf(!CHROMIUM)(`pages in a browser${NEEDS_CHROMIUM}`, () => {
  const cwd = folderWith({ 'rig.yaml': HOSTILE_RIG, 'trip.yaml': HOSTILE_TRIP, 'parts.yaml': HOSTILE_PARTS });
  const fileOf = (name: string) => join(cwd, `${name}.html`);
  let browser: Browser;
  beforeAll(async () => {
    browser = await launch();
    for (const [name, args] of Object.entries(PAGES)) {
      // a sweep's threads need the program as it is shipped
      const call = args[0] === 'sweep' ? stayputProcess : stayput;
      const { stderr, code } = await call([...args, fileOf(name), '--quiet'], { cwd });
      if (code !== 0 && code !== 1) throw new Error(`${name}: ${stderr}`);
    }
  }, 300_000);
  afterAll(() => browser?.close());

  describe.each(Object.keys(PAGES))('%s', (name) => {
    test('is one file below 1 MB that holds no script and no address to load', () => {
      expect(statSync(fileOf(name)).size).toBeLessThan(1e6);
      const html = readFileSync(fileOf(name), 'utf8');
      expect(html).not.toMatch(/<script|<iframe|<object|@import|<[^>]*\son\w+=/i);
      for (const [, to] of html.matchAll(/\s(?:src|href|xlink:href)="([^"]*)"/g)) expect(to).toMatch(/^(#|data:,$)/);
      expect(html).not.toMatch(/NaN|undefined|Infinity/);
    });

    test.each(LOOKS)(
      '$width px, $colorScheme: drawn, nothing sideways, nothing asked for, nothing for axe to remark',
      async (look) => {
        const { page, complaints } = await opened(browser, fileOf(name), look);
        try {
          expect(await axeFindings(page)).toEqual([]);
          await unfold(page);
          const { shown, empty } = await pictures(page);
          expect(shown).toBeGreaterThan(0);
          expect(empty).toEqual([]);
          expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(look.width);
          const ground = await page.evaluate(() => getComputedStyle(document.body).backgroundColor);
          expect(ground).toBe(rgb(PALETTE.ground[look.colorScheme === 'light' ? 0 : 1]));
          expect(await axeFindings(page)).toEqual([]);
          expect(complaints).toEqual([]);
        } finally {
          await page.close();
        }
      },
    );

    test.each([LOOKS[0].width, LOOKS[1].width])('%i px: no words of a picture lie over others', async (width) => {
      const { page } = await opened(browser, fileOf(name), { width, colorScheme: 'light' });
      try {
        await unfold(page);
        expect(await crowdedWords(page)).toEqual([]);
      } finally {
        await page.close();
      }
    });

    test('on a phone the first screen holds the answer and what would help, eight screens hold all that is not folded away, and tables keep their columns', async () => {
      const { page } = await opened(browser, fileOf(name), PHONE);
      try {
        const { answerEnd, height } = await page.evaluate(() => ({
          answerEnd: Math.max(
            ...[...document.querySelectorAll('.answer, .helps')].map((one) => one.getBoundingClientRect().bottom),
          ),
          height: document.documentElement.scrollHeight,
        }));
        if (name !== 'hostile') expect(answerEnd).toBeLessThanOrEqual(PHONE.height);
        expect(height).toBeLessThanOrEqual(8 * PHONE.height);
        await unfold(page);
        const lost = await page.evaluate(() =>
          [...document.querySelectorAll('table')].flatMap((table) => {
            const heads = [...table.querySelectorAll('thead tr > *')].map((one) => one.textContent ?? '');
            const rows = [...table.querySelectorAll('tbody tr')];
            const isStacked = getComputedStyle(rows[0]!).display === 'flex';
            return rows.flatMap((row) =>
              [...row.children].flatMap((cell, k) => {
                const words = cell.textContent ?? '';
                const box = cell.getBoundingClientRect();
                const isSeen = words.trim() === '' || (box.width > 1 && box.height > 1);
                const isNamed = !isStacked || k === 0 || words.trim() === '' || words.startsWith(heads[k] ?? '');
                const isWithin = !isStacked || box.right <= document.documentElement.clientWidth;
                return isSeen && isNamed && isWithin ? [] : [`${table.caption?.textContent}: ${heads[k]} ${words}`];
              }),
            );
          }),
        );
        expect(lost).toEqual([]);
      } finally {
        await page.close();
      }
    });

    test('speaks no option, no command, no key and no file', () => {
      const said = readFileSync(fileOf(name), 'utf8')
        .replace(/<style>[\s\S]*?<\/style>|<[^>]*>/g, ' ')
        .replaceAll(/&[a-z#0-9]+;/g, ' ');
      expect(name === 'hostile' ? [] : (said.match(OF_THE_PROGRAM) ?? [])).toEqual([]);
    });

    test('prints to at most six pages of A4, light even where the screen is dark', async () => {
      const { page } = await opened(browser, fileOf(name), { width: 1100, colorScheme: 'dark' });
      try {
        expect(pdfPages(await page.pdf({ format: 'A4', preferCSSPageSize: true }))).toBeLessThanOrEqual(6);
        await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
        const ink = await page.evaluate(() => getComputedStyle(document.body).color);
        expect(ink).toBe(rgb(PALETTE.ink[0]));
      } finally {
        await page.close();
      }
    });

    test('has one heading of the first level, no level left out, ids that are alone, and a name for every picture', async () => {
      const { page } = await opened(browser, fileOf(name), LOOKS[1]);
      try {
        const { levels, ids, unnamed, captions } = await page.evaluate(() => ({
          levels: [...document.querySelectorAll('h1,h2,h3,h4')].map((heading) => Number(heading.tagName[1])),
          ids: [...document.querySelectorAll('[id]')].map(({ id }) => id),
          unnamed: [...document.querySelectorAll('svg')].filter((svg) =>
            (svg.getAttribute('aria-labelledby') ?? '')
              .split(' ')
              .some((id) => !document.getElementById(id)?.textContent),
          ).length,
          captions: [...document.querySelectorAll('table')].filter((one) => !one.caption?.textContent).length,
        }));
        expect(levels.filter((level) => level === 1)).toHaveLength(1);
        levels.slice(1).forEach((level, k) => {
          expect(level - levels[k]!).toBeLessThanOrEqual(1);
        });
        expect(new Set(ids).size).toBe(ids.length);
        expect({ unnamed, captions }).toEqual({ unnamed: 0, captions: 0 });
      } finally {
        await page.close();
      }
    });
  });
});

const rgb = (hex: string) => `rgb(${[1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16)).join(', ')})`;
