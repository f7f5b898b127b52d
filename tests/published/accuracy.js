// Prints the accuracy tables of all published checks. With --readme only what the README beside it holds, with --write it goes there.
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { faceAliases } from '../../packages/core/face.js';

const here = fileURLToPath(new URL('.', import.meta.url));
const readme = fileURLToPath(new URL('README.md', import.meta.url));
const options = process.argv.slice(2);

const topics = await checksByTopic();
if (options.includes('--write')) {
  const text = readFileSync(readme, 'utf8');
  const part = /(?<=<!-- accuracy -->\n)[\s\S]*(?=<!-- \/accuracy -->)/;
  writeFileSync(
    readme,
    text.replace(part, () => partOfReadme(topics)),
  );
} else process.stdout.write(options.includes('--readme') ? partOfReadme(topics) : tablesOf(topics));

/** `*.checks.ts` are data that call the model: bundled, as Node reads no TypeScript. */
async function checksByTopic() {
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
      alias: faceAliases(),
    });
    const modules = createRequire(import.meta.url)(outfile);
    return files.map((name, i) => ({
      topic: name.replace('.checks.ts', ''),
      checks: Object.values(modules[`topic${i}`])
        .flat()
        .filter((check) => check?.cases?.length > 0),
    }));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** What a source's own figures say. Ranges of common practice, and values from memory, are only counted. */
function partOfReadme(all) {
  const isFirm = ({ origin, quantity }) =>
    (origin === 'published' || origin === 'recomputed from the published formula') &&
    !/outside of|middle of the range/.test(quantity);
  const firm = all.map(({ topic, checks }) => ({ topic, checks: checks.filter(isFirm) }));
  const count = (some) => some.reduce((sum, { checks }) => sum + checks.length, 0);
  const cases = firm.flatMap(({ checks }) => checks).reduce((sum, check) => sum + check.cases.length, 0);
  return `
${count(firm)} quantities, ${cases} values. ${count(all) - count(firm)} more, ranges of common practice and values from memory, are held by the tests and
printed by \`npm run accuracy\`. An error below 1e-9 is rounding, and stands as 0.

${tablesOf(firm)}
`;
}

function tablesOf(all) {
  const head = ['| quantity | cases | mean error | worst error | source |', '| --- | ---: | ---: | ---: | --- |'];
  return all
    .filter(({ checks }) => checks.length > 0)
    .map(({ topic, checks }) => [`**${topic}**`, '', ...head, ...checks.map(rowOf), ''].join('\n'))
    .join('\n');
}

function rowOf({ quantity, unit, source, origin, relative, fault, cases }) {
  const errors = cases.map(({ expected, got }) => {
    const difference = Math.abs(got() - expected);
    return relative ? difference / Math.abs(expected) : difference;
  });
  const mean = errors.reduce((sum, error) => sum + error, 0) / errors.length;
  const shown = (error) =>
    (relative ? `${digits(100 * error)} %` : `${digits(error)} ${unit === '-' ? '' : unit}`).trim();
  const from = origin === 'published' ? source : `${source} (${origin})`;
  const what = fault ? `${quantity} (known to miss it: ${fault})` : quantity;
  return `| ${what} | ${cases.length} | ${shown(mean)} | ${shown(Math.max(...errors))} | ${from.replaceAll('|', '/')} |`;
}

function digits(value) {
  return value < 1e-9 ? '0' : String(Number(value.toPrecision(2)));
}
