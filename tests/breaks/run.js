// npm run breaks: breaks the running physics in the ways of list.js and fresh.js, one at a time, and tells which of them the published checks notice.
// The sources are never touched: a break is put in while the checks of tests/published are bundled. What needs ../shared takes no part.
import { spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { build } from 'esbuild';
import { faceAliases } from '../../packages/core/face.js';
import { BREAKS as FRESH } from './fresh.js';
import { BREAKS } from './list.js';

const HELP = `npm run breaks -- [--only TEXT] [--least PERCENT] [--list FILE] [--checks] [--fit]

  --only TEXT      only breaks whose file, subject or words have this in them
  --least PERCENT  of the breaks must be noticed, else exit 1 (default 90)
  --list FILE      only the breaks of this list, a module that exports BREAKS
  --checks         name the checks that notice
  --fit            only tell which breaks no longer fit the sources
`;
const { values } = parseArgs({
  options: {
    only: { type: 'string', default: '' },
    least: { type: 'string', default: '90' },
    list: { type: 'string' },
    checks: { type: 'boolean', default: false },
    fit: { type: 'boolean', default: false },
    help: { type: 'boolean', default: false },
  },
});
if (values.help) {
  process.stdout.write(HELP);
  process.exit(0);
}

const pathOf = (relative) => fileURLToPath(new URL(relative, import.meta.url));
const SOURCES = pathOf('../../packages/core/src/');
const PUBLISHED = pathOf('../published/');
const LONGEST_MS = 120_000;

const sources = readdirSync(SOURCES, { recursive: true })
  .filter((name) => name.endsWith('.ts'))
  .map((name) => join(SOURCES, name));
const topics = readdirSync(PUBLISHED).filter((name) => name.endsWith('.checks.ts'));
const lists = values.list ? [(await import(join(process.cwd(), values.list))).BREAKS] : [BREAKS, FRESH];
const breaks = lists
  .flatMap((list) => Object.entries(list))
  .flatMap(([subject, rows]) => rows.map(([file, what, find, replace]) => ({ subject, file, what, find, replace })))
  .filter(({ subject, file, what }) => `${subject} ${file} ${what}`.includes(values.only));

if (values.fit) {
  const outdated = breaks.map((one) => ({ ...one, ...fitOf(one) })).filter((one) => one.outdated);
  for (const { file, what, outdated: why } of outdated) process.stdout.write(`${file}: ${what} (${why})\n`);
  process.stdout.write(`${outdated.length} of ${breaks.length} breaks no longer fit the sources\n`);
  process.exit(outdated.length > 0 ? 1 : 0);
}

const folder = mkdtempSync(join(tmpdir(), 'stayput-breaks-'));
try {
  const sound = await failing(undefined, 'sound');
  if (sound.length > 0) throw new Error(`without any break these checks fail already:\n${sound.join('\n')}`);
  const found = new Array(breaks.length);
  let next = 0;
  const worker = async () => {
    while (next < breaks.length) {
      const at = next++;
      found[at] = await attempt(breaks[at], at);
    }
  };
  await Promise.all(Array.from({ length: Math.min(2, availableParallelism()) }, worker));
  process.exitCode = report(found);
} finally {
  rmSync(folder, { recursive: true, force: true });
}

/** The source that a break is for, broken; or why it no longer fits. */
function fitOf({ file, find, replace }) {
  const paths = sources.filter((path) => path.endsWith(`/${file}`));
  if (paths.length !== 1) return { outdated: `${paths.length} files of that name (name its folder)` };
  const text = readFileSync(paths[0], 'utf8');
  const times = text.split(find).length - 1;
  if (times !== 1) return { outdated: `found ${times} times: ${find}` };
  return { path: paths[0], text: text.replace(find, () => replace) };
}

/** What a break does to the checks. */
async function attempt(one, at) {
  const swap = fitOf(one);
  return swap.outdated ? { ...one, ...swap } : { ...one, by: await failing(swap, `break-${at}`, one.subject) };
}

/** Names of the published checks that fail, with a source replaced. */
async function failing(swap, name, subject = '') {
  const outfile = join(folder, `${name}.cjs`);
  // The topic that the break is about comes first: one check that notices it will do.
  const isNear = (file) => subject.includes(file.replace('.checks.ts', ''));
  const sorted = [...topics].sort((a, b) => Number(isNear(b)) - Number(isNear(a)));
  await build({
    stdin: {
      contents: sorted.map((file, i) => `export * as topic${i} from './${file}';`).join('\n'),
      resolveDir: PUBLISHED,
      loader: 'ts',
    },
    bundle: true,
    platform: 'node',
    format: 'cjs',
    outfile,
    logLevel: 'error',
    alias: faceAliases(SOURCES),
    plugins: [
      {
        name: 'swap',
        setup({ onLoad }) {
          onLoad({ filter: /\.ts$/ }, ({ path }) =>
            path === swap?.path ? { contents: swap.text, loader: 'ts' } : undefined,
          );
        },
      },
    ],
  });
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [pathOf('evaluate.js'), outfile, values.checks ? 'all' : 'first'], {
      timeout: LONGEST_MS,
    });
    let out = '';
    let errors = '';
    child.stdout.on('data', (data) => (out += data));
    child.stderr.on('data', (data) => (errors += data));
    child.on('error', reject);
    child.on('close', (code, signal) => {
      rmSync(outfile, { force: true });
      if (signal) resolve([`no end within ${LONGEST_MS / 1000} s`]);
      else if (code === 0) resolve(JSON.parse(out));
      else resolve([`cannot be loaded: ${errors.trim().split('\n').at(-1)}`]);
    });
  });
}

function report(found) {
  const lines = [];
  for (const subject of new Set(found.map((one) => one.subject))) {
    lines.push('', subject);
    for (const { file, what, by, outdated } of found.filter((one) => one.subject === subject)) {
      const fate = outdated ? 'OUTDATED   ' : by.length > 0 ? 'noticed    ' : 'NOT noticed';
      lines.push(`  ${fate}  ${file}: ${what}${outdated ? ` (${outdated})` : ''}`);
      if (values.checks && by) lines.push(...by.slice(0, 8).map((check) => `                 ${check}`));
    }
  }
  const outdated = found.filter((one) => one.outdated).length;
  const noticed = found.filter((one) => one.by?.length > 0).length;
  const share = (100 * noticed) / found.length;
  lines.push(
    '',
    `${noticed} of ${found.length} breaks are noticed by the published checks alone: ${share.toFixed(1)} %`,
  );
  if (outdated > 0) lines.push(`${outdated} no longer fit the sources: correct their list`);
  process.stdout.write(`${lines.join('\n')}\n`);
  return outdated > 0 || share < Number(values.least) ? 1 : 0;
}
