// Judges invented vehicles whose physics are not the model's: `npm run realities -- --invented 100 --seed 7 [--sound 0] [--show]`.
import { compareLog, readLogTable, readRig, readTrip } from '../../../packages/core/bundle/index.js';
import { FAULTS, invent } from './invent.js';

export function judged(seed, kind) {
  const vehicle = invent(seed, kind);
  const { rig } = readRig(vehicle.rig);
  const { trip } = readTrip(vehicle.trip);
  const at = { latDeg: vehicle.truth.latDeg, lonDeg: vehicle.truth.lonDeg };
  let answer;
  let asked = false;
  try {
    let log;
    try {
      log = readLogTable(vehicle.log, { ...vehicle.given, at });
    } catch (error) {
      // asked which way a current counts, an owner answers
      if (!/positive/.test(error.message)) throw error;
      asked = true;
      log = readLogTable(vehicle.log, { ...vehicle.given, ...vehicle.answers, at });
    }
    answer = compareLog(rig, log, {
      trip,
      weatherFile: { name: 'station.csv', text: vehicle.station },
      ...(vehicle.stamps && { stamps: vehicle.stamps }),
    });
  } catch (error) {
    return { vehicle, error: String(error.message).split('\n')[0], findings: [] };
  }
  return { vehicle, answer, asked, findings: answer.findings };
}

const daysApart = (a, b) => Math.abs(Date.parse(a) - Date.parse(b)) / 86_400_000;
const figure = (value) => (value === undefined ? '-' : Number(value.toPrecision(3)));

/** Runs both sets and prints what was found, missed and false. */
export function runInvented({ sound, faulty, seed, show, only }) {
  const print = (text) => process.stdout.write(`${text}\n`);
  const formOf = ({ form, date, days, battery, latDeg }) =>
    `${battery.kind} ${date} ${days}d ${latDeg} ${form.stepMin}min ${form.isOnChange ? 'on change ' : ''}${form.isMoment ? 'moment ' : ''}${form.stamps}${form.isStampsTold ? '' : ' untold'} sun:${form.solar}${form.hasCabin ? ' cabin' : ''}${form.hasBattery ? ' batt' : ''}${form.hasAir ? ' air' : ''}`;
  const falseCodes = new Map();
  let [falseFindings, falseLogs, refused] = [0, 0, 0];
  for (let k = 0; k < sound; k++) {
    const { vehicle, findings, error } = judged(seed * 100_000 + k, undefined);
    if (error) {
      refused++;
      print(`sound ${k}: REFUSED ${error} [${formOf(vehicle.truth)}]`);
      continue;
    }
    const wrong = findings.filter(({ level }) => level !== 'note');
    falseFindings += wrong.length;
    if (wrong.length > 0) falseLogs++;
    for (const { code, size, since, confidence, args } of wrong) {
      falseCodes.set(code, (falseCodes.get(code) ?? 0) + 1);
      print(
        `sound ${k}: FALSE ${code} ${figure(size?.value)} ${since ?? ''} ${confidence} ${show ? JSON.stringify(args) : ''} [${formOf(vehicle.truth)}]`,
      );
    }
  }
  const table = new Map();
  let [beside, dated, datedRight, sized, sizedRight, covered, intervals] = [0, 0, 0, 0, 0, 0, 0];
  const kinds = only ? FAULTS.filter((one) => only.includes(one)) : FAULTS;
  for (let k = 0; k < faulty; k++) {
    const kind = kinds[k % kinds.length];
    const { vehicle, findings, error } = judged(seed * 100_000 + 50_000 + k, kind);
    const { want } = vehicle;
    const row = table.get(kind) ?? { all: 0, determinable: 0, found: 0, foundOther: 0, besides: 0 };
    table.set(kind, row);
    row.all++;
    if (want.isDeterminable) row.determinable++;
    const said = findings.filter(({ level }) => level !== 'note' || kind === 'capacity');
    const right = said.find(({ code }) => want.codes.includes(code));
    const others = findings.filter((one) => one.level !== 'note' && !want.codes.includes(one.code));
    beside += others.length;
    row.besides += others.length;
    if (right) row[want.isDeterminable ? 'found' : 'foundOther']++;
    let text = right ? '' : want.isDeterminable ? 'MISSED' : 'not determinable';
    if (right) {
      if (want.since) {
        dated++;
        const off = right.since ? daysApart(right.since, want.since) : Infinity;
        if (off <= (want.grows ? 7 : 2)) datedRight++;
        else text += ` date ${right.since} for ${want.since}`;
      }
      if (want.size && right.size) {
        sized++;
        intervals++;
        if (Math.abs(right.size.value - want.size.value) <= want.size.within) sizedRight++;
        else text += ` size ${figure(right.size.value)} for ${figure(want.size.value)}`;
        if (right.size.low <= want.size.value && want.size.value <= right.size.high) covered++;
        else text += ` NOT in ${figure(right.size.low)} to ${figure(right.size.high)}`;
      }
    }
    if (error) text += ` REFUSED ${error}`;
    for (const { code, size, since } of others) text += ` BESIDE ${code} ${figure(size?.value)} ${since ?? ''}`;
    if (text && (show || !/^not determinable$/.test(text)))
      print(`${kind} ${k} (${figure(want.size?.value)} ${want.since ?? ''}): ${text} [${formOf(vehicle.truth)}]`);
  }
  print(
    `\nsound vehicles ${sound} (seed ${seed}): ${falseFindings} findings above note in ${falseLogs} logs, ${refused} refused`,
  );
  print([...falseCodes].map(([code, n]) => `  ${code} ${n}`).join('\n'));
  let [determinable, found] = [0, 0];
  for (const [kind, row] of table) {
    determinable += row.determinable;
    found += row.found;
    print(
      `  ${kind.padEnd(16)} found ${row.found} of ${row.determinable} determinable (${row.foundOther} of ${row.all - row.determinable} others), beside ${row.besides}`,
    );
  }
  if (faulty > 0)
    print(
      `one fault each ${faulty}: found ${found} of ${determinable} determinable; dates ${datedRight} of ${dated}; sizes ${sizedRight} of ${sized}; truth in ${covered} of ${intervals} intervals; other findings above note ${beside}`,
    );
}
