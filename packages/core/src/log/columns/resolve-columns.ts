import { HOUR_MS, percentile } from '../../math/index.js';
import { type Advice, advice, option } from '../../message/index.js';
import type { LogNote, UnitEvidence } from '../note.js';
import type { LogColumnName, LogOptions } from '../types.js';
import { type LogUnit, unitFor, unitsOf } from './heading-wording.js';
import type { ColumnPart, LogColumn, LogLayout } from './log-layout.js';
import type { Survey } from './survey.js';
import { LIMITS } from './value-limits.js';

/** What the sample tells of the columns: units, signs, and the side of the controller that a solar current is of. */
export interface Resolved {
  readonly columns: readonly LogColumn[];
  /** of a solar current: with which voltage it makes a power */
  readonly solarSide: 'panel' | 'battery' | undefined;
  readonly notes: readonly LogNote[];
}

export type Issue = (code: string, message: string, help: Advice) => void;

/** Two that must agree do when one over the other is within this: means of products are not products of means. */
const AGREE: readonly [number, number] = [0.75, 1.33];
const THOUSAND = 1000;
/** Enough rows to judge by, and enough light. */
const FEWEST = 24;
/** What no 12, 24 or 48 V system of a vehicle does most of the time. Common practice, no source. */
const MAX_USUAL_A = 400;
/** Charge that a full turn of the state of charge goes with, widest range of banks in vehicles [Ah]. Common practice, no source. */
const CAPACITY_AH: readonly [number, number] = [4, 4000];
/** A panel, a load or a battery flow that never comes to this is more likely given in kilowatts [W]. */
const FAINT_W = 6;
/** Of all that flows, so much against the sense of the column is noise. */
const NOISE_SHARE = 0.02;
const MIXED_SHARE = 0.1;
/** Share of impossible cells beyond which the column is not what it was taken for. */
const IMPOSSIBLE_SHARE = 0.3;
/** A tracking controller keeps so much. Common practice, no source. */
const CONTROLLER = 0.96;
/** Panel over battery voltage from which the side matters. */
const APART = 1.25;

/**
 * Works out from the sample what the headings leave open, and holds what they say against what must be true together: power is
 * voltage times current, the state of charge follows the charge, the sun moves the battery's current.
 */
export function resolveColumns(layout: LogLayout, survey: Survey, options: LogOptions, issue: Issue): Resolved {
  const notes: LogNote[] = [];
  let columns = [...layout.columns];
  const column = (role: LogColumnName) => columns.find((one) => one.role === role);
  const of = (role: LogColumnName) => {
    const one = column(role);
    return one && survey.of(one);
  };
  const isNamed = (role: LogColumnName) => column(role)?.parts.every((part) => part.isNamed) ?? false;
  const headings = (role: LogColumnName) => column(role)!.parts.map(({ index }) => layout.headings[index]!);
  const heading = (role: LogColumnName) =>
    headings(role)
      .map((one) => `"${one}"`)
      .join(' + ');
  const change = (role: LogColumnName, alter: (part: ColumnPart) => ColumnPart) => {
    columns = columns.map((one) => (one.role === role ? { ...one, parts: one.parts.map(alter) } : one));
  };
  const unitText = (role: LogColumnName) => column(role)!.parts[0]!.unit.text;
  const setUnit = (role: LogColumnName, text: string, by: UnitEvidence) => {
    change(role, (part) => ({ ...part, unit: unitFor(role, text)!, isNamed: true }));
    notes.push({ code: 'log_unit_found', args: { headings: headings(role), unit: text, by } });
  };
  const asked = new Set<LogColumnName>();
  const ask = (remedies: readonly { role: LogColumnName; text: string }[], say: string) => {
    for (const { role } of remedies) asked.add(role);
    const reads = remedies.flatMap(({ role, text }, k) => [...(k > 0 ? [' or '] : []), option('units', role, text)]);
    const { role } = remedies[0]!;
    issue(
      'log_unit_contradiction',
      say,
      advice`${reads} reads it so; ${option('units', role, unitText(role))} keeps it; ${option('ignore')} leaves a column out`,
    );
  };
  const chosen = (role: LogColumnName) => options.units?.[role] !== undefined;

  // columns that hold one direction: what goes out may stand there with a minus already
  for (const one of columns) if (one.isSplit) columns = columns.map((c) => (c === one ? splitSigns(one, survey) : c));
  columns = columns.flatMap((one) => oneWay(one, survey, layout, notes));

  // a current or power in thousands: settled by what it must agree with, else by its size
  const volts = of('voltage');
  const product = (amps: Float64Array | undefined, by = volts) => amps && by && amps.map((a, i) => a * by[i]!);
  const factorBetween = (a: Float64Array | undefined, b: Float64Array | undefined): number | undefined => {
    const ratio = a && b && ratioOf(a, b);
    if (ratio === undefined) return undefined;
    for (const factor of [1 / THOUSAND, 1, THOUSAND])
      if (ratio >= AGREE[0] * factor && ratio <= AGREE[1] * factor) return factor;
    return Number.NaN;
  };
  const capacity = () => {
    const amps = of('current') ?? quotient(of('power'), volts);
    const soc = of('soc');
    return amps && soc && capacityOf(survey.timeMs, amps, soc);
  };
  const sunMoves = (light: Float64Array | undefined, by: Float64Array | undefined) =>
    light && by && slopeOf(survey.timeMs, light, by);

  /** unit changes that make watts over volts x amps one */
  const remedies = (watts: LogColumnName, amps: LogColumnName, factor: number) =>
    [watts, amps].flatMap((role) =>
      unitsOf(role).flatMap((text) => {
        const scale = sizeOf(unitFor(role, text)!) / sizeOf(column(role)!.parts[0]!.unit);
        const after = role === watts ? factor * scale : factor / scale;
        return Math.abs(after - 1) < 1e-6 ? [{ role, text }] : [];
      }),
    );
  for (const [watts, amps, by] of [
    ['power', 'current', volts],
    ['loadPower', 'loadCurrent', volts],
    ['alternatorPower', 'alternatorCurrent', volts],
    ['solarPower', 'solarCurrent', of('solarVoltage') ?? volts],
  ] as const) {
    if (!column(watts) || !column(amps) || by === undefined || chosen(watts) || chosen(amps)) continue;
    const factor = factorBetween(of(watts), product(of(amps), by));
    if (factor === undefined || factor === 1) continue; // what is neither is judged over the whole log
    const found = remedies(watts, amps, factor);
    const open = found.filter(({ role }) => !isNamed(role));
    const why = `${heading(watts)} is ${factor < 1 ? 'a thousandth of' : 'a thousand times'} volts x ${heading(amps)}`;
    // of two that may both be in thousands, amperes of whole hundreds are milliamperes
    const pick = open.length > 1 ? open.find(({ role }) => (role === amps) === median(of(amps)!) > 50) : open[0];
    if (pick !== undefined)
      setUnit(pick.role, pick.text, { of: 'product', watts: headings(watts), amps: headings(amps), ratio: factor });
    else if (found.length > 0) ask(found, `${why}: one of their units is wrong`);
  }
  const batteryRole = column('current') ? 'current' : 'power';
  if (column(batteryRole) && !chosen(batteryRole) && sizes(of(batteryRole)!).length >= FEWEST) {
    const cap = capacity();
    const size = percentileOf(of(batteryRole)!, 0.9);
    const [large, small] = batteryRole === 'current' ? ['mA', undefined] : ['mW', 'kW'];
    const tooLarge =
      (cap !== undefined && cap > CAPACITY_AH[1]) || size > MAX_USUAL_A * (batteryRole === 'power' ? 50 : 1);
    const tooSmall = small !== undefined && cap !== undefined && cap < CAPACITY_AH[0] / 4;
    const shown =
      cap === undefined
        ? `${heading(batteryRole)} goes to ${size.toPrecision(3)} ${unitText(batteryRole)}`
        : `by ${heading(batteryRole)} in ${unitText(batteryRole)} a full turn of the state of charge is ${cap.toPrecision(3)} Ah`;
    const better = tooLarge ? large : small!;
    if (tooLarge || tooSmall) {
      const unit = unitText(batteryRole);
      if (!isNamed(batteryRole))
        setUnit(
          batteryRole,
          better,
          cap === undefined ? { of: 'size', unit, most: size } : { of: 'capacity', unit, ah: cap },
        );
      else if (!asked.has(batteryRole)) ask([{ role: batteryRole, text: better }], `${shown}, which no vehicle has`);
    }
  }

  // the sun
  const batteryW = () => of('power') ?? product(of('current'));
  flip('solarPower', of, change, notes, issue, headings);
  flip('solarCurrent', of, change, notes, issue, headings);
  flip('loadPower', of, change, notes, issue, headings);
  flip('loadCurrent', of, change, notes, issue, headings);
  for (const role of ['solarPower', 'loadPower', 'power'] as const) {
    if (!column(role) || isNamed(role) || chosen(role)) continue;
    const watts = of(role)!;
    const most = percentileOf(watts, 0.99);
    if (!(most > 0)) continue;
    const moved =
      role === 'solarPower'
        ? sunMoves(watts, batteryW())
        : role === 'loadPower'
          ? nightShare(of, batteryW())
          : undefined;
    const cap = role === 'power' ? capacity() : undefined;
    if (moved !== undefined && Math.abs(moved) > 0.3 * THOUSAND && Math.abs(moved) < 3 * THOUSAND) {
      setUnit(role, 'kW', { of: 'battery', times: Math.abs(moved) });
      continue;
    }
    if (moved !== undefined && Math.abs(moved) > 0.3 && Math.abs(moved) < 3) continue;
    if (cap !== undefined && cap >= CAPACITY_AH[0] && cap <= CAPACITY_AH[1]) continue;
    if (most < FAINT_W)
      issue(
        'log_unit',
        `${heading(role)} names no unit and never comes above ${most.toPrecision(2)}: W or kW?`,
        advice`${option('units', role, 'kW')} or ${option('units', role, 'W')} settles it`,
      );
  }
  for (const one of columns)
    for (const part of one.parts)
      if (!part.isNamed)
        notes.push({ code: 'log_unit', args: { heading: layout.headings[part.index]!, unit: part.unit.text } });

  const solarSide = sideOf();
  for (const { role } of columns) if (!asked.has(role)) checkPossible(role);
  return { columns, solarSide, notes };

  function sideOf(): 'panel' | 'battery' | undefined {
    const solar = column('solarCurrent');
    if (solar === undefined) return undefined;
    if (options.solarSide !== undefined) return options.solarSide;
    const panelV = of('solarVoltage');
    if (panelV === undefined || volts === undefined) return undefined;
    const amps = of('solarCurrent')!;
    const over = ratioOf(
      panelV.map((v, i) => (amps[i]! > 0.2 ? v : Number.NaN)),
      volts,
    );
    if (over === undefined || over < APART) return solar.side ?? 'panel';
    const watts = of('solarPower');
    const byPower =
      watts &&
      ratioOf(
        watts,
        amps.map((a, i) => a * volts[i]!),
      );
    const measuredA = of('current') ?? quotient(of('power'), volts);
    const outward = measuredA !== undefined && (sunMoves(amps, measuredA) ?? 1) < 0;
    const battA = outward ? measuredA.map((a) => -a) : measuredA;
    // 0 = the battery's side, 1 = the panels'
    const share =
      byPower !== undefined
        ? (byPower - 1) / (over - 1)
        : battA &&
          shareOf(
            survey.timeMs,
            battA,
            amps,
            amps.map((a, i) => (CONTROLLER * a * panelV[i]!) / volts[i]!),
          );
    if (share !== undefined && Math.abs(share - 0.5) > 0.2 && share > -0.4 && share < 1.4) {
      const side = share < 0.5 ? 'battery' : 'panel';
      if (side !== (solar.side ?? 'panel') || over > 2 * APART)
        notes.push({
          code: 'log_solar_side',
          args: { headings: headings('solarCurrent'), side, by: byPower === undefined ? 'current' : 'power' },
        });
      return side;
    }
    if (column('solarPower') !== undefined) return undefined;
    if (solar.side !== undefined) return solar.side;
    issue(
      'log_solar_side',
      `${heading('solarCurrent')} may be the panels' current or what the controller gives to the battery, at ${over.toFixed(1)} times lower voltage`,
      advice`${option('solarSide', 'panel')} or ${option('solarSide', 'battery')} settles it`,
    );
    return undefined;
  }

  function checkPossible(role: LogColumnName) {
    const values = of(role)!;
    const [low, high] = LIMITS[role];
    let [filled, out, worst] = [0, 0, 0];
    for (const value of values)
      if (!Number.isNaN(value)) {
        filled++;
        if (value < low || value > high) {
          out++;
          worst = value;
        }
      }
    if (filled < FEWEST || out <= IMPOSSIBLE_SHARE * filled) return;
    const better = role === 'voltage' ? 'mV' : /[cC]urrent/.test(role) ? 'mA' : undefined;
    issue(
      'log_impossible_column',
      `${heading(role)} in ${unitText(role)}: ${out} of the first ${filled} values are no possible ${role}, such as ${Number(worst.toPrecision(6))}`,
      better
        ? advice`${option('units', role, better)} reads it so; ${option('ignore')} leaves it out`
        : otherColumn(role),
    );
  }
}

/** A column for what goes out may count it with a minus or without. */
function splitSigns(one: LogColumn, survey: Survey): LogColumn {
  return {
    ...one,
    parts: one.parts.map((part) => {
      const { below, above } = sumsOf(survey.cells(part.index));
      return part.factor < 0 && below > above ? { ...part, factor: 1 } : part;
    }),
  };
}

/** A column of one direction alone is no flow of the battery; one that goes both ways is, whatever its heading says. */
function oneWay(one: LogColumn, survey: Survey, layout: LogLayout, notes: LogNote[]): LogColumn[] {
  if (one.flow === undefined || one.isSplit || one.by === 'option') return [one];
  const { below, above } = sumsOf(survey.cells(one.parts[0]!.index));
  if (Math.min(below, above) > NOISE_SHARE * Math.max(below, above)) return [one];
  notes.push({ code: 'log_one_way', args: { column: one.role, heading: layout.headings[one.parts[0]!.index]! } });
  return [];
}

const otherColumn = (role: LogColumnName) =>
  advice`${option('columns', role, 'HEADING')} names another; ${option('ignore')} leaves it out`;

function flip(
  role: LogColumnName,
  of: (role: LogColumnName) => Float64Array | undefined,
  change: (role: LogColumnName, alter: (part: ColumnPart) => ColumnPart) => void,
  notes: LogNote[],
  issue: Issue,
  headings: (role: LogColumnName) => readonly string[],
) {
  const values = of(role);
  if (values === undefined) return;
  const { below, above } = sumsOf(values);
  if (below <= NOISE_SHARE * above || below + above === 0) return;
  if (above <= NOISE_SHARE * below) {
    change(role, (part) => ({ ...part, factor: -part.factor }));
    notes.push({ code: 'log_turned', args: { column: role, headings: headings(role) } });
  } else if (Math.min(below, above) > MIXED_SHARE * Math.max(below, above))
    issue(
      'log_sign_contradiction',
      `${headings(role)
        .map((one) => `"${one}"`)
        .join(
          ' + ',
        )} is below nought for ${((100 * below) / (below + above)).toFixed(0)} % of what flows: ${role.startsWith('solar') ? 'panels give and do not take' : 'loads take and do not give'}`,
      otherColumn(role),
    );
}

function sumsOf(values: Float64Array): { below: number; above: number } {
  let [below, above] = [0, 0];
  for (const value of values) {
    if (value > 0) above += value;
    else if (value < 0) below -= value;
  }
  return { below, above };
}

/** Size of one column over another, over the rows where both are there and not next to nothing. */
function ratioOf(a: Float64Array, b: Float64Array): number | undefined {
  let [sumA, sumB, count] = [0, 0, 0];
  for (let i = 0; i < a.length; i++) {
    const [x, y] = [Math.abs(a[i]!), Math.abs(b[i]!)];
    if (!(x > 0 && y > 0)) continue;
    sumA += x;
    sumB += y;
    count++;
  }
  return count >= FEWEST && sumB > 0 ? sumA / sumB : undefined;
}

const sizeOf = ({ times, per }: LogUnit) => times / per;
const quotient = (watts: Float64Array | undefined, volts: Float64Array | undefined) =>
  watts && volts && watts.map((w, i) => w / volts[i]!);

const sizes = (values: Float64Array) => [...values].filter((value) => !Number.isNaN(value)).map(Math.abs);
const percentileOf = (values: Float64Array, share: number) => {
  const all = sizes(values);
  return all.length > 0 ? percentile(all, share) : 0;
};
const median = (values: Float64Array) => percentileOf(values, 0.5);

/** Charge that goes with a full turn of the state of charge, from all its changes that are no setting of a counter [Ah]. */
function capacityOf(timeMs: Float64Array, amps: Float64Array, soc: Float64Array): number | undefined {
  let [moved, changed, since, from, count] = [0, 0, 0, Number.NaN, 0];
  for (let i = 1; i < amps.length; i++) {
    const hours = (timeMs[i]! - timeMs[i - 1]!) / HOUR_MS;
    if (Number.isNaN(from)) from = soc[i - 1]!;
    if (!(hours < 2)) {
      since = 0;
      from = Number.NaN;
      continue;
    }
    if (!Number.isNaN(amps[i - 1]!)) since += amps[i - 1]! * hours;
    const step = Math.abs(soc[i]! - from);
    if (!(step >= 0.02)) continue;
    if (step < 0.06) {
      moved += Math.abs(since);
      changed += step;
      count++;
    }
    since = 0;
    from = soc[i]!;
  }
  return count >= 3 ? moved / changed : undefined;
}

/** How much more light moves `by`, over hours; undefined when that is not clear. */
function slopeOf(timeMs: Float64Array, light: Float64Array, by: Float64Array): number | undefined {
  const [x, y] = hourly(timeMs, [light, by]);
  return lineThrough(x!, y!, 0.25);
}

/** Means over the hours in which all columns have values, less their means over all: loads that come and go even out. */
function hourly(timeMs: Float64Array, columns: readonly Float64Array[]): number[][] {
  const means: number[][] = columns.map(() => []);
  let sums = columns.map(() => 0);
  let [hour, count] = [Number.NaN, 0];
  const close = () => {
    if (count > 0) sums.forEach((sum, k) => void means[k]!.push(sum / count));
    sums = columns.map(() => 0);
    count = 0;
  };
  for (let i = 0; i < timeMs.length; i++) {
    const now = Math.floor(timeMs[i]! / HOUR_MS);
    if (now !== hour) close();
    hour = now;
    if (columns.some((column) => Number.isNaN(column[i]!))) continue;
    columns.forEach((column, k) => {
      sums[k] = sums[k]! + column[i]!;
    });
    count++;
  }
  close();
  return means.map((column) => {
    const middle = column.reduce((sum, value) => sum + value, 0) / column.length;
    return column.map((value) => value - middle);
  });
}

const FEWEST_HOURS = 8;

/** Slope of y over x by least squares, of columns whose mean is nought; undefined when its error is more than this share of it. */
function lineThrough(x: readonly number[], y: readonly number[], within: number): number | undefined {
  let [xy, xx, yy] = [0, 0, 0];
  for (let i = 0; i < x.length; i++) {
    xy += x[i]! * y[i]!;
    xx += x[i]! * x[i]!;
    yy += y[i]! * y[i]!;
  }
  if (x.length < FEWEST_HOURS || !(xx > 0)) return undefined;
  const slope = xy / xx;
  const error = Math.sqrt(Math.max(0, yy - slope * xy) / (x.length - 2) / xx);
  return error < within * Math.max(Math.abs(slope), within) ? slope : undefined;
}

/**
 * Where the course of `y` over the hours stands between that of `a` (0) and that of `b` (1): the artificial regression of
 * Davidson & MacKinnon 1981 (Econometrica 49, from memory) for two models of which neither is part of the other.
 */
function shareOf(timeMs: Float64Array, y: Float64Array, a: Float64Array, b: Float64Array): number | undefined {
  const [hourA, hourB, hourY] = hourly(timeMs, [a, b, y]);
  return lineThrough(
    hourA!.map((value, i) => hourB![i]! - value),
    hourY!.map((value, i) => value - hourA![i]!),
    0.4,
  );
}

/** In the dark the battery feeds the loads: its power over theirs. */
function nightShare(
  of: (role: LogColumnName) => Float64Array | undefined,
  batteryW: Float64Array | undefined,
): number | undefined {
  const loads = of('loadPower');
  const sun = of('solarPower') ?? of('solarCurrent');
  if (!loads || !batteryW) return undefined;
  const dark = loads.map((w, i) => (sun === undefined || Math.abs(sun[i]!) < 1e-3 ? w : Number.NaN));
  return ratioOf(batteryW, dark);
}
