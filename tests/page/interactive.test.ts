/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { folderWith, stayputProcess } from '../cli/run-cli.js';
import { zipOf } from '../variants/zip.js';
import { CHROMIUM, launch, NEEDS_CHROMIUM, opened } from './browser.js';
import { HOSTILE_RIG, HOSTILE_TRIP } from './hostile.js';

const example = (name: string) => fileURLToPath(new URL(`../../examples/${name}`, import.meta.url));
const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const LONG_MS = 240_000;
/** Two weather years say as well as ten whether both come to the same. */
const YEARS = ['--years', '2'];

interface StayDocument {
  readonly months: readonly { month: number; parkedDaysP10: number; parkedDaysP50: number; darkDays: number }[];
  readonly stops?: readonly { parkedDaysP10: number; parkedDaysP50: number; darkDays: number }[];
  readonly places?: readonly { months: StayDocument['months'] }[];
}

/** As every screen shows days. */
const shown = (days: number) => (days >= 60 ? '60+' : days.toFixed(days < 9.95 ? 1 : 0));
/** As every screen shows energy below a kilowatt-hour, and above. */
const energy = (wh: number) => (wh < 999.5 ? `${wh.toFixed(wh < 9.95 ? 1 : 0)} Wh` : `${(wh / 1000).toFixed(2)} kWh`);

async function json<T>(args: readonly string[], cwd: string): Promise<T> {
  const { stdout, stderr, code } = await stayputProcess([...args, '--json'], { cwd });
  if (code !== 0) throw new Error(stderr);
  return JSON.parse(stdout) as T;
}

/** Waits until everything on the page is of the set-up as it stands: first for what was just changed to be drawn. */
async function settled(page: Page): Promise<void> {
  await page.evaluate(() => new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn))));
  await page.waitForFunction(
    () => document.querySelector('.helps') && document.querySelectorAll('.stale').length === 0,
    undefined,
    { timeout: 120_000 },
  );
}
const figure = (page: Page, name: string) => page.textContent(`[data-figure=${name}]`);
const yearTable = (page: Page) =>
  page.$$eval('table.year tbody tr', (rows) =>
    rows.map((row) => [...row.querySelectorAll('td')].map((cell) => cell.textContent)),
  );
const drag = (page: Page, control: string, value: number) =>
  page.$eval(
    `[data-control="${control}"]`,
    (input, to) => {
      (input as HTMLInputElement).value = String(to);
      input.dispatchEvent(new Event('input', { bubbles: true }));
    },
    value,
  );

/** Drops a file on the log tab, as a pointer does. */
async function dropped(page: Page, name: string, bytes: Uint8Array): Promise<void> {
  await page.$eval(
    '.drop',
    (target, [name, base64]) => {
      const dataTransfer = new DataTransfer();
      const bytes = Uint8Array.from(atob(base64!), (letter) => letter.charCodeAt(0));
      dataTransfer.items.add(new File([bytes], name!));
      for (const kind of ['dragover', 'drop'])
        target.dispatchEvent(new DragEvent(kind, { bubbles: true, cancelable: true, dataTransfer }));
    },
    [name, Buffer.from(bytes).toString('base64')],
  );
}

/** An invented log by the minute, as a monitor writes one. */
function longLog(rows: number): string {
  const lines = ['Time;Battery voltage (V);Battery current (A);State of charge (%);Solar power (W)'];
  let soc = 80;
  for (let k = 0; k < rows; k++) {
    const ms = Date.UTC(2024, 0, 1) + k * 60_000;
    const light = Math.max(0, -Math.cos((((ms / 3.6e6) % 24) * Math.PI) / 12));
    const amps = (90 * light - 8 - 20 * ((k >> 4) & 1)) / 13.1;
    soc = Math.min(100, Math.max(15, soc + amps / 60));
    const stamp = new Date(ms).toISOString().slice(0, 16).replace('T', ' ');
    lines.push(
      `${stamp};${(13 + 0.02 * amps).toFixed(2)};${amps.toFixed(2)};${soc.toFixed(1)};${(90 * light).toFixed(0)}`,
    );
  }
  return lines.join('\n');
}

/** Everything that axe-core finds, grave or not. */
async function axeFindings(page: Page): Promise<string[]> {
  await page.evaluate(AXE); // as a script element it would be against the page's policy
  return page.evaluate(async () => {
    const { axe } = window as unknown as {
      axe: { run(): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> };
    };
    const { violations } = await axe.run();
    return violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`);
  });
}

describe.skipIf(!CHROMIUM)(`the page that answers back${NEEDS_CHROMIUM}`, () => {
  const cwd = folderWith({ 'hostile.yaml': HOSTILE_RIG, 'hostile-trip.yaml': HOSTILE_TRIP });
  let browser: Browser;
  const made = async (name: string, args: readonly string[]) => {
    const file = join(cwd, `${name}.html`);
    const { code, stderr } = await stayputProcess(['page', ...args, ...YEARS, '--out', file, '--force'], { cwd });
    if (code !== 0) throw new Error(stderr);
    return file;
  };
  const open = async (file: string, width = 390) => {
    const { page, complaints } = await opened(browser, file, { width, colorScheme: 'light' });
    await settled(page);
    return { page, complaints };
  };
  beforeAll(async () => {
    browser = await launch();
  });
  afterAll(() => browser?.close());

  test(
    'the figures are those of the command line: a rig at one place',
    async () => {
      const file = await made('porto', [example('heron.yaml'), '--place', 'Porto', '--from', '2026-10-01']);
      const stay = await json<StayDocument>(['stay', example('heron.yaml'), '--place', 'Porto', ...YEARS], cwd);
      const { page, complaints } = await open(file);
      const october = stay.months.find(({ month }) => month === 10)!;
      expect(await figure(page, 'p10')).toBe(`${shown(october.parkedDaysP10)} days`);
      expect(await figure(page, 'p50')).toBe(`${shown(october.parkedDaysP50)} days`);
      expect(await figure(page, 'dark')).toBe(`${shown(october.darkDays)} days`);
      expect(await yearTable(page)).toEqual(
        stay.months.map((row) => [row.parkedDaysP10, row.parkedDaysP50, row.darkDays].map(shown)),
      );
      const run = await json<{
        summary: Record<string, number>;
        loads: { name: string; servedWh: number; unservedWh: number }[];
      }>(['simulate', example('heron.yaml'), '--place', 'Porto', '--from', '2026-10-01', '--days', '14'], cwd);
      const aDay = (wh: number) => energy(wh / 14);
      expect(await page.textContent('.why')).toContain(
        `you use ${aDay(run.summary.loadWh! + run.summary.unservedWh!)} a day, and the sun brings ${aDay(run.summary.pvHarvestWh!)} a day`,
      );
      const bars = await page.$$eval('.bars li', (rows) =>
        rows.map((row) => [row.querySelector('.name')!.textContent, row.querySelector('.figure')!.textContent]),
      );
      expect(Object.fromEntries(bars)).toEqual(
        Object.fromEntries(
          run.loads.map(({ name, servedWh, unservedWh }) => [name, `${aDay(servedWh + unservedWh)} a day`]),
        ),
      );
      expect(complaints.filter((text) => !text.startsWith('request: blob:'))).toEqual([]);
      await page.close();
    },
    LONG_MS,
  );

  test(
    'and of a trip with a weather file, at each of its stops',
    async () => {
      const args = [example('heron.yaml'), example('coast-measured.yaml')];
      const file = await made('coast', args);
      const stay = await json<StayDocument>(['stay', ...args, '--weather', 'climate', ...YEARS], cwd);
      const { summary } = await json<{ summary: { lowestSoc: number; lowestAt: string } }>(['simulate', ...args], cwd);
      const { page } = await open(file);
      for (const [k, stop] of stay.stops!.entries()) {
        if (k > 0) await page.selectOption('#controls select', String(k));
        await settled(page);
        expect(await figure(page, 'p10')).toBe(`${shown(stop.parkedDaysP10)} days`);
        expect(await figure(page, 'p50')).toBe(`${shown(stop.parkedDaysP50)} days`);
        expect(await figure(page, 'dark')).toBe(`${shown(stop.darkDays)} days`);
      }
      const label = await page.getAttribute('svg[role=img]', 'aria-label');
      expect(label).toContain(`at ${Math.round(100 * summary.lowestSoc)} %`);
      expect(label).toContain(summary.lowestAt.slice(11, 16));
      await page.close();
    },
    LONG_MS,
  );

  test(
    'dragging gives a first estimate and then the answer, which the saved rig gives the command line too; undo goes back',
    async () => {
      const file = await made('drag', [example('heron.yaml'), '--place', 'Porto', '--from', '2026-10-01']);
      const { page } = await open(file);
      const before = await figure(page, 'p10');
      await drag(page, 'battery.capacity', 200);
      await page.waitForFunction((old) => document.querySelector('[data-figure=p10]')!.textContent !== old, before);
      await settled(page);
      await page.click('#tab-rig');
      const text = await page.inputValue('textarea');
      expect(text).toBe(readFileSync(example('heron.yaml'), 'utf8').replace('capacity: 100 Ah', 'capacity: 200 Ah'));
      const folder = folderWith({ 'rig.yaml': text });
      const stay = await json<StayDocument>(['stay', 'rig.yaml', '--place', 'Porto', ...YEARS], folder);
      await page.click('#tab-answer');
      const october = stay.months.find(({ month }) => month === 10)!;
      expect(await figure(page, 'p10')).toBe(`${shown(october.parkedDaysP10)} days`);
      await page.click('.undo');
      await page.waitForFunction((old) => document.querySelector('[data-figure=p10]')!.textContent === old, before);
      await page.close();
    },
    LONG_MS,
  );

  test(
    'names that attack do nothing, and what is broken keeps the last answer with the line that is wrong',
    async () => {
      const { page, complaints } = await open(await made('hostile', ['hostile.yaml', 'hostile-trip.yaml']));
      await page.click('#tab-rig');
      const text = await page.inputValue('textarea');
      await page.fill('textarea', text.replace('capacity: 100 Ah', 'capacity: 100 A'));
      await page.waitForSelector('.problems');
      expect(await page.textContent('.problems')).toMatch(
        /line \d+, column \d+.*battery\.capacity.*did you mean 100 Ah/,
      );
      expect(await page.locator('.editor .wrong').count()).toBe(1);
      await page.click('#tab-answer');
      expect(await page.locator('.hero.stale [data-figure=p10]').count()).toBe(1);
      await page.click('#tab-rig');
      await page.fill('textarea', text);
      await page.click('#tab-answer');
      await settled(page);
      expect(complaints.filter((one) => !one.startsWith('request: blob:'))).toEqual([]);
      await page.close();
    },
    LONG_MS,
  );

  test(
    'from nothing on a phone: a rig, its answer, another battery beside it, a log, and the saved file says the same on the command line',
    async () => {
      const { page, complaints } = await open(await made('nothing', ['--place', 'Porto', '--from', '2026-10-01']));
      await page.click('#tab-rig');
      await page.getByLabel('Capacity, Ah').fill('80');
      await page.getByLabel('Panels together, W').fill('120');
      await page.getByRole('button', { name: 'Make this rig' }).click();
      await page.waitForFunction(() => document.querySelector('textarea')!.value.includes('capacity: 80 Ah'));
      await page.fill('[data-path=name]', 'Finch');
      await page.press('[data-path=name]', 'Tab');
      await page.waitForFunction(() => document.querySelector('textarea')!.value.includes('name: Finch'));
      await page.click('#tab-answer');
      await settled(page);
      const first = await figure(page, 'p10');

      await page.getByRole('button', { name: 'Compare with another set-up' }).click();
      await drag(page, 'battery.capacity', 160);
      await page.waitForFunction((old) => document.querySelector('[data-figure=p10]')!.textContent !== old, first);
      await settled(page);
      const second = await figure(page, 'p10');
      const [a, b] = await page.$$eval('.beside tbody tr:first-child td', (cells) => cells.map((c) => c.textContent));
      expect([`${a} days`, `${b} days`]).toEqual([first, second]);
      expect(await page.textContent('.beside')).toMatch(/80 Ah LFP.*160 Ah LFP/);

      await page.click('#tab-rig');
      const [download] = await Promise.all([
        page.waitForEvent('download'),
        page.getByRole('button', { name: 'Save' }).first().click(),
      ]);
      const saved = join(cwd, 'finch.yaml');
      await download.saveAs(saved);
      const stay = await json<StayDocument>(['stay', 'finch.yaml', '--place', 'Porto', ...YEARS], cwd);
      const october = stay.months.find(({ month }) => month === 10)!;
      expect(second).toBe(`${shown(october.parkedDaysP10)} days`);

      await page.reload();
      await settled(page);
      expect(await figure(page, 'p10')).toBe(second); // what was typed is there again
      expect(complaints.filter((text) => !text.startsWith('request: blob:'))).toEqual([]);
      await page.close();
    },
    LONG_MS,
  );

  test(
    'a log that is dropped in comes to what compare says, and the rig can be fitted to it',
    async () => {
      const { page } = await open(await made('log', [example('log-parked.yaml'), '--at', '40.1,18.4']));
      const log = example('log-parked.csv');
      const compared = await json<{ findings: { text: string; level: string }[]; fit: { socRmse: number } }>(
        ['compare', example('log-parked.yaml'), log, '--at', '40.1,18.4'],
        cwd,
      );
      await page.click('#tab-log');
      await page.setInputFiles('.drop input', log);
      await page.waitForSelector('.verdict', { timeout: 120_000 });
      const texts = await page.$$eval('.findings li', (items) => items.map((item) => item.textContent));
      expect(texts).toHaveLength(compared.findings.length);
      for (const { text } of compared.findings) expect(texts.join('\n')).toContain(text);
      const percent = `${Math.round(100 * compared.fit.socRmse)} %`;
      expect(await page.textContent('#panel')).toContain(`off by ${percent}`);
      expect(await axeFindings(page)).toEqual([]);
      await page.getByRole('button', { name: 'Fit the rig to this log' }).click();
      await page.getByRole('button', { name: 'Use the fitted rig' }).click({ timeout: 120_000 });
      const { code } = await stayputProcess(
        ['calibrate', example('log-parked.yaml'), log, '--at', '40.1,18.4', '--rig-out', 'fitted.yaml', '--force'],
        { cwd },
      );
      expect(code).toBe(0);
      await page.click('#tab-rig');
      await page.waitForFunction(
        (text) => document.querySelector('textarea')!.value === text,
        readFileSync(join(cwd, 'fitted.yaml'), 'utf8'),
      );
      const [image] = [join(cwd, 'no-log.csv')];
      writeFileSync(
        image,
        Uint8Array.from({ length: 3000 }, (_, k) => (k * 7919) % 256),
      );
      await page.click('#tab-log');
      await page.setInputFiles('.drop input', image);
      expect(await page.textContent('.problem', { timeout: 60_000 })).toMatch(/no-log\.csv cannot be read: \S/);
      await page.close();
    },
    LONG_MS,
  );

  test(
    'a zipped log is dropped on the page with the pointer, and a broken archive says so',
    async () => {
      const { page } = await open(await made('zip', [example('log-parked.yaml'), '--at', '40.1,18.4']));
      await page.click('#tab-log');
      const zip = zipOf({ 'log.csv': readFileSync(example('log-parked.csv')) });
      await dropped(page, 'log.zip', zip);
      await page.waitForSelector('.verdict', { timeout: 120_000 });
      const { stdout } = await stayputProcess(
        ['compare', example('log-parked.yaml'), example('log-parked.csv'), '--at', '40.1,18.4', '--json'],
        { cwd },
      );
      const { findings } = JSON.parse(stdout) as { findings: { text: string }[] };
      expect(await page.locator('.findings li').count()).toBe(findings.length);
      await dropped(page, 'log.zip', zip.subarray(0, zip.length - 60));
      expect(await page.textContent('.problem', { timeout: 60_000 })).toMatch(
        /log\.zip cannot be read: the ZIP archive is damaged or cut short/,
      );
      await page.close();
    },
    LONG_MS,
  );

  test(
    'a log of a million rows is read and held against the rig while the page still answers',
    async () => {
      const log = join(cwd, 'long.csv');
      writeFileSync(log, longLog(1_000_000));
      const { page } = await open(await made('long', [example('heron.yaml'), '--at', '0,10']));
      await page.evaluate(() => {
        const kept = window as unknown as { longestMs: number };
        kept.longestMs = 0;
        let last = performance.now();
        const tick = () => {
          const now = performance.now();
          kept.longestMs = Math.max(kept.longestMs, now - last);
          last = now;
          setTimeout(tick, 5);
        };
        tick();
      });
      await page.click('#tab-log');
      await page.setInputFiles('.drop input', log);
      await page.waitForSelector('progress');
      await page.click('#tab-rig'); // the other tabs are there meanwhile
      await page.click('#tab-log');
      await page.waitForSelector('.verdict', { timeout: 200_000 });
      expect(await page.textContent('#panel')).toContain('1,000,000');
      // far above what a drawn frame takes on a busy machine, far below what reading takes: the reading is elsewhere
      const longest = await page.evaluate(() => (window as unknown as { longestMs: number }).longestMs);
      expect(longest).toBeLessThan(1000);
      await page.close();
    },
    LONG_MS,
  );

  test(
    'by keyboard alone: the tabs, a slider, a text and a button',
    async () => {
      const { page } = await open(
        await made('keys', [example('heron.yaml'), '--place', 'Porto', '--from', '2026-10-01']),
      );
      /** Goes on by the Tab key until something is reached, as somebody without a pointer does. */
      const reach = async (selector: string) => {
        for (let k = 0; k < 120; k++) {
          if (await page.evaluate((one) => document.activeElement?.matches(one), selector)) return;
          await page.keyboard.press('Tab');
        }
        throw new Error(`${selector} is not reached by Tab`);
      };
      const before = await figure(page, 'p10');
      await reach('[data-control="battery.capacity"]');
      // what has the focus shows it
      expect(
        await page.evaluate(() => {
          const { outlineStyle, boxShadow } = getComputedStyle(document.activeElement!);
          return outlineStyle !== 'none' || boxShadow !== 'none';
        }),
      ).toBe(true);
      for (let k = 0; k < 5; k++) await page.keyboard.press('ArrowRight');
      await page.waitForFunction((old) => document.querySelector('[data-figure=p10]')!.textContent !== old, before);
      await settled(page);
      await reach('.undo');
      await page.keyboard.press('Enter');
      await page.waitForFunction((old) => document.querySelector('[data-figure=p10]')!.textContent === old, before);
      await page.focus('#tab-answer');
      await page.keyboard.press('ArrowRight');
      await page.keyboard.press('ArrowRight');
      expect(await page.evaluate(() => document.activeElement?.id)).toBe('tab-rig');
      expect(await page.getAttribute('#tab-rig', 'aria-selected')).toBe('true');
      await reach('textarea');
      await page.keyboard.press('Control+Home');
      await page.keyboard.type('# mine\n');
      expect(await page.inputValue('textarea')).toMatch(/^# mine\n/);
      await page.close();
    },
    LONG_MS,
  );

  test(
    'at 200 % on a small desktop everything is there, and nothing moves for who wants no motion',
    async () => {
      const file = await made('zoom', [example('heron.yaml'), '--place', 'Porto', '--from', '2026-10-01']);
      // 1280 x 800 at 200 % has 640 x 400 CSS pixels (WCAG 2.2, 1.4.4 and 1.4.10)
      const page = await browser.newPage({
        viewport: { width: 640, height: 400 },
        deviceScaleFactor: 2,
        reducedMotion: 'reduce',
      });
      await page.goto(`file://${file}`);
      await settled(page);
      for (const tab of ['answer', 'tonight', 'rig', 'log', 'size']) {
        await page.click(`#tab-${tab}`);
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(640);
        expect(await axeFindings(page)).toEqual([]);
        const moving = await page.evaluate(
          () =>
            document.getAnimations().filter(({ effect }) => Number(effect?.getComputedTiming().duration) > 10).length,
        );
        expect(moving).toBe(0);
        expect(
          await page.$$eval('body *', (all) =>
            all
              .map((one) => getComputedStyle(one).transitionDuration)
              .filter((text) => text.split(',').some((part) => Number.parseFloat(part) > 0.01)),
          ),
        ).toEqual([]);
      }
      await page.close();
    },
    LONG_MS,
  );

  test(
    'tonight says what the command says, and what is typed wrongly is answered',
    async () => {
      const { page } = await open(await made('tonight', [example('heron.yaml'), '--place', 'Porto']));
      await page.click('#tab-tonight');
      await page.getByText('By its voltage, or another time').click();
      await page.getByLabel('Time of day').fill('2026-10-10 18:00');
      await page.$eval('#panel input[type=range]', (input) => {
        (input as HTMLInputElement).value = '43';
        input.dispatchEvent(new Event('input', { bubbles: true }));
      });
      await page.getByLabel('Sky of the next day of sun').selectOption('dull');
      await page.getByLabel('Extra use').fill('laptop 3 h');
      await page.press('[id$=use]', 'Tab');
      const { stdout } = await stayputProcess(
        [
          ...['tonight', example('heron.yaml'), '--place', 'Porto', '--now', '2026-10-10 18:00', '--soc', '43'],
          ...['--sky', 'dull, fair, fair', '--use', 'laptop 3 h', '--quiet'],
        ],
        { cwd },
      );
      const [words] = [stdout.replace(/\s+/g, ' ').trim()];
      await page.waitForFunction(
        (said) =>
          document.querySelector('.verdict') && said.startsWith(document.querySelector('.verdict')!.textContent!),
        words,
        { timeout: 120_000 },
      );
      expect(await axeFindings(page)).toEqual([]);
      await page.getByLabel('Extra use').fill('laptop for ever');
      await page.press('[id$=use]', 'Tab');
      expect(await page.textContent('.problem', { timeout: 60_000 })).toMatch(/laptop for ever/);
      await page.close();
    },
    LONG_MS,
  );

  test(
    'a parts list is weighed as by size',
    async () => {
      const { page } = await open(
        await made('size', [example('heron.yaml'), '--place', 'Porto', '--from', '2026-10-01']),
      );
      const parts = readFileSync(example('parts.yaml'), 'utf8');
      await page.selectOption('footer select', 'metric');
      await page.click('#tab-size');
      await page.fill('textarea', parts);
      await page.getByRole('button', { name: 'Weigh it' }).click();
      await page.waitForSelector('circle', { timeout: 120_000 });
      const sized = await json<{ choices: { massKg: number; price: number; nightsWithout: number }[] }>(
        [
          'size',
          example('heron.yaml'),
          example('parts.yaml'),
          '--place',
          'Porto',
          '--from',
          '2026-10-01',
          '--days',
          '14',
          ...YEARS,
        ],
        cwd,
      );
      expect(await page.locator('circle').count()).toBe(sized.choices.length);
      const lightest = [...sized.choices].sort((a, b) => a.massKg - b.massKg)[0]!;
      expect(await page.textContent('.read-out')).toContain(
        `${lightest.massKg.toFixed(lightest.massKg < 10 ? 1 : 0)} kg`,
      );
      expect(await axeFindings(page)).toEqual([]);
      await page.fill('textarea', parts.replace('capacity: 50 Ah', 'capacity: 50 A'));
      await page.getByRole('button', { name: 'Weigh it' }).click();
      await page.waitForSelector('.problems');
      expect(await page.textContent('.problems')).toMatch(/line \d+.*did you mean 50 Ah/);
      await page.close();
    },
    LONG_MS,
  );

  test.each([
    { width: 390, colorScheme: 'light' },
    { width: 768, colorScheme: 'dark' },
    { width: 1280, colorScheme: 'light' },
  ] as const)(
    '$width px, $colorScheme: axe finds nothing, nothing runs sideways',
    async (look) => {
      const file = await made('looks', [example('heron.yaml'), '--place', 'Porto', '--from', '2026-10-01']);
      const { page } = await opened(browser, file, look);
      await settled(page);
      for (const tab of ['answer', 'tonight', 'rig', 'log', 'size']) {
        await page.click(`#tab-${tab}`);
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(look.width);
        expect(await axeFindings(page)).toEqual([]);
      }
      await page.close();
    },
    LONG_MS,
  );
});
