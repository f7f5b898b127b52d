/// <reference lib="dom" />
import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { delimiter, join } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';

/** Debian's package `chromium`, wherever the path leads to it. */
export const CHROMIUM = (process.env.PATH ?? '')
  .split(delimiter)
  .map((folder) => join(folder, 'chromium'))
  .find((path) => existsSync(path));

/** In the name of what needs it, so that a skipped test says why. */
export const NEEDS_CHROMIUM = CHROMIUM ? '' : ' (skipped: no chromium on the path)';

/** Not sandboxed: in a container the program may run as root, and it opens only pages that were just written. */
export const launch = (): Promise<Browser> => chromium.launch({ executablePath: CHROMIUM!, args: ['--no-sandbox'] });

export interface Look {
  readonly width: number;
  readonly colorScheme: 'light' | 'dark';
}

/** Opens a file, and keeps what a good page never does: complain, ask for anything else, or open a dialogue. */
export async function opened(
  browser: Browser,
  file: string,
  { width, colorScheme }: Look,
): Promise<{ page: Page; complaints: string[] }> {
  const page = await browser.newPage({ viewport: { width, height: 800 }, colorScheme });
  const complaints: string[] = [];
  page.on('console', (message) => complaints.push(`console: ${message.text()}`));
  page.on('pageerror', (error) => complaints.push(`error: ${error.message}`));
  page.on('dialog', (dialog) => {
    complaints.push(`dialogue: ${dialog.message()}`);
    void dialog.dismiss();
  });
  const url = `file://${file}`;
  page.on('request', (request) => {
    if (request.url() !== url && !request.url().startsWith('data:')) complaints.push(`request: ${request.url()}`);
  });
  await page.goto(url);
  return { page, complaints };
}

const AXE = createRequire(import.meta.url).resolve('axe-core/axe.min.js');

/** What axe-core holds to be serious or worse, each with the first place where it is so. */
export async function graveFindings(page: Page): Promise<string[]> {
  await page.addScriptTag({ path: AXE });
  return page.evaluate(async () => {
    const { axe } = window as unknown as {
      axe: { run(): Promise<{ violations: { id: string; impact: string; nodes: { html: string }[] }[] }> };
    };
    const { violations } = await axe.run();
    return violations
      .filter(({ impact }) => impact === 'serious' || impact === 'critical')
      .map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`);
  });
}

export const pdfPages = (pdf: Uint8Array): number =>
  Buffer.from(pdf)
    .toString('latin1')
    .match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;
