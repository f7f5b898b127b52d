/// <reference lib="dom" />
import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { delimiter, join } from 'node:path';
import type { chromium as Chromium, Page } from 'playwright-core';
import { example, inFolder, timed } from './program.js';
import type { Measure } from './report.js';

const executablePath = (process.env.PATH ?? '')
  .split(delimiter)
  .map((folder) => join(folder, 'chromium'))
  .find((path) => existsSync(path));
/** Positions of one slider, a tenth of a second apart, as a thumb moves it. */
const DRAGS = 20;

/** The interactive page in a browser, on the example: from a drag to what the worker says of it. Nothing without chromium. */
export async function benchPage(): Promise<Measure[]> {
  if (!executablePath) return [];
  // not bundled: it finds its own files beside itself
  const { chromium } = createRequire(import.meta.url)('playwright-core') as { chromium: typeof Chromium };
  return inFolder(async (folder) => {
    await timed(
      ['page', example('heron.yaml'), '--place', 'Porto', '--from', '2026-10-01', '--out', 'page.html', '--quiet'],
      folder,
    );
    const browser = await chromium.launch({ executablePath, args: ['--no-sandbox'] });
    try {
      const page = await browser.newPage({ viewport: { width: 390, height: 844 } });
      await page.addInitScript(listen);
      await page.goto(`file://${join(folder, 'page.html')}`);
      await page.waitForFunction(() => window.heard.some(({ kind }) => kind === 'done'), undefined, {
        timeout: 120_000,
      });
      const opened = await page.evaluate(
        () => window.heard.find(({ kind, isEstimate }) => kind === 'glance' && !isEstimate)!.atMs,
      );
      const { estimates, finalMs, longestMs } = await dragged(page);
      const middle = estimates.sort((a, b) => a - b)[estimates.length >> 1]!;
      return [
        { name: 'page: opened to the answer of the month', value: opened / 1000, unit: 's', goal: 2 },
        { name: 'page: drag to estimate, the middle of 20', value: middle, unit: 'ms', goal: 50 },
        { name: 'page: last drag to its answer', value: finalMs, unit: 'ms', goal: 1000 },
        { name: 'page: longest task of the page while dragging', value: longestMs, unit: 'ms', goal: 50 },
      ];
    } finally {
      await browser.close();
    }
  });
}

declare global {
  interface Window {
    heard: { kind: string; isEstimate?: boolean; atMs: number }[];
    longestMs: number;
  }
}

/** Notes when the worker says what, and how long the page was busy at a stretch. Runs in the page. */
function listen(): void {
  window.heard = [];
  window.longestMs = 0;
  new PerformanceObserver((list) => {
    for (const { duration } of list.getEntries()) window.longestMs = Math.max(window.longestMs, duration);
  }).observe({ entryTypes: ['longtask'] });
  const Plain = window.Worker;
  window.Worker = class extends Plain {
    constructor(url: string | URL) {
      super(url);
      this.addEventListener('message', ({ data }) => window.heard.push({ ...pick(data), atMs: performance.now() }));
    }
  };
  function pick({ kind, isEstimate }: { kind: string; isEstimate?: boolean }) {
    return { kind, ...(isEstimate !== undefined && { isEstimate }) };
  }
}

function dragged(page: Page): Promise<{ estimates: number[]; finalMs: number; longestMs: number }> {
  return page.evaluate(async (drags) => {
    const input = document.querySelector<HTMLInputElement>('[data-control="battery.capacity"]')!;
    const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
    const heard = (isEstimate: boolean, since: number) =>
      window.heard.find((one) => one.kind === 'glance' && one.isEstimate === isEstimate && one.atMs > since)?.atMs;
    window.longestMs = 0;
    const estimates: number[] = [];
    let last = 0;
    for (let k = 0; k < drags; k++) {
      last = performance.now();
      input.value = String(110 + 10 * k);
      input.dispatchEvent(new Event('input', { bubbles: true }));
      await wait(100);
      while (heard(true, last) === undefined) await wait(1);
      estimates.push(heard(true, last)! - last);
    }
    while (heard(false, last) === undefined) await wait(5);
    return { estimates, finalMs: heard(false, last)! - last, longestMs: window.longestMs };
  }, DRAGS);
}
