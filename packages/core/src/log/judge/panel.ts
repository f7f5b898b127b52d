import { percentile, Z90 } from '../../math/index.js';
import { type CompareContext, chargingV } from '../parts/compare-context.js';
import { ABOVE_TOP, type Clipping, FLAT } from '../replay/clipping.js';
import { CLEAR_GAIN, type Explanation, huber, MIN_SIDE, predicted } from './compete.js';
import type { LogFinding } from './finding.js';

/** An hour of a day is judged where the light that could be judged is worth so much of the nameplate for an hour. */
const MIN_CELL_H = 0.04;
/** Ratios beyond this are the light's, not the panel's: a cloud over the station and none over the camp. */
const MOST = 1.6;
/** Scatter of an hour about its day, and of a day, that a station some kilometres away always has. Common practice, no source. */
const HOUR_SCATTER = 0.07;
const DAY_SCATTER = 0.06;
/**
 * What the model of light and panel cannot do better than, as a share (90 %): irradiance sensors are good to some 5 %, nameplates
 * to 3 %; a clear sky scaled by the panel's own best days to some 20 %. Common practice, no source.
 */
export const MODEL_ERROR = { irradiance: 0.06, file: 0.08, 'clear sky': 0.2 } as const;
/** The array as a whole is found wanting when even the upper end of its interval stays below: dirt of a dusty month is no fault. */
const ENOUGH = 0.9;
/** A loss worth saying: in its hours, and of all that is offered in its days. */
const MOST_LEFT = 0.8;
const MIN_LOST = 0.04;
const MIN_DAYS = 6;

/** Where and when a part of the harvest is missing: hours of the day, days, and what is left then. */
export interface PanelLoss {
  readonly kind: 'since' | 'until' | 'hours' | 'hours since' | 'stop' | 'hours at stop';
  readonly fromHour: number;
  readonly toHour: number;
  /** days of the run, first and past the last */
  readonly fromDay: number;
  readonly toDay: number;
  readonly keeps: number;
  readonly low: number;
  readonly high: number;
  /** of what is offered in those days, the share that is lost */
  readonly lostShare: number;
  readonly days: number;
  readonly gain: number;
}

/** What the panels give of their promise outside all losses that were found, and those. */
export interface PanelVerdict {
  readonly level: number;
  /** standard error over days, without what no log can tell: the light */
  readonly standardError: number;
  readonly days: number;
  readonly losses: readonly PanelLoss[];
  /** 1 where a step lies outside all losses */
  readonly isClean: (step: number) => boolean;
}

interface Cell {
  readonly day: number;
  readonly hour: number;
  /** harvest over offer */
  readonly ratio: number;
  readonly weight: number;
}

interface Region {
  readonly kind: PanelLoss['kind'];
  readonly fromHour: number;
  readonly toHour: number;
  readonly fromDay: number;
  readonly toDay: number;
}

interface Fit {
  readonly level: number;
  readonly keeps: number;
  readonly region?: Region;
}

/**
 * The harvest against the light, hour by hour where nothing but sun and panel limits it. Explanations: one level; another since or
 * until a date, at one stop; some hours of the day, always, since a date or at one stop. Each is fitted to some days and predicts
 * the rest; a loss is told when it predicts clearly better than everything simpler.
 */
export function judgePanel(context: CompareContext): PanelVerdict | undefined {
  const cells = cellsOf(context);
  const days = [...new Set(cells.map(({ day }) => day))].sort((a, b) => a - b);
  if (days.length < MIN_DAYS) return undefined;
  const losses: PanelLoss[] = [];
  let left = cells;
  for (let round = 0; round < 2; round++) {
    const loss = plainestLoss(left, days, stopsOf(context));
    if (!loss) break;
    losses.push(loss);
    left = left.filter((cell) => !isIn(loss, cell));
    if (new Set(left.map(({ day }) => day)).size < MIN_DAYS) break;
  }
  const { level, standardError } = levelOf(left);
  const { localHour } = context.replay.conditions.itinerary;
  const isClean = (step: number) =>
    !losses.some((loss) => isIn(loss, { day: context.dayOf[step]!, hour: Math.floor(localHour[step]!) }));
  return { level, standardError, days: new Set(left.map(({ day }) => day)).size, losses, isClean };
}

/** What is wrong with the panels, as findings. */
export function panelFindings(context: CompareContext, verdict: PanelVerdict): LogFinding[] {
  const { replay, dates, top } = context;
  const { level, standardError, losses, days } = verdict;
  const systematic = MODEL_ERROR[replay.light] * level;
  const half = Math.hypot(Z90 * standardError, systematic, Z90 * replay.evidence.side.error * level);
  const findings: LogFinding[] = losses.map((loss): LogFinding => {
    const { kind, fromHour, toHour, fromDay, toDay, keeps, low, high, lostShare } = loss;
    const isStep = kind === 'since' || kind === 'until';
    const isHours = kind.startsWith('hours');
    const since = kind === 'hours' || kind === 'until' ? undefined : dates[fromDay]!;
    const until = kind === 'until' || kind.endsWith('stop') ? dates[toDay] : undefined;
    return {
      code: isStep ? 'panel_step' : 'panel_shade',
      level: kind === 'until' ? 'note' : 'caution',
      path: isStep ? 'solar' : 'solar.shade',
      confidence: loss.gain > 3 * CLEAR_GAIN && loss.days >= 4 ? 'high' : 'fair',
      size: isStep
        ? { value: 1 - keeps, low: 1 - high, high: 1 - low, unit: '' }
        : {
            value: lostShare,
            low: lostShare * ((1 - high) / (1 - keeps)),
            high: lostShare * ((1 - low) / (1 - keeps)),
            unit: '',
          },
      ...(since !== undefined && { since }),
      ...(until !== undefined && { until }),
      args: {
        kind,
        keeps,
        level,
        lostShare,
        days: loss.days,
        ...(isHours && { fromHour, toHour }),
      },
    };
  });
  if (level + half < ENOUGH)
    findings.push({
      code: 'panel_even',
      level: 'caution',
      path: 'solar',
      confidence: replay.light === 'clear sky' ? 'fair' : 'high',
      size: { value: level, low: level - half, high: level + half, unit: '' },
      args: { share: level, low: level - half, high: level + half, days },
    });
  if (top) findings.push(clipped(context, top));
  return findings;
}

/** The controller's own limit caps the harvest. */
function clipped({ rig, replay, availableW }: CompareContext, { topW, ratio, steps, days }: Clipping): LogFinding {
  const { grid } = replay.conditions;
  const cutWh = availableW.reduce((sum, watts) => sum + Math.max(0, watts * ratio - topW) * grid.stepH, 0);
  return {
    code: 'panel_clipped',
    level: 'note',
    path: 'solar.controller',
    confidence: days >= 5 ? 'high' : 'fair',
    size: { value: topW, low: (1 - FLAT) * topW, high: (1 + FLAT) * topW, unit: 'W' },
    args: {
      topW,
      topA: topW / chargingV(rig),
      lostWhDay: cutWh / replay.days,
      steps,
      days,
      flat: FLAT,
      above: ABOVE_TOP,
    },
  };
}

function cellsOf({ replay, steps, rig, expectedW, comparable, dayOf }: CompareContext): Cell[] {
  const { localHour } = replay.conditions.itinerary;
  const { stepH } = replay.conditions.grid;
  const nameplateW = rig.solar.reduce((sum, { powerW, count }) => sum + powerW * count, 0);
  const sums = new Map<number, { gave: number; offer: number }>();
  for (let i = 0; i < expectedW.length; i++) {
    if (comparable[i] === 0 || !(expectedW[i]! > 0) || Number.isNaN(steps.harvestW[i]!)) continue;
    const key = dayOf[i]! * 24 + Math.min(23, Math.floor(localHour[i]!));
    const sum = sums.get(key) ?? { gave: 0, offer: 0 };
    sums.set(key, sum);
    sum.gave += steps.harvestW[i]! * stepH;
    sum.offer += expectedW[i]! * stepH;
  }
  return [...sums].flatMap(([key, { gave, offer }]) =>
    offer >= MIN_CELL_H * nameplateW
      ? [
          {
            day: Math.floor(key / 24),
            hour: key % 24,
            ratio: Math.min(MOST, Math.max(0, gave / offer)),
            weight: Math.sqrt(offer / nameplateW),
          },
        ]
      : [],
  );
}

/** Stops that lie apart, as spans of days; none where the vehicle stood in one place. */
function stopsOf({ replay }: CompareContext): { fromDay: number; toDay: number }[] {
  const { days, legs } = replay.conditions.itinerary;
  const where = days.map(({ leg }) => {
    const { place } = legs[leg]!;
    return `${place.latDeg.toFixed(2)},${place.lonDeg.toFixed(2)}`;
  });
  const spans: { fromDay: number; toDay: number }[] = [];
  for (let from = 0; from < where.length; ) {
    let to = from;
    while (to < where.length && where[to] === where[from]) to++;
    spans.push({ fromDay: from, toDay: to });
    from = to;
  }
  return spans.length > 1 ? spans : [];
}

const isIn = ({ fromHour, toHour, fromDay, toDay }: Region, { day, hour }: Pick<Cell, 'day' | 'hour'>) =>
  hour >= fromHour && hour < toHour && day >= fromDay && day < toDay;

/** The loss that predicts best, where it predicts clearly better than one level and than every simpler loss. */
function plainestLoss(
  cells: readonly Cell[],
  days: readonly number[],
  stops: readonly { fromDay: number; toDay: number }[],
): PanelLoss | undefined {
  const ofDay = new Map<number, Cell[]>();
  for (const cell of cells) ofDay.set(cell.day, [...(ofDay.get(cell.day) ?? []), cell]);
  const hours = [...new Set(cells.map(({ hour }) => hour))].sort((a, b) => a - b);
  const [firstHour, pastHour] = [hours[0]!, hours.at(-1)! + 1];
  const [firstDay, pastDay] = [days[0]!, days.at(-1)! + 1];
  const judgedDays = days.filter((day) => ofDay.has(day));
  const sinceDays = judgedDays.slice(MIN_SIDE, -MIN_SIDE + 1 || undefined);
  const allHours = { fromHour: firstHour, toHour: pastHour };
  const allDays = { fromDay: firstDay, toDay: pastDay };
  const blocks = hours.flatMap((from, k) =>
    hours
      .slice(k)
      .flatMap((to) => (from === firstHour && to + 1 === pastHour ? [] : [{ fromHour: from, toHour: to + 1 }])),
  );
  const families: readonly { kind: PanelLoss['kind']; regions: readonly Region[] }[] = (
    [
      ['since', sinceDays.map((day) => ({ ...allHours, fromDay: day, toDay: pastDay }))],
      ['until', sinceDays.map((day) => ({ ...allHours, fromDay: firstDay, toDay: day }))],
      ['stop', stops.map((stop) => ({ ...allHours, ...stop }))],
      ['hours', blocks.map((block) => ({ ...block, ...allDays }))],
      ['hours at stop', stops.flatMap((stop) => blocks.map((block) => ({ ...block, ...stop })))],
      ['hours since', sinceDays.flatMap((day) => blocks.map((block) => ({ ...block, fromDay: day, toDay: pastDay })))],
    ] as const
  ).map(([kind, spans]) => ({ kind, regions: spans.map((span) => ({ kind, ...span })) }));

  const sigmas = scatterOf(ofDay);
  const lossOf = ({ level, keeps, region }: Fit, day: number) =>
    dayLoss(
      (ofDay.get(day) ?? []).map((cell) => cell.ratio - level * (region && isIn(region, cell) ? keeps : 1)),
      sigmas,
    );
  const nothing = predicted(judgedDays, {
    name: 'level',
    fit: (some) => fitLevel(ofDay, some),
    loss: lossOf,
  } satisfies Explanation<Fit>);
  if (!nothing) return undefined;
  let best: { loss: number; fit: Fit } = nothing;
  for (const { kind, regions } of families) {
    if (regions.length === 0) continue;
    const sums = sumsOf(ofDay, regions);
    const judged = predicted(judgedDays, { name: kind, fit: (some) => fitRegion(sums, ofDay, some), loss: lossOf });
    // a later family is a richer one, and has to earn it
    const wanted = best === nothing ? CLEAR_GAIN : CLEAR_GAIN / 2;
    // hours that give what the rig promises are not shaded, however much more the others give
    const { region, keeps, level } = judged?.fit ?? { keeps: 1, level: 1 };
    const left = keeps * Math.max(1, level);
    if (judged && region && left < MOST_LEFT && best.loss - judged.loss > wanted) best = judged;
  }
  const { region, keeps, level } = best.fit;
  if (!region) return undefined;
  const inside = cells.filter((cell) => isIn(region, cell));
  const own = [...new Set(inside.map(({ day }) => day))];
  const daily = own.map((day) => levelOf(inside.filter((cell) => cell.day === day)).level / level);
  const spread = daily.length > 1 ? deviation(daily) / Math.sqrt(daily.length) : 0.2;
  const half = Z90 * Math.hypot(spread, 0.03);
  const lostShare = lostIn(cells, region, keeps);
  if (lostShare < MIN_LOST || own.length < MIN_SIDE) return undefined;
  return {
    ...region,
    keeps,
    low: Math.max(0, keeps - half),
    high: Math.min(1, keeps + half),
    lostShare,
    days: own.length,
    gain: nothing.loss - best.loss,
  };
}

/** Of a day's light in the region's days, what falls into its hours, times what is lost there; by mean offers hour by hour. */
function lostIn(cells: readonly Cell[], { fromHour, toHour, fromDay, toDay }: Region, keeps: number): number {
  const offers = new Map<number, number[]>();
  for (const { day, hour, weight } of cells)
    if (day >= fromDay && day < toDay) offers.set(hour, [...(offers.get(hour) ?? []), weight * weight]);
  let [inside, all] = [0, 0];
  for (const [hour, own] of offers) {
    const mean = percentile(own, 0.75);
    all += mean;
    if (hour >= fromHour && hour < toHour) inside += mean;
  }
  return all > 0 ? ((1 - keeps) * inside) / all : 0;
}

function deviation(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / Math.max(1, values.length - 1));
}

/** Weighted mean of ratios, and its standard error over days. */
function levelOf(cells: readonly Cell[]): { level: number; standardError: number } {
  const weight = cells.reduce((sum, cell) => sum + cell.weight, 0);
  const level = cells.reduce((sum, cell) => sum + cell.weight * cell.ratio, 0) / weight;
  const byDay = new Map<number, number>();
  for (const cell of cells) byDay.set(cell.day, (byDay.get(cell.day) ?? 0) + cell.weight * (cell.ratio - level));
  const squares = [...byDay.values()].reduce((sum, one) => sum + one * one, 0);
  return { level, standardError: Math.sqrt(squares) / weight };
}

/** Regions of the same hours, and what those hours hold by day: weight, and weight times ratio. */
interface HourSums {
  readonly regions: readonly Region[];
  readonly weight: Float64Array;
  readonly weighted: Float64Array;
}

function sumsOf(ofDay: ReadonlyMap<number, readonly Cell[]>, regions: readonly Region[]): HourSums[] {
  const pastDay = Math.max(...ofDay.keys()) + 1;
  const byHours = new Map<string, Region[]>();
  for (const region of regions) {
    const key = `${region.fromHour} ${region.toHour}`;
    const same = byHours.get(key);
    if (same) same.push(region);
    else byHours.set(key, [region]);
  }
  return [...byHours.values()].map((same) => {
    const { fromHour, toHour } = same[0]!;
    const [weight, weighted] = [new Float64Array(pastDay), new Float64Array(pastDay)];
    for (const [day, cells] of ofDay)
      for (const cell of cells)
        if (cell.hour >= fromHour && cell.hour < toHour) {
          weight[day]! += cell.weight;
          weighted[day]! += cell.weight * cell.ratio;
        }
    return { regions: same, weight, weighted };
  });
}

function fitLevel(ofDay: ReadonlyMap<number, readonly Cell[]>, days: readonly number[]): Fit | undefined {
  const cells = days.flatMap((day) => ofDay.get(day) ?? []);
  return cells.length > 0 ? { level: levelOf(cells).level, keeps: 1 } : undefined;
}

/** The region whose inside stands apart most plainly: the largest sum of squares between the two means. */
function fitRegion(
  sums: readonly HourSums[],
  ofDay: ReadonlyMap<number, readonly Cell[]>,
  days: readonly number[],
): Fit | undefined {
  let [allW, allWr] = [0, 0];
  for (const day of days)
    for (const { weight, ratio } of ofDay.get(day) ?? []) {
      allW += weight;
      allWr += weight * ratio;
    }
  let best: { between: number; fit: Fit } | undefined;
  for (const { regions, weight, weighted } of sums) {
    const before = sumsBefore(weight, weighted, days);
    for (const region of regions) {
      const [from, to] = [region.fromDay, region.toDay].map((day) => Math.min(Math.max(0, day), weight.length));
      const [w, wr, n] = before.map((sum) => sum[to!]! - sum[from!]!) as [number, number, number];
      const rest = allW - w;
      if (n < MIN_SIDE || !(rest > 0.1 * allW)) continue;
      const [inside, outside] = [wr / w, (allWr - wr) / rest];
      const between = ((inside - outside) ** 2 * w * rest) / allW;
      if (inside < outside && (best === undefined || between > best.between))
        best = { between, fit: { level: outside, keeps: inside / outside, region } };
    }
  }
  return best?.fit;
}

/** Of some days, what lies before each day: weight, weight times ratio, and days with weight. */
function sumsBefore(weight: Float64Array, weighted: Float64Array, days: readonly number[]): Float64Array[] {
  const sums = [0, 1, 2].map(() => new Float64Array(weight.length + 1));
  for (const day of days) {
    sums[0]![day + 1] = weight[day]!;
    sums[1]![day + 1] = weighted[day]!;
    sums[2]![day + 1] = weight[day]! > 0 ? 1 : 0;
  }
  for (const sum of sums) for (let day = 1; day < sum.length; day++) sum[day]! += sum[day - 1]!;
  return sums;
}

/** Scatter of hours about their day, and of days, by what the days show and at least what stations have. */
function scatterOf(ofDay: ReadonlyMap<number, readonly Cell[]>): { hour: number; day: number } {
  const means: number[] = [];
  const within: number[] = [];
  for (const cells of ofDay.values()) {
    const middle = percentile(
      cells.map(({ ratio }) => ratio),
      0.5,
    );
    means.push(middle);
    if (cells.length > 2) for (const { ratio } of cells) within.push(Math.abs(ratio - middle));
  }
  const robust = (away: readonly number[]) => (away.length > 0 ? 1.4826 * percentile([...away], 0.5) : 0);
  return {
    hour: Math.max(HOUR_SCATTER, robust(within)),
    // from day to day, so that a step within the log does not count as scatter
    day: Math.max(DAY_SCATTER, robust(means.slice(1).map((mean, k) => Math.abs(mean - means[k]!))) / Math.SQRT2),
  };
}

/** −log likelihood of a day whose hours share an error of their own. */
function dayLoss(residuals: readonly number[], { hour, day }: { hour: number; day: number }): number {
  if (residuals.length === 0) return 0;
  const mean = residuals.reduce((sum, one) => sum + one, 0) / residuals.length;
  const common = Math.sqrt((hour * hour) / residuals.length + day * day);
  return residuals.reduce((sum, one) => sum + huber((one - mean) / hour), huber(mean / common));
}
