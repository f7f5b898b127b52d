// Runs `compare` and `calibrate` over the invented vehicles of ../shared/realities and counts, by their truth.json, what is found, missed and false.
// `--invented N --seed S` runs N sound vehicles of a generator of our own instead, and half as many with one fault each (`--faulty M`).
import { execFile } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { CAUSE, ENDS_BEFORE, GIVEN } from './given.js';
import { runInvented } from './invented/run.js';

const path = (relative) => fileURLToPath(new URL(relative, import.meta.url));
const shared = path('../../../shared/realities/');
const program = path('../../packages/cli/dist/stayput.js');
const option = (name, otherwise) => {
  const at = process.argv.indexOf(name);
  return at < 0 ? otherwise : Number(process.argv[at + 1]);
};
const sound = option('--invented');
if (sound !== undefined) {
  const faulty = option('--faulty', Math.ceil(sound / 2));
  runInvented({ sound, faulty, seed: option('--seed', 1), show: process.argv.includes('--show') });
  process.exit(0);
}
const wanted = process.argv.slice(2).filter((word) => !word.startsWith('-'));
const run = promisify(execFile);

if (!existsSync(shared)) {
  process.stdout.write('Nothing to run: the invented vehicles are not beside this project.\n');
  process.exit(0);
}

async function answer(command, name, more = []) {
  const files = [path(`${name}.yaml`), `${shared}${name}/log.csv`, path(`${name}-trip.yaml`)];
  const options = ['--weather', `${shared}${name}/station.csv`, '--json', ...GIVEN[name], ...more];
  try {
    const { stdout } = await run(process.execPath, [program, command, ...files, ...options], { maxBuffer: 1 << 28 });
    return JSON.parse(stdout);
  } catch (error) {
    try {
      return JSON.parse(error.stdout);
    } catch {
      return { error: String(error.stderr || error.message).trim() };
    }
  }
}

const within = (value, band) => value !== undefined && value >= band.low && value <= band.high;
const isSince = (since, span) => !span || (since !== undefined && since >= span[0] && since <= span[1]);
const figure = (value) => (value === undefined ? '-' : Number(value.toPrecision(3)));

function judged(truth, { findings }) {
  const lines = [];
  const counts = { said: 0, must: 0, false: 0 };
  const used = new Set();
  for (const one of truth.say.filter(({ must, cause }) => must && cause !== 'nothing')) {
    counts.must++;
    const near = findings.filter(({ code, level }) => CAUSE[code] === one.cause && level !== 'note');
    const right = near.find(
      ({ since, size }) =>
        isSince(since, one.since) &&
        (!one.size || within(size?.value, one.size) || (one.or_size && within(size?.value, one.or_size))),
    );
    if (right) counts.said++;
    const shown = near.map(({ code, since, size }) => `${code} ${figure(size?.value)} ${since ?? ''}`).join('; ');
    for (const finding of near) used.add(finding);
    lines.push(
      `  ${right ? 'found ' : near.length > 0 ? 'WRONG ' : 'missed'} ${one.cause} (${figure(one.size?.true)} ${one.since ?? ''})${shown ? `: ${shown}` : ''}`,
    );
  }
  const isMay = ({ code }) => [...truth.say, ...truth.may_say].some(({ cause }) => CAUSE[code] === cause);
  const wrong = findings.filter((one) => one.level !== 'note' && !used.has(one) && !isMay(one));
  counts.false = wrong.length;
  if (truth.healthy) {
    counts.must++;
    if (wrong.length === 0) counts.said++;
  }
  for (const { code, since, size, text } of wrong)
    lines.push(`  FALSE ${code} ${figure(size?.value)} ${since ?? ''} ${text?.slice(0, 150) ?? ''}`);
  for (const one of findings.filter(({ level }) => level === 'note'))
    lines.push(`  note  ${one.code} ${figure(one.size?.value)} ${one.since ?? ''}`);
  return { lines, counts };
}

/** What `calibrate` gives for the three quantities of `fit_bands`: value, low, high; undefined = not determined. */
function fits(truth, { fitted = [] }, bands, ratedAh) {
  const of = (fit) => fitted.find((one) => one.fit === fit);
  const solar = of('solar');
  const capacity = of('capacity');
  const draw = of('always-on');
  const scaled = (one, by) => one && { value: one.value * by, low: one.low * by, high: one.high * by };
  const shifted = (one) =>
    one && { value: one.value - one.before, low: one.low - one.before, high: one.high - one.before };
  const got = {
    derate: scaled(solar, solarBase(truth)),
    capacity_factor: scaled(capacity, 1 / ratedAh),
    unlisted_draw_a: shifted(draw),
  };
  return Object.entries(bands).map(([name, band]) => {
    const one = got[name];
    const isIn = one ? within(one.value, band) : band.or_not_determined;
    const isCovered = one && band.true >= one.low && band.true <= one.high;
    return { name, one, band, isIn, isCovered };
  });
}

/** The rigs' own losses, which the fit's factor stands on. */
const solarBase = ({ losses }) => losses;

const total = { ends: 0, endsFalse: 0, said: 0, must: 0, false: 0, fits: 0, inside: 0, intervals: 0, covered: 0 };
for (const name of Object.keys(GIVEN).filter((one) => wanted.length === 0 || wanted.includes(one))) {
  const truth = JSON.parse(readFileSync(`${shared}${name}/truth.json`, 'utf8'));
  const rigText = readFileSync(path(`${name}.yaml`), 'utf8');
  const part = (pattern, otherwise) => Number(pattern.exec(rigText)?.[1] ?? otherwise) / 100;
  truth.losses =
    (1 - part(/soiling: (\S+) %/, 5)) * (1 - part(/mismatch: (\S+) %/, 2)) * (1 - part(/ageing: (\S+) %/, 2));
  const ratedAh = truth.real.battery.rated_ah;
  const [compared, calibrated] = await Promise.all([answer('compare', name), answer('calibrate', name)]);
  process.stdout.write(`${name} ${truth.title}\n`);
  if (compared.error || !compared.findings)
    process.stdout.write(`  compare: ${compared.error ?? JSON.stringify(compared)}\n`);
  else {
    const { lines, counts } = judged(truth, compared);
    for (const key of Object.keys(counts)) total[key] += counts[key];
    process.stdout.write(`${lines.join('\n')}${lines.length > 0 ? '\n' : ''}`);
  }
  const ends = ENDS_BEFORE[name];
  if (ends) {
    const { findings = [] } = await answer('compare', name, ['--to', ends.to]);
    const wrong = findings.filter(({ code, level }) => level !== 'note' && !ends.left.includes(CAUSE[code]));
    total.ends++;
    total.endsFalse += wrong.length;
    const said = findings.filter((one) => one.level !== 'note' && !wrong.includes(one)).map(({ code }) => code);
    process.stdout.write(`  ended on ${ends.to}: ${said.join(', ') || 'nothing'}\n`);
    for (const { code, since, size } of wrong)
      process.stdout.write(`  FALSE ${code} ${figure(size?.value)} ${since ?? ''}\n`);
  }
  if (calibrated.error) process.stdout.write(`  calibrate: ${calibrated.error}\n`);
  for (const { name: what, one, band, isIn, isCovered } of fits(truth, calibrated, truth.fit_bands, ratedAh)) {
    total.fits++;
    if (isIn) total.inside++;
    if (one) total.intervals++;
    if (isCovered) total.covered++;
    const got = one ? `${figure(one.value)} (${figure(one.low)} to ${figure(one.high)})` : 'not determined';
    process.stdout.write(
      `  ${isIn ? 'fit   ' : 'FIT   '} ${what}: ${got}, truth ${band.true}${one && !isCovered ? ', NOT in the interval' : ''}\n`,
    );
  }
}
process.stdout.write(
  `\nstatements ${total.said} of ${total.must}, false ${total.false}; fits in their bands ${total.inside} of ${total.fits}; truth in ${total.covered} of ${total.intervals} intervals\nlogs that end before a fault: ${total.ends}, false ${total.endsFalse}\n`,
);
