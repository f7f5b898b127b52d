/** One vehicle that does not exist, by five minutes over four days, without anything of the core model: what every variant tells of. */

export interface TrueRow {
  /** UTC */
  readonly ms: number;
  readonly voltV: number;
  /** into the battery */
  readonly currentA: number;
  readonly soc: number;
  /** what the controller gives to the battery's side */
  readonly solarW: number;
  readonly solarA: number;
  readonly panelV: number;
  readonly panelA: number;
  readonly loadW: number;
  readonly batteryC: number;
}

/** Where it stands, and the legal time there: an hour ahead of UTC in summer, none in winter. */
export const PLACE = { latDeg: 38.7, lonDeg: -9.1 } as const;
export const ZONE = 'Europe/Lisbon';
export const STEP_MS = 300_000;
export const DAYS = 4;
const HOUR_MS = 3_600_000;
const CAPACITY_AH = 100;
/** The controller keeps so much of what the panels give. */
const CONTROLLER = 0.96;

/** First days, at local midnight: dates that can be read two ways, and dates that cannot. */
export const STARTS = [
  { date: '2026-04-02', offsetH: 1 },
  { date: '2026-05-17', offsetH: 1 },
  { date: '2026-11-09', offsetH: 0 },
  { date: '2026-02-26', offsetH: 0 },
] as const;
export type Start = (typeof STARTS)[number];

const round = (value: number, digits: number) => Math.round(value * 10 ** digits) / 10 ** digits;

/** A sequence that looks like noise and is the same on any machine. */
const wobble = (k: number, salt: number) => {
  const x = Math.sin(k * 12.9898 + salt * 78.233) * 43758.5453;
  return 2 * (x - Math.floor(x)) - 1;
};

const known = new Map<string, readonly TrueRow[]>();

export function truthOf({ date, offsetH }: Start): readonly TrueRow[] {
  const made = known.get(date);
  if (made !== undefined) return made;
  const startMs = Date.parse(date) - offsetH * HOUR_MS;
  const rows: TrueRow[] = [];
  let soc = 0.7;
  for (let k = 0; k < (DAYS * 24 * HOUR_MS) / STEP_MS; k++) {
    const hour = (k * STEP_MS) / HOUR_MS;
    const ofDay = hour % 24;
    const sun = Math.max(0, Math.sin((Math.PI * (ofDay - 7)) / 12.4));
    const cloud =
      [0.95, 0.45, 0.8, 0.6][Math.floor(hour / 24)]! * (1 - 0.35 * Math.max(0, wobble(Math.floor(k / 4), 1)));
    const wanted = 190 * sun ** 1.3 * cloud;
    const isFridgeOn = (k + Math.floor(2 * wobble(Math.floor(k / 9), 2))) % 9 < 3;
    const isEvening = ofDay > 19 && ofDay < 23;
    const isPump = k % 61 === 7;
    const loadA = round(
      0.22 + (isFridgeOn ? 3.6 : 0) + (isEvening ? 1.4 : 0) + (isPump ? 4.2 : 0) + 0.03 * wobble(k, 3),
      2,
    );
    const accepted = soc >= 0.995 ? Math.min(wanted, loadA * 13.6 + 8) : wanted;
    const restV = 12.95 + 0.35 * soc + (soc > 0.97 ? 0.3 : 0);
    let currentA = accepted / restV - loadA;
    const voltV = round(restV + 0.022 * currentA + 0.004 * wobble(k, 4), 3);
    const solarA = round(accepted / voltV, 3);
    currentA = round(solarA - loadA, 3);
    const panelV =
      accepted > 0 ? round(33 + 2.2 * wobble(Math.floor(k / 3), 5), 2) : round(0.4 * Math.max(0, wobble(k, 6)), 2);
    rows.push({
      ms: startMs + k * STEP_MS,
      voltV,
      currentA,
      soc: round(soc, 4),
      solarW: round(solarA * voltV, 2),
      solarA,
      panelV,
      panelA: accepted > 0 ? round((solarA * voltV) / CONTROLLER / panelV, 3) : 0,
      loadW: round(loadA * voltV, 2),
      batteryC: round(15 + 6 * Math.sin((Math.PI * (ofDay - 9)) / 12), 1),
    });
    soc = Math.min(1, Math.max(0.05, soc + (currentA * STEP_MS) / HOUR_MS / CAPACITY_AH));
  }
  known.set(date, rows);
  return rows;
}

/** What a day of the truth comes to; a key is there when the variant's columns hold it. */
export interface TrueDay {
  readonly date: string;
  readonly chargedAh?: number;
  readonly dischargedAh?: number;
  readonly harvestWh?: number;
  readonly loadWh?: number;
  readonly lowestSoc?: number;
  readonly highestSoc?: number;
  readonly lowestV?: number;
  readonly highestV?: number;
}

export type Quantity = 'charge' | 'harvest' | 'panel harvest' | 'load' | 'soc' | 'voltage';

/** Sums by hand: each row holds for one step, days begin at local midnight. */
export function daysOf(rows: readonly TrueRow[], { offsetH }: Start, holds: ReadonlySet<Quantity>): TrueDay[] {
  const byDate = new Map<string, TrueRow[]>();
  for (const row of rows) {
    const date = new Date(row.ms + offsetH * HOUR_MS).toISOString().slice(0, 10);
    const day = byDate.get(date);
    if (day === undefined) byDate.set(date, [row]);
    else day.push(row);
  }
  const stepH = STEP_MS / HOUR_MS;
  return [...byDate].map(([date, day]) => {
    const sum = (pick: (row: TrueRow) => number) => day.reduce((total, row) => total + pick(row) * stepH, 0);
    const low = (pick: (row: TrueRow) => number) => Math.min(...day.map(pick));
    const high = (pick: (row: TrueRow) => number) => Math.max(...day.map(pick));
    return {
      date,
      ...(holds.has('charge') && {
        chargedAh: sum(({ currentA }) => Math.max(0, currentA)),
        dischargedAh: sum(({ currentA }) => Math.max(0, -currentA)),
      }),
      ...(holds.has('harvest') && { harvestWh: sum(({ solarW }) => solarW) }),
      ...(holds.has('panel harvest') && { harvestWh: sum(({ panelV, panelA }) => panelV * panelA) }),
      ...(holds.has('load') && { loadWh: sum(({ loadW }) => loadW) }),
      ...(holds.has('soc') && { lowestSoc: low(({ soc }) => soc), highestSoc: high(({ soc }) => soc) }),
      ...(holds.has('voltage') && { lowestV: low(({ voltV }) => voltV), highestV: high(({ voltV }) => voltV) }),
    };
  });
}
