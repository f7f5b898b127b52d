import { Z90 } from '../../math/index.js';
import { type CompareContext, chargingV } from '../parts/compare-context.js';
import { ABOVE_TOP, type Clipping, FLAT } from '../replay/clipping.js';
import { type PanelChange, panelChange } from '../replay/panel-change.js';
import { type PanelHours, panelHours } from '../replay/panel-hours.js';
import type { LogFinding, PanelShare } from './compare-types.js';
import { clock, counted, percent } from './words.js';

/**
 * What the model of light and panel cannot do better than, as a share: irradiance sensors are good to some 5 %, nameplates to
 * 3 %; a clear sky scaled by the panel's own best days, which may be hazy ones, to some 20 %. Common practice, no source.
 */
const MODEL_ERROR = { irradiance: 0.06, file: 0.08, 'clear sky': 0.2 } as const;
/** Under a clear sky scaled by the panel itself, its share in all is told only when so much of the light is judged. */
const MIN_JUDGED = 0.6;
/** Nothing is said of a panel whose share is not known within this. */
const WIDEST = 0.3;
/** The panel is found wanting when even the upper end of the interval stays below. */
const ENOUGH = 0.95;
export interface PanelEvidence {
  readonly share?: PanelShare;
  readonly findings: readonly LogFinding[];
  /** what the panel usually gives at that hour of that light [W] */
  readonly usualW: Float64Array;
  readonly untold: readonly string[];
}

/** The panel against its promise: how much of it arrives, at which hours it is lost, and whether something caps it. */
export function panelEvidence(scene: CompareContext): PanelEvidence {
  const { rig, replay, steps, offeredW, top } = scene;
  const nothing = (why: string): PanelEvidence => ({ findings: [], usualW: offeredW.map(() => 0), untold: [why] });
  if (rig.solar.length === 0) return { ...nothing(''), untold: [] };
  if (steps.harvestW.every(Number.isNaN)) return nothing('what the panel gives: the log has no solar power or current');
  if (scene.log.reading.warnings.some(({ code }) => code === 'log_night_harvest'))
    return nothing("what the panel gives: the log's clock has to be set right first");
  const found = panelHours(replay, offeredW, scene.comparable);
  if (!found || found.wholeDay.standardError * Z90 > WIDEST)
    return nothing(
      'what the panel gives: on too few days did the battery take all that it had to give; a log of days that begin with a lower battery would tell',
    );
  const share = shareOf(scene, found);
  const step = replay.light === 'clear sky' ? undefined : panelChange(replay, offeredW, scene.comparable);
  const spans = step ? spansAbout(scene, step, found) : [{ holds: () => true, found, isOwn: true }];
  const ratios = spans.map(({ found: { hours } }) => new Map(hours.map(({ hour, ratio }) => [hour, ratio])));
  const { localHour } = replay.conditions.itinerary;
  const usualW = offeredW.map((watts, i) => {
    const span = spans.findIndex(({ holds }) => holds(i));
    const ratio = ratios[span]!.get(Math.min(23, Math.floor(localHour[i]!)))!;
    return Math.min(top?.topW ?? Infinity, watts * (Number.isNaN(ratio) ? spans[span]!.found.wholeDay.ratio : ratio));
  });
  const findings = [
    ...(step ? [stepped(scene, step), ...lackingAbout(scene, step, spans)] : lacking(scene, found, share)),
    ...(top ? [clipped(scene, top)] : []),
  ];
  const isRough = replay.light === 'clear sky' && found.judged < MIN_JUDGED;
  const untold = isRough
    ? [
        `whether the panel as a whole gives what it should: only ${percent(found.judged)} of the light could be judged, and the log has no irradiance; a weather file of those days would tell`,
      ]
    : [];
  return { share, findings, usualW, untold };
}

/** Days on one side of a step, and what they show by themselves. */
interface Span {
  readonly holds: (i: number) => boolean;
  readonly found: PanelHours;
  /** whether its own hours tell, and not those of all days */
  readonly isOwn: boolean;
}

/** The days before a step and those since; where too few hours of a side are judged, all days stand in, at its level. */
function spansAbout(
  { replay, offeredW, comparable, dates, dayOf }: CompareContext,
  step: PanelChange,
  whole: PanelHours,
): Span[] {
  return [true, false].map((isBefore) => {
    const holds = (i: number) => dates[dayOf[i]!]! < step.date === isBefore;
    const own = panelHours(
      replay,
      offeredW,
      comparable.map((one, i) => (holds(i) ? one : 0)),
    );
    if (own) return { holds, found: own, isOwn: true };
    const ratio = isBefore ? step.before : step.since;
    const hours = whole.hours.map((one) => ({ ...one, ratio: (one.ratio * ratio) / whole.wholeDay.ratio }));
    return { holds, found: { ...whole, hours, wholeDay: { ...whole.wholeDay, ratio } }, isOwn: false };
  });
}

/** What lacks on the better side of a step, and shade that came with it; an average over both sides would tell of neither. */
function lackingAbout(
  scene: CompareContext,
  { date, before, since }: PanelChange,
  spans: readonly Span[],
): LogFinding[] {
  const shares = spans.map(({ found, isOwn }, k) =>
    isOwn && found.wholeDay.standardError * Z90 <= WIDEST
      ? lacking(scene, found, shareOf(scene, found), `${k === 0 ? 'before' : 'since'} ${date}`)
      : [],
  );
  const [better, worse] = since < before ? [shares[0]!, shares[1]!] : [shares[1]!, shares[0]!];
  const isShade = ({ code }: LogFinding) => code === 'panel_shade';
  return better.some(isShade) ? better : [...better, ...worse.filter(isShade)];
}

/** The panel gives another share of its promise since some day. */
function stepped({ replay }: CompareContext, step: PanelChange): LogFinding {
  const { date, before, since, daysBefore, daysSince, standardError } = step;
  const isLess = since < before;
  const apart = Math.abs(since - before) / standardError;
  return {
    code: 'panel_step',
    level: isLess ? 'caution' : 'note',
    path: 'solar',
    text: isLess
      ? `Your panel gives ${percent(since)} of what it should since ${date}, and gave ${percent(before)} before. Look for what changed that day: half of an array off, a plug, a fuse, a branch over it, snow or dirt, a setting of the controller.`
      : `Your panel gives ${percent(since)} of what it should since ${date}, and gave only ${percent(before)} before: what held it back until then is gone.`,
    evidence: `harvest against light where the battery took all, on ${counted(daysBefore, 'day')} before and ${daysSince} since, by hours that both share; the two levels lie ${apart.toFixed(0)} standard errors apart`,
    confidence: replay.light === 'irradiance' && Math.min(daysBefore, daysSince) >= 5 ? 'high' : 'fair',
    since: date,
  };
}

function shareOf({ replay }: CompareContext, { wholeDay, judged, hours }: PanelHours): PanelShare {
  const wide = Math.hypot(Z90 * wholeDay.standardError, MODEL_ERROR[replay.light] * wholeDay.ratio);
  const { ratio } = wholeDay;
  return { share: ratio, low: Math.max(0, ratio - wide), high: ratio + wide, judged, hours };
}

/**
 * Less arrives than promised: in all, in shade at the day's ends, or evenly.
 * @param when the days that are meant, if not all: "before 2026-05-21"
 */
function lacking(scene: CompareContext, found: PanelHours, share: PanelShare, when?: string): LogFinding[] {
  const { replay } = scene;
  const { blocks, openHours, hours } = found;
  const systematic = MODEL_ERROR[replay.light];
  const openHigh = openHours.ratio + Math.hypot(Z90 * openHours.standardError, systematic * openHours.ratio);
  const canTell = replay.light !== 'clear sky' || found.judged >= MIN_JUDGED;
  const isEven = canTell && openHigh < ENOUGH;
  const opening = when === undefined ? 'Your panel gives' : `On the days ${when} your panel gives`;
  const interval = `90 % interval ${percent(share.low)} to ${percent(share.high)}`;
  const days = Math.max(...hours.map((hour) => hour.days));
  const fewDays = days < replay.days / 2 ? `, on ${counted(days, 'day')} of ${replay.days}` : '';
  const judged = `judged over ${percent(share.judged)} of the light, where the battery took all${fewDays}`;
  const confidence = replay.light === 'clear sky' ? 'fair' : share.high - share.low < 0.2 ? 'high' : 'fair';
  if (blocks.length === 0)
    return canTell && share.high < ENOUGH
      ? [
          {
            code: 'panel_even',
            level: 'caution',
            path: 'solar',
            text: `${opening} ${percent(share.share)} of what it should, about evenly over the day: look for dirt, heat under it, a panel weaker than its label, a poor joint, or one of several panels that is off.`,
            evidence: `${interval}; ${judged}`,
            confidence,
          },
        ]
      : [];
  const findings: LogFinding[] = blocks.map(({ side, fromHour, toHour, ratio, errorsBelow }) => {
    const isMorning = side === 'morning';
    const lost = hours
      .filter(({ hour }) => (isMorning ? hour < toHour : hour >= fromHour))
      .reduce((sum, { lostShare }) => sum + lostShare, 0);
    const edge = isMorning ? `before ${clock(toHour)}` : `after ${clock(fromHour)}`;
    const most = lost > 0.5 ? 'mostly lost' : `${percent(lost)} of what is missing lost`;
    return {
      code: 'panel_shade',
      level: 'caution',
      path: 'solar.shade',
      text: `${opening} ${percent(share.share)} of what it should, ${most} ${edge}: it gives only ${percent(ratio)} then and ${percent(openHours.ratio)} in the other hours. Something shades it at that time of day: a roof box, a tree, a hill, the vehicle's own side.`,
      evidence: `the hours ${edge} lie ${errorsBelow.toFixed(0)} standard errors below the others; ${percent(lost)} of what is missing is lost there; ${interval}; ${judged}`,
      confidence: errorsBelow > 8 ? 'high' : 'fair',
    };
  });
  if (isEven)
    findings.push({
      code: 'panel_even',
      level: 'note',
      path: 'solar',
      text: `In its open hours${when === undefined ? '' : ` ${when}`}, too, the panel gives only ${percent(openHours.ratio)} of what it should: dirt, heat, or a panel weaker than its label.`,
      evidence: `at most ${percent(openHigh)} by the 90 % interval`,
      confidence,
    });
  return findings;
}

function clipped({ rig, replay, availableW }: CompareContext, { topW, ratio, steps, days }: Clipping): LogFinding {
  const { grid } = replay.conditions;
  const cutWh = availableW.reduce((sum, watts) => sum + Math.max(0, watts * ratio - topW) * grid.stepH, 0);
  return {
    code: 'panel_clipped',
    level: 'note',
    path: 'solar.controller',
    text: `The harvest never passes ${topW.toFixed(0)} W, about ${(topW / chargingV(rig)).toFixed(0)} A, while the light goes on rising: the controller's limit caps it, at a cost of up to ${Math.round(cutWh / replay.days)} Wh a day. A larger controller would let it through, if the wires bear it.`,
    evidence: `${steps} steps on ${days} days within ${percent(FLAT)} of ${topW.toFixed(0)} W where ${percent(ABOVE_TOP)} of it or more was to be expected`,
    confidence: days >= 5 ? 'high' : 'fair',
  };
}
