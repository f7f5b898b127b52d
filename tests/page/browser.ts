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
  readonly height?: number;
  readonly colorScheme: 'light' | 'dark';
}

/** Opens a file, and keeps what a good page never does: complain, ask for anything else, or open a dialogue. */
export async function opened(
  browser: Browser,
  file: string,
  { width, height = 800, colorScheme }: Look,
): Promise<{ page: Page; complaints: string[] }> {
  const page = await browser.newPage({ viewport: { width, height }, colorScheme });
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

/** Everything that axe-core remarks, each with the first place where it is so. */
export async function axeFindings(page: Page): Promise<string[]> {
  await page.addScriptTag({ path: AXE });
  return page.evaluate(async () => {
    const { axe } = window as unknown as {
      axe: { run(): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> };
    };
    const { violations } = await axe.run();
    return violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`);
  });
}

export const pdfPages = (pdf: Uint8Array): number =>
  Buffer.from(pdf)
    .toString('latin1')
    .match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;

/** Unfolds whatever a page has folded away. */
export const unfold = (page: Page): Promise<void> =>
  page.evaluate(() => {
    for (const one of document.querySelectorAll('details')) one.open = true;
  });

/** Words of the pictures that lie over other words of the same picture, or beyond its edge. */
export function crowdedWords(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const SLACK_PX = 1;
    return [...document.querySelectorAll('svg')]
      .filter((svg) => svg.getBoundingClientRect().width > 0)
      .flatMap((svg) => {
        const edge = svg.getBoundingClientRect();
        const words = [...svg.querySelectorAll('text')]
          .map((one) => ({ said: one.textContent ?? '', box: one.getBoundingClientRect() }))
          .filter(({ said }) => said.trim() !== '');
        const title = svg.querySelector('title')?.textContent;
        return words.flatMap(({ said, box }, k) => [
          ...(box.left < edge.left - SLACK_PX || box.right > edge.right + SLACK_PX
            ? [`${title}: "${said}" runs off`]
            : []),
          ...words
            .slice(k + 1)
            .filter(
              (other) =>
                Math.min(box.right, other.box.right) - Math.max(box.left, other.box.left) > SLACK_PX &&
                // lines of text have room above and below their letters
                Math.min(box.bottom, other.box.bottom) - Math.max(box.top, other.box.top) > 0.3 * box.height,
            )
            .map((other) => `${title}: "${said}" over "${other.said}"`),
        ]);
      });
  });
}
