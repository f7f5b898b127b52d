// Prints the accuracy table of the README from the published checks; with --write puts it there.
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const here = fileURLToPath(new URL('.', import.meta.url));
const readme = fileURLToPath(new URL('../../README.md', import.meta.url));

const files = readdirSync(here).filter((name) => name.endsWith('.checks.ts'));
const folder = mkdtempSync(join(tmpdir(), 'stayput-accuracy-'));
const outfile = join(folder, 'checks.cjs');
try {
  await build({
    stdin: {
      contents: files.map((name, i) => `export * as topic${i} from './${name}';`).join('\n'),
      resolveDir: here,
      loader: 'ts',
    },
    bundle: true,
    platform: 'node',
    format: 'cjs',
    outfile,
    logLevel: 'error',
    alias: { '@stayput/core': fileURLToPath(new URL('../../packages/core/src/index.ts', import.meta.url)) },
  });
  const topics = Object.values(createRequire(import.meta.url)(outfile));
  const checks = topics
    .flatMap((topic) => Object.values(topic).filter(Array.isArray).flat())
    .filter((check) => check?.cases?.length > 0);
  process.stdout.write(`${tableOf(checks)}\n`);
  if (process.argv.includes('--write')) {
    // The README keeps what a source's own figures say; ranges of common practice and values from memory stay in the tests.
    const firm = checks.filter(
      ({ origin }) => origin === 'published' || origin === 'recomputed from the published formula',
    );
    const table = tableOf(firm.filter(({ quantity }) => !/outside of|middle of the range/.test(quantity)));
    const text = readFileSync(readme, 'utf8');
    const part = /<!-- accuracy -->[\s\S]*<!-- \/accuracy -->/;
    writeFileSync(
      readme,
      text.replace(part, () => `<!-- accuracy -->\n\n${table}\n\n<!-- /accuracy -->`),
    );
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}

function tableOf(checks) {
  const head = ['| quantity | cases | mean error | worst error | source |', '| --- | ---: | ---: | ---: | --- |'];
  return [...head, ...checks.map(rowOf)].join('\n');
}

function rowOf({ quantity, unit, source, origin, relative, cases }) {
  const errors = cases.map(({ expected, got }) => {
    const difference = Math.abs(got() - expected);
    return relative ? difference / Math.abs(expected) : difference;
  });
  const mean = errors.reduce((sum, error) => sum + error, 0) / errors.length;
  const shown = (error) =>
    (relative ? `${digits(100 * error)} %` : `${digits(error)} ${unit === '-' ? '' : unit}`).trim();
  const from = origin === 'published' ? source : `${source} (${origin})`;
  return `| ${quantity} | ${cases.length} | ${shown(mean)} | ${shown(Math.max(...errors))} | ${from.replaceAll('|', '/')} |`;
}

function digits(value) {
  return value === 0 ? '0' : value < 1e-9 ? '< 1e-9' : String(Number(value.toPrecision(2)));
}
