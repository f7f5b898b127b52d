// Bundles the command line into dist/, one chunk a command, so that --help loads nothing of the model.
import { chmod, mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { licences, packagesIn } from './licences.js';

const here = dirname(fileURLToPath(import.meta.url));
const { version } = JSON.parse(await readFile(join(here, 'package.json'), 'utf8'));
const outdir = join(here, 'dist');

/** zod carries its messages in some forty languages, and its namespace keeps them from being shaken off. Ours are English. */
const englishOnly = {
  name: 'english-only',
  setup: (bundler) =>
    bundler.onLoad({ filter: /[\\/]zod[\\/]v4[\\/]locales[\\/]index\.js$/ }, ({ path }) => ({
      contents: "export { default as en } from './en.js';",
      resolveDir: dirname(path),
    })),
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
  plugins: [englishOnly],
  // Class names are part of our own contract: errors are told apart by them.
  keepNames: true,
  legalComments: 'none', // the licences are written whole, below
  chunkNames: 'chunks/[name]-[hash]',
  define: { STAYPUT_VERSION: JSON.stringify(version) },
  banner: {
    // commander is CommonJS and requires Node's own modules.
    js: "import{createRequire as __createRequire}from'node:module';const require=__createRequire(import.meta.url);",
  },
});

outputFiles.push({
  path: join(outdir, 'LICENSES-OF-PARTS.txt'),
  contents: await licences(packagesIn(metafile, here)),
});

// Written only once all is well, and stale chunks go last: whoever runs the program meanwhile finds it whole.
for (const { path, contents } of outputFiles) {
  await mkdir(dirname(path), { recursive: true });
  await writeFile(path, contents);
}
await chmod(join(outdir, 'stayput.js'), 0o755);
const fresh = new Set(outputFiles.map(({ path }) => path));
for (const entry of await readdir(outdir, { recursive: true, withFileTypes: true })) {
  const path = join(entry.parentPath ?? entry.path, entry.name);
  if (entry.isFile() && !fresh.has(path)) await rm(path);
}
