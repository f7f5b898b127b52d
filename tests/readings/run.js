// Prints what calibrate tells of invented vehicles from their totals, their daily rows and five readings; with --write the table goes into
// DEVELOPERS.md. `-- 40` takes so many vehicles.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { faceAliases } from '../../packages/core/face.js';

const path = (relative) => fileURLToPath(new URL(relative, import.meta.url));
const guide = path('../../DEVELOPERS.md');
const words = process.argv.slice(2);
const vehicles = Number(words.find((word) => /^\d+$/.test(word)) ?? 40);
const NAMES = {
  loads: 'loads, times the rig',
  heatLeak: 'heat leak',
  harvest: 'panels, times the rig',
  shade: 'shade',
  capacity: 'capacity',
  loadWhPerDay: 'loads a day',
  solarWhPerDay: 'sun a day',
};

const { KINDS, judged } = await invented();
const columns = [];
for (const kind of KINDS) columns.push({ kind, ...(await judged(kind, vehicles)) });
const cell = ({ width, held }, name) => `${Math.round(100 * width[name])} %, ${held[name]}`;
const mostOf = ({ next }) => {
  const [what, count] = Object.entries(next).sort(([, a], [, b]) => b - a)[0];
  return `${what} (${count})`;
};
const table = [
  `| of ${vehicles} vehicles | ${columns.map(({ kind }) => kind).join(' | ')} |`,
  `| --- | ${columns.map(() => '---:').join(' | ')} |`,
  ...Object.entries(NAMES).map(([key, name]) => `| ${name} | ${columns.map((one) => cell(one, key)).join(' | ')} |`),
  `| would tell most | ${columns.map(mostOf).join(' | ')} |`,
].join('\n');
process.stdout.write(`${table}\n`);
if (words.includes('--write')) {
  const part = /(?<=<!-- readings -->\n)[\s\S]*(?=<!-- \/readings -->)/;
  writeFileSync(
    guide,
    readFileSync(guide, 'utf8').replace(part, () => `\n${table}\n\n`),
  );
}

async function invented() {
  const folder = mkdtempSync(join(tmpdir(), 'stayput-readings-'));
  const outfile = join(folder, 'invented.cjs');
  try {
    await build({
      entryPoints: [path('invented.ts')],
      bundle: true,
      platform: 'node',
      format: 'cjs',
      outfile,
      logLevel: 'error',
      alias: faceAliases(),
    });
    return createRequire(import.meta.url)(outfile);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
