// npm run fit-days [-- FOLDER]: makes packages/core/src/weather/made/day-parameters.ts anew from the statistics of real years in a folder of
// reference files (19-real-daily-years.json, 15-daily-light-tropics.json, 11-climate.json).
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const here = fileURLToPath(new URL('.', import.meta.url));
const root = fileURLToPath(new URL('../../', import.meta.url));
const target = join(root, 'packages/core/src/weather/made/day-parameters.ts');
const folder = mkdtempSync(join(tmpdir(), 'stayput-fit-'));
try {
  const outfile = join(folder, 'fit.cjs');
  await build({
    stdin: {
      contents: "export * from './real-years.ts'; export { parametersText } from './day-parameters-text.ts';",
      resolveDir: here,
      loader: 'ts',
    },
    bundle: true,
    platform: 'node',
    format: 'cjs',
    outfile,
    logLevel: 'error',
  });
  const { knownPlaces, fitDayParameters, parametersText } = createRequire(import.meta.url)(outfile);
  writeFileSync(
    target,
    parametersText(fitDayParameters(knownPlaces(process.argv[2] ?? join(root, '../shared/reference')))),
  );
  execFileSync('npx', ['biome', 'format', '--write', target], { cwd: root, stdio: 'ignore' });
} finally {
  rmSync(folder, { recursive: true, force: true });
}
