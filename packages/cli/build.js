// Bundles the command line into dist/, one chunk a command, so that --help loads nothing of the model.
import { chmod, readFile, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

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

await rm(outdir, { recursive: true, force: true });
await build({
  absWorkingDir: here,
  entryPoints: { stayput: 'src/main.ts' },
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
  legalComments: 'linked',
  chunkNames: 'chunks/[name]-[hash]',
  define: { STAYPUT_VERSION: JSON.stringify(version) },
  banner: {
    // commander is CommonJS and requires Node's own modules.
    js: "import{createRequire as __createRequire}from'node:module';const require=__createRequire(import.meta.url);",
  },
});
await chmod(join(outdir, 'stayput.js'), 0o755);
