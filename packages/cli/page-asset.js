// Run by build.js: the interactive page, one HTML file with the library in a worker. `stayput page` puts the rig into it.
import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { build } from 'esbuild';
import { englishOnly } from '../core/english-only.js';
import { faceAliases } from '../core/face.js';
import { licences, packagesIn } from '../core/licences.js';

/** Where the command puts what the page is about. */
export const GIVEN_MARK = '"what the page is about"';
/** So much of a phone's memory card, and of a mail, it may take [bytes, compressed]. */
const MAX_COMPRESSED = 450_000;

const hashOf = (text) => `'sha256-${createHash('sha256').update(text).digest('base64')}'`;

/** Within a script element, a text must not end it. */
function inScript(text, what) {
  const safe = text.replaceAll('<!--', '\\x3c!--').replace(/<(\/?script)/gi, '\\x3c$1');
  if (/<(?:!--|\/?script)/i.test(safe)) throw new Error(`the page's ${what} would end its element`);
  return safe;
}

/** @returns the page's text, and the folders of the packages in it */
export async function pageAsset(here) {
  const bundled = (entry, prelude = '') =>
    build({
      entryPoints: [join(here, 'src/page', entry)],
      absWorkingDir: here,
      bundle: true,
      write: false,
      metafile: true,
      minify: true,
      format: 'iife',
      platform: 'browser',
      target: ['es2022'],
      charset: 'utf8',
      legalComments: 'none', // the licences are written whole, beside the program and at the page's end
      jsx: 'automatic',
      jsxImportSource: 'preact',
      alias: faceAliases(join(here, '../core/dist'), 'js'),
      plugins: [englishOnly],
      banner: { js: prelude },
    });
  const [main, worker] = await Promise.all([
    bundled('main.tsx'),
    // zod tries whether it may compile code; the page's policy forbids it, and browsers report each try.
    bundled('worker.ts', 'globalThis.__zod_globalConfig={jitless:true};'),
  ]);
  const { PAGE_COLOURS } = await colours(here);
  const style = `${PAGE_COLOURS}\n${await readFile(join(here, 'src/page/page.css'), 'utf8')}`;
  const script = inScript(main.outputFiles[0].text, 'script');
  const folders = [main, worker].flatMap(({ metafile }) => packagesIn(metafile, here));
  const parts = await licences(folders);
  const policy = [
    "default-src 'none'",
    `script-src ${hashOf(script)}`,
    'worker-src blob:',
    `style-src ${hashOf(style)}`,
    'img-src data:',
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
  const html = `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width,initial-scale=1">
<meta name="color-scheme" content="light dark">
<link rel="icon" href="data:,">
<title>stayput</title>
<style>${style}</style>
</head>
<body>
<div id="page"></div>
<noscript><p>This page works its answer out by itself and needs a browser that runs it: open the file in one, instead of a preview.</p></noscript>
<script type="application/json" id="given">${GIVEN_MARK}</script>
<script type="text/plain" id="worker">${inScript(worker.outputFiles[0].text, 'worker')}</script>
<script type="text/plain" id="licences">${inScript(parts, 'licences')}</script>
<script>${script}</script>
</body>
</html>
`;
  const compressed = gzipSync(html, { level: 9 }).length;
  if (compressed > MAX_COMPRESSED)
    throw new Error(`the page is ${compressed} bytes compressed, more than ${MAX_COMPRESSED}`);
  return { html, folders };
}

/** The palette is TypeScript, of one small module. */
async function colours(here) {
  const { outputFiles } = await build({
    entryPoints: [join(here, 'src/show/charts/palette.ts')],
    bundle: true,
    write: false,
    format: 'esm',
  });
  return import(`data:text/javascript,${encodeURIComponent(outputFiles[0].text)}`);
}
