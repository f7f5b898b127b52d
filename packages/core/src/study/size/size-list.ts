import { ConfigError, type PartsList, type Rig } from '../../rig/index.js';
import type { Bill, ChosenPart } from './size-types.js';

/** Tried when the list sets no limit; said in the result. */
const MAX_BATTERIES = 4;
const MAX_PANELS = 4;
/** More than that is no list to choose from by running each. */
export const MAX_CHOICES = 50_000;

/** One combination: how many of which lines. Without lines of a kind the rig's own stays. */
export interface Combination {
  /** line of the batteries and how often; undefined = the rig's own */
  readonly battery?: { readonly line: number; readonly count: number };
  /** how often each line of panels; empty = the rig's own arrays */
  readonly panels: readonly number[];
  /** line of the chargers, or 'none'; undefined = the rig's own */
  readonly charger?: number | 'none';
  readonly bill: Bill;
}

export type Limits = PartsList['limits'];
export type LimitName = keyof Limits;

/** The list's limits, with ours where it sets no number of pieces. */
export function limitsOf(parts: PartsList): Limits & Required<Pick<Limits, 'batteries' | 'panels'>> {
  return { batteries: MAX_BATTERIES, panels: MAX_PANELS, ...parts.limits };
}

/**
 * Every combination within the numbers of pieces, lightest first, then cheapest.
 * @throws ConfigError for a list with nothing in it, a battery of another voltage than the rig's, or too many combinations
 */
export function picksOf(rig: Rig, parts: PartsList, limits: { batteries: number; panels: number }): Combination[] {
  refuseBadList(rig, parts);
  const batteries = batteryPicks(parts, limits.batteries);
  const chargers = chargerPicks(rig, parts);
  const panelCounts = panelPicks(parts, limits.panels, Math.floor(MAX_CHOICES / (batteries.length * chargers.length)));
  const picks = batteries.flatMap((battery) =>
    panelCounts.flatMap((panels) =>
      chargers.map((charger) => {
        const pick = { ...(battery && { battery }), panels, ...(charger !== undefined && { charger }) };
        return { ...pick, bill: billOf(rig, parts, pick) };
      }),
    ),
  );
  return picks.sort(
    (a, b) =>
      a.bill.massKg - b.bill.massKg ||
      a.bill.price - b.bill.price ||
      b.bill.batteryAh - a.bill.batteryAh ||
      b.bill.solarW - a.bill.solarW,
  );
}

/** What is bought; a limit that it breaks. */
export function brokenLimits(bill: Bill, limits: Limits, parts: PartsList): LimitName[] {
  const names: LimitName[] = ['batteries', 'panels', 'massKg', 'price', 'areaM2'];
  return names.filter((name) => limits[name] !== undefined && amountOf(bill, name, parts) > limits[name]! + 1e-9);
}

export function amountOf(bill: Bill, limit: LimitName, parts: PartsList): number {
  if (limit !== 'batteries' && limit !== 'panels') return bill[limit];
  const kind = limit === 'batteries' ? 'battery' : 'panel';
  const lines = new Map<string, number>([
    ...parts.batteries.map(({ name, battery }) => [`battery ${name}`, piecesOf(battery)] as const),
    ...parts.panels.map(({ name, array }) => [`panel ${name}`, array.count] as const),
  ]);
  return bill.parts
    .filter((part) => part.kind === kind)
    .reduce((sum, part) => sum + part.count * (lines.get(`${kind} ${part.name}`) ?? 1), 0);
}

/** Batteries in one line of the list: those in series, and any that stand in parallel there. */
const piecesOf = ({ count, series }: { count: number; series: number }) => count * series;

function batteryPicks({ batteries }: PartsList, most: number): (Combination['battery'] | undefined)[] {
  if (batteries.length === 0) return [undefined];
  return batteries.flatMap(({ battery }, line) =>
    Array.from({ length: Math.floor(most / piecesOf(battery)) }, (_, k) => ({ line, count: k + 1 })),
  );
}

function chargerPicks(rig: Rig, { chargers }: PartsList): (number | 'none' | undefined)[] {
  return chargers.length === 0 || !rig.alternator ? [undefined] : ['none', ...chargers.keys()];
}

/** Every way to spread up to `most` modules over the lines, none included. */
function panelPicks({ panels }: PartsList, most: number, mostPicks: number): number[][] {
  const picks: number[][] = [];
  const spread = (line: number, left: number, counts: number[]) => {
    if (line === panels.length) {
      picks.push(counts);
      if (picks.length > mostPicks)
        throw new ConfigError([
          {
            code: 'too_many',
            path: 'limits',
            message: `the list makes more than ${MAX_CHOICES.toLocaleString('en')} combinations within its limits`,
            hint: 'lower limits.batteries or limits.panels, or leave out parts that are out of the question',
          },
        ]);
      return;
    }
    const each = panels[line]!.array.count;
    for (let n = 0; n * each <= left; n++) spread(line + 1, left - n * each, [...counts, n]);
  };
  spread(0, most, []);
  return picks;
}

function billOf(rig: Rig, parts: PartsList, pick: Omit<Combination, 'bill'>): Bill {
  const chosen: ChosenPart[] = [];
  let [massKg, price, areaM2] = [0, 0, 0];
  const buy = (part: { massKg: number; price: number; areaM2?: number }, pieces: number) => {
    massKg += part.massKg * pieces;
    price += part.price * pieces;
    areaM2 += (part.areaM2 ?? 0) * pieces;
  };
  const { battery, panels, charger } = pick;
  let bank = { ...rig.battery };
  if (battery) {
    const line = parts.batteries[battery.line]!;
    bank = { ...line.battery, count: line.battery.count * battery.count };
    chosen.push({ kind: 'battery', name: line.name, count: battery.count });
    // A battery's area is that of a floor, not of the roof: it is not counted.
    buy({ massKg: line.massKg, price: line.price }, piecesOf(bank));
  }
  let solarW = parts.panels.length > 0 ? 0 : rig.solar.reduce((sum, array) => sum + array.powerW * array.count, 0);
  panels.forEach((count, k) => {
    if (count === 0) return;
    const line = parts.panels[k]!;
    chosen.push({ kind: 'panel', name: line.name, count });
    buy(line, count * line.array.count);
    solarW += line.array.powerW * line.array.count * count;
  });
  if (typeof charger === 'number') {
    const line = parts.chargers[charger]!;
    chosen.push({ kind: 'charger', name: line.name, count: 1 });
    buy({ massKg: line.massKg, price: line.price }, 1);
  }
  return {
    parts: chosen,
    batteryAh: bank.capacityAh * bank.count,
    batteryNominalV: bank.nominalV * bank.series,
    solarW,
    massKg: tidy(massKg),
    price: tidy(price),
    areaM2: tidy(areaM2),
  };
}

/** Sums of decimal numbers without the dust of binary ones, so that equal bills compare equal. */
const tidy = (value: number) => Number(value.toPrecision(12));

function refuseBadList(rig: Rig, { batteries, panels, chargers }: PartsList): void {
  if (batteries.length + panels.length + chargers.length === 0)
    throw new ConfigError([
      { code: 'missing', path: '', message: 'the parts list is empty', hint: 'give batteries, panels or chargers' },
    ]);
  const rigV = volts(rig.battery);
  const issues = batteries.flatMap(({ name, battery }, k) =>
    volts(battery) === rigV
      ? []
      : [
          {
            code: 'voltage',
            path: `batteries[${k}]`,
            message: `${name} makes a bank of ${volts(battery)} V, and the rig is one of ${rigV} V`,
            hint: 'set series so that they agree',
          },
        ],
  );
  if (issues.length > 0) throw new ConfigError(issues);
}

/** A maker's 12.8 V counts as 12 V. */
const volts = ({ nominalV, series }: { nominalV: number; series: number }) => Math.round(nominalV / 12.5) * 12 * series;
