// Bundles the command line into dist/, one chunk a command, so that --help loads nothing of the model.
import { execFile } from 'node:child_process';
import { chmod, mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { build } from 'esbuild';
import { englishOnly } from '../core/english-only.js';
import { faceAliases } from '../core/face.js';
import { licences, packagesIn } from '../core/licences.js';
import { pageAsset } from './page-asset.js';

const here = dirname(fileURLToPath(import.meta.url));
const { version } = JSON.parse(await readFile(join(here, 'package.json'), 'utf8'));
const outdir = join(here, 'dist');

/** Prompts that are not asked are shaken off: their packages promise it, where esbuild does not look. */
const askedOnly = {
  name: 'asked-only',
  setup: (bundler) =>
    bundler.onResolve({ filter: /^@inquirer\// }, async ({ path, pluginData, ...from }) =>
      pluginData === 'asked-only'
        ? undefined
        : { ...(await bundler.resolve(path, { ...from, pluginData: 'asked-only' })), sideEffects: false },
    ),
};

const { outputFiles, metafile } = await build({
  write: false,
  metafile: true,
  absWorkingDir: here,
  entryPoints: { stayput: 'src/main.ts', 'sweep-worker': 'src/pool/sweep-worker.ts' },
  outdir,
  bundle: true,
  splitting: true,
  format: 'esm',
  platform: 'node',
  target: 'node20',
  minify: true,
  // The library in its parts and not as its bundle, so that each command carries only what it uses.
  alias: faceAliases(join(here, '../core/dist'), 'js'),
  plugins: [englishOnly, askedOnly],
  legalComments: 'none', // the licences are written whole, below
  chunkNames: 'chunks/[name]-[hash]',
  define: { STAYPUT_VERSION: JSON.stringify(version) },
  banner: {
    // commander is CommonJS and requires Node's own modules.
    js: "import{createRequire as __createRequire}from'node:module';const require=__createRequire(import.meta.url);",
  },
});

/** Beside the code: what draws a picture as PNG, and the fonts in it. */
const beside = {
  'resvg.wasm': '@resvg/resvg-wasm/index_bg.wasm',
  'DejaVuSans.ttf': 'dejavu-fonts-ttf/ttf/DejaVuSans.ttf',
  'DejaVuSans-Bold.ttf': 'dejavu-fonts-ttf/ttf/DejaVuSans-Bold.ttf',
};
for (const [name, source] of Object.entries(beside))
  outputFiles.push({
    path: join(outdir, name),
    contents: await readFile(join(here, 'node_modules', source)),
  });

// The page that answers back, which `stayput page` fills with a rig.
const page = await pageAsset(here);
outputFiles.push({ path: join(outdir, 'page.html'), contents: page.html });

outputFiles.push({
  path: join(outdir, 'LICENSES-OF-PARTS.txt'),
  contents: await licences([
    ...packagesIn(metafile, here),
    ...page.folders,
    join(here, 'node_modules/dejavu-fonts-ttf'),
  ]),
});

// The JSON Schemas of the files that people write, which `stayput new --schema` puts beside a rig.
const schemas = join(here, '../core/schema');
for (const name of await readdir(schemas))
  outputFiles.push({ path: join(outdir, 'schema', name), contents: await readFile(join(schemas, name)) });

// Written only once all is well, and stale chunks go last: whoever runs the program meanwhile finds it whole.
for (const { path, contents } of outputFiles) {
  await mkdir(dirname(path), { recursive: true });
  await writeFile(path, contents);
}
await chmod(join(outdir, 'stayput.js'), 0o755);

// The manual page is printed by the program that was just built, from its own definitions.
const manual = join(outdir, 'stayput.1');
const { stdout } = await promisify(execFile)(process.execPath, [join(outdir, 'stayput.js'), 'man']);
await writeFile(manual, stdout);

const fresh = new Set([manual, ...outputFiles.map(({ path }) => path)]);
for (const entry of await readdir(outdir, { recursive: true, withFileTypes: true })) {
  const path = join(entry.parentPath ?? entry.path, entry.name);
  if (entry.isFile() && !fresh.has(path)) await rm(path);
}
