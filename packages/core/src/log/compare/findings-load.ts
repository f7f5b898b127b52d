import { changePoint, meanAndError, Z90 } from '../../math/index.js';
import type { CompareContext } from '../parts/compare-context.js';
import { nightSteps } from '../replay/fit-errors.js';
import { firstSteps } from '../replay/step-days.js';
import type { LogFinding } from './compare-types.js';
import { counted, percent } from './words.js';

/** A draw that nobody listed is told from this on [A], and when it is so many standard errors from nothing. */
const MIN_DRAW_A = 0.05;
const SIGNIFICANT_ERRORS = 4;
const MIN_NIGHTS = 4;
/** Loads at night are off when they differ by this share, and by so many watts. */
const OFF_SHARE = 0.25;
const OFF_W = 1;
/** A fridge that works so much harder than the model has changed. */
const CLIMB = 0.2;
/** A cut: this long with next to no current, where something always draws. */
const CUT_H = 0.5;
const CUT_SHARE = 0.3;
const MIN_ALWAYS_A = 0.1;

/** Nights: what draws though nothing is on, and how hard the fridge works. */
export interface NightLoads {
  readonly date: string;
  /** quiet draw of the log [A] */
  readonly alwaysOnA: number;
  /** the same of the rig as written [A] */
  readonly listedA: number;
  /** beyond the quiet draw, means over the night [W]: log and model */
  readonly comesAndGoesW: number;
  readonly modelComesAndGoesW: number;
}

/** @param listedA what the rig draws at its quietest [A] */
export function nightLoads(scene: CompareContext, listedA: number): NightLoads[] {
  const { log, dates, dayOf, steps, run } = scene;
  const isNight = nightSteps(steps, scene.availableW);
  const first = firstSteps(dayOf, dates.length);
  return log.reading.daily.flatMap(({ date, alwaysOnA }) => {
    const day = dates.indexOf(date);
    if (day < 0 || alwaysOnA === undefined) return [];
    let [logW, modelW, volts, count] = [0, 0, 0, 0];
    for (let i = first[day]!; i < first[day + 1]!; i++) {
      if (isNight[i] === 0) continue;
      logW -= steps.batteryW[i]!;
      modelW -= run.trace.batteryV[i]! * run.trace.batteryA[i]!;
      volts += steps.voltageV[i]!;
      count++;
    }
    if (count === 0) return [];
    const meanV = volts / count;
    return [
      {
        date,
        alwaysOnA,
        listedA,
        comesAndGoesW: logW / count - alwaysOnA * meanV,
        modelComesAndGoesW: modelW / count - listedA * meanV,
      },
    ];
  });
}

export function loadFindings(scene: CompareContext, nights: readonly NightLoads[]): LogFinding[] {
  return [...unlisted(scene, nights), ...climbing(scene, nights), ...offAtNight(nights), ...cuts(scene, nights)];
}

/** A steady draw that the rig does not list: what was there from the beginning, and what came since some night. */
function unlisted({ rig }: CompareContext, nights: readonly NightLoads[]): LogFinding[] {
  if (nights.length < MIN_NIGHTS) return [];
  const step = changePoint(nights, ({ alwaysOnA }) => alwaysOnA);
  const first = step ? nights.filter(({ date }) => date < step.date) : nights;
  const beyond = meanAndError(first.map(({ alwaysOnA, listedA }) => alwaysOnA - listedA));
  const listedA = nights[0]!.listedA;
  const volts = rig.battery.nominalV * rig.battery.series;
  const aDay = (amps: number) => `${Math.round(24 * amps)} Ah or about ${Math.round(24 * amps * volts)} Wh a day`;
  const findings: LogFinding[] = [];
  if (
    first.length >= MIN_NIGHTS &&
    beyond.mean >= MIN_DRAW_A &&
    beyond.mean >= SIGNIFICANT_ERRORS * beyond.standardError
  )
    findings.push({
      code: 'draw_unlisted',
      level: 'caution',
      path: 'loads',
      text: `Something draws ${beyond.mean.toFixed(2)} A day and night that the rig does not list: ${aDay(beyond.mean)}. Look for what is left on: a charger, a router, an alarm, an inverter in standby; or list it.`,
      evidence: `quiet hours of ${counted(first.length, 'night')}: ${(beyond.mean + listedA).toFixed(2)} A against ${listedA.toFixed(2)} A listed, ± ${(Z90 * beyond.standardError).toFixed(3)} A`,
      confidence: first.length >= 7 ? 'high' : 'fair',
    });
  const moreA = step ? step.after - step.before : 0;
  if (step && moreA >= MIN_DRAW_A)
    findings.push({
      code: 'draw_unlisted',
      level: 'caution',
      path: 'loads',
      text: `Something draws ${moreA.toFixed(2)} A more day and night since ${step.date} than before: ${aDay(moreA)}. Look for what was left on or added then: a charger, a router, an alarm, an inverter in standby.`,
      evidence: `quiet hours: ${step.before.toFixed(2)} A on ${counted(first.length, 'night')} before, ${step.after.toFixed(2)} A on ${nights.length - first.length} since, ± ${(Z90 * step.standardError).toFixed(3)} A; ${listedA.toFixed(2)} A are listed`,
      confidence: nights.length - first.length >= 7 ? 'high' : 'fair',
      since: step.date,
    });
  return findings;
}

/** What comes and goes at night draws more, or less, than the rig says: most often the fridge. */
function offAtNight(nights: readonly NightLoads[]): LogFinding[] {
  if (nights.length < MIN_NIGHTS) return [];
  const log = meanAndError(nights.map(({ comesAndGoesW }) => comesAndGoesW)).mean;
  const model = meanAndError(nights.map(({ modelComesAndGoesW }) => modelComesAndGoesW)).mean;
  const off = meanAndError(nights.map((night) => night.comesAndGoesW - night.modelComesAndGoesW));
  const isOff =
    Math.abs(off.mean) > Math.max(OFF_SHARE * model, OFF_W) &&
    Math.abs(off.mean) > SIGNIFICANT_ERRORS * off.standardError;
  if (!isOff) return [];
  const more = off.mean > 0;
  return [
    {
      code: 'night_loads_off',
      level: 'note',
      path: 'loads',
      text: `What comes and goes at night, mostly the fridge, draws ${log.toFixed(1)} W on average where the rig says ${model.toFixed(1)} W: ${more ? 'the fridge leaks more heat than its rating, stands warmer, or something runs at night that is not listed' : 'the fridge leaks less heat than its rating or stands cooler, or something listed does not run'}.`,
      evidence: `${counted(nights.length, 'night')}, beyond the quiet draw: ${signed(off.mean)} W ± ${(Z90 * off.standardError).toFixed(1)} W`,
      confidence: nights.length >= 7 ? 'high' : 'fair',
    },
  ];
}

/** What comes and goes at night works harder than the model since some night, warmth taken into account. */
function climbing({ rig }: CompareContext, nights: readonly NightLoads[]): LogFinding[] {
  const fridge = rig.loads.find(({ kind }) => kind === 'fridge');
  if (!fridge || nights.length < 2 * MIN_NIGHTS) return [];
  const step = changePoint(nights, ({ comesAndGoesW, modelComesAndGoesW }) => comesAndGoesW - modelComesAndGoesW);
  const modelW = meanAndError(nights.map(({ modelComesAndGoesW }) => modelComesAndGoesW)).mean;
  if (!step || step.after - step.before < CLIMB * modelW) return [];
  const moreW = step.after - step.before;
  return [
    {
      code: 'fridge_climbing',
      level: 'caution',
      path: `loads.${fridge.name}`,
      text: `What comes and goes at night, mostly the ${fridge.name}, draws ${moreW.toFixed(0)} W more since ${step.date} than the warmth of the nights explains. Look at its door seal, its condenser and the air behind it, and at what was put in.`,
      evidence: `beyond the quiet draw, against the model: ${signed(step.before)} W before, ${signed(step.after)} W since, standard error ${step.standardError.toFixed(1)} W`,
      confidence: 'fair',
      since: step.date,
    },
  ];
}

/** Everything went off while the battery still had charge. */
function cuts(scene: CompareContext, nights: readonly NightLoads[]): LogFinding[] {
  const { rig, steps, dates, dayOf, availableW } = scene;
  const { disconnect } = rig.battery;
  const least = disconnect.kind === 'soc' ? disconnect.soc + 0.15 : 0.3;
  // On nights with a cut the quiet draw is nothing: the largest of the nights and what the rig lists say what should flow.
  const alwaysA = Math.min(nights[0]?.listedA ?? 0, Math.max(0, ...nights.map(({ alwaysOnA }) => alwaysOnA)));
  const events: { from: number; soc: number; volt: number }[] = [];
  if (!(alwaysA >= MIN_ALWAYS_A)) return [];
  const { grid, batteryA, harvestW, alternatorW, soc, voltageV } = steps;
  const enough = Math.max(2, Math.round(CUT_H / grid.stepH));
  const isOff = (i: number) =>
    availableW[i]! < 0.5 &&
    Math.abs(batteryA[i]!) < CUT_SHARE * alwaysA &&
    !(harvestW[i]! > 1) &&
    !(alternatorW[i]! > 1) &&
    soc[i]! > least;
  for (let i = 1; i < grid.steps; i++) {
    if (!isOff(i) || isOff(i - 1)) continue;
    let to = i;
    while (to < grid.steps && isOff(to)) to++;
    if (to - i >= enough) events.push({ from: i, soc: soc[i]!, volt: voltageV[i - 1]! });
  }
  if (events.length < 2) return [];
  const days = [...new Set(events.map(({ from }) => dates[dayOf[from]!]!))];
  const socs = events.map((event) => event.soc);
  const lowestV = Math.min(...events.map(({ volt }) => volt));
  return [
    {
      code: 'load_cut',
      level: 'caution',
      path: 'battery.disconnect',
      text: `The loads were cut ${events.length} times while the monitor still showed ${percent(Math.min(...socs))} to ${percent(Math.max(...socs))}: whatever cuts them sees less voltage than the battery has. Measure it there while the fridge runs: a thin or long cable or a poor joint before the disconnect is the usual cause; else it is set too high.`,
      evidence: `${events.length} times next to no current for ${(enough * grid.stepH).toFixed(1)} h or more at night, on ${days.slice(0, 4).join(', ')}${days.length > 4 ? ' …' : ''}; the battery stood at ${lowestV.toFixed(1)} V or above before`,
      confidence: events.length >= 4 ? 'high' : 'fair',
    },
  ];
}

const signed = (watts: number) => `${watts < 0 ? '−' : '+'}${Math.abs(watts).toFixed(1)}`;
