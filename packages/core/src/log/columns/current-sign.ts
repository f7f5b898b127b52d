import { HOUR_MS, MINUTE_MS } from '../../math/index.js';
import type { LogColumnName, LogRow, SignFound } from '../types.js';

/** What the rows say about the direction of a battery column, gathered row by row. */
export interface SignEvidence {
  observe(before: LogRow, row: LogRow): void;
  /** undefined = the data do not tell yet */
  verdict(): SignFound | undefined;
  /** the column never changes its sign although the battery is both charged and discharged */
  isUnsigned(): boolean;
  /** anything flows at all */
  isFlowing(): boolean;
  /** share of the evidence in which the state of charge goes the way of the charge, 0.5 = as often as not; NaN = too little of it */
  socAgreement(): number;
  /** charge that goes with a whole turn of the monitor's state of charge [Ah]; NaN = cannot tell */
  counterAh(): number;
}

interface VoltHalf {
  sum: number;
  all: number;
  count: number;
}

/** Of a flow without sign the evidence is mixed: so much of it that points one way is enough. */
const MIXED = 0.1;
/** Share of the evidence that must point one way, and the least pieces of it. */
const AGREE = 0.3;
const MIN_SOC = 8;
const MIN_VOLT = 40;
/** A change of voltage counts up to this share of it: what a controller does to it as its stage changes is no resistance. */
const MOST_JUMP = 0.004;
const MIN_SUN = 20;
const NEIGHBOURS_MS = 2 * HOUR_MS;
const LIGHT_STEP_MS = 4 * MINUTE_MS;
/** A change of state of charge beyond this in one step is the counter being set. */
const STEP_SOC = 0.03;
/** Changes of this size weigh the charge against the counter: a step more or less at either end is then little. */
const WINDOW_SOC = 0.05;
const MIN_WINDOWS = 4;
/** Enough of them to say that the two have nothing to do with each other. */
const MIN_WINDOWS_TO_DENY = 8;
/** Beyond this the counter is held at full (or empty) whatever flows. */
const MAX_SOC = 0.98;

/**
 * Three signs of direction: the charge between two changes of the state of charge has the sign of the change; a charging
 * current lifts the voltage (the resistance is positive); the sun charges. The first that is clear decides.
 */
export function createSignEvidence(columns: readonly LogColumnName[], column: 'current' | 'power'): SignEvidence {
  const of = columns.indexOf(column);
  const soc = columns.indexOf('soc');
  const volt = columns.indexOf('voltage');
  const sun = columns.indexOf(columns.includes('solarPower') ? 'solarPower' : 'solarCurrent');
  let sinceAh = 0;
  let [socSum, socAll, socCount] = [0, 0, 0];
  let [longAh, longSoc, counted, countedAll, squares, windows] = [0, 0, 0, 0, 0, 0];
  let [voltSum, voltAll, voltCount] = [0, 0, 0];
  let [sunnySum, sunny, darkSum, dark, mostSun] = [0, 0, 0, 0, 0];
  let [negative, positive, rises, falls] = [0, 0, 0, 0];
  let [lightSum, lightAll] = [0, 0];
  let [xThen, lightThen, lightMs] = [Number.NaN, Number.NaN, Number.NaN];
  let [voltMean, voltRows] = [0, 0];
  const halves: readonly [VoltHalf, VoltHalf] = [
    { sum: 0, all: 0, count: 0 },
    { sum: 0, all: 0, count: 0 },
  ];
  const clear = (sum: number, all: number) => all > 0 && Math.abs(sum) >= AGREE * all;
  const sign = (sum: number) => (sum > 0 ? 'charging' : 'discharging');

  return {
    observe(before, row) {
      const x0 = before.values[of]!;
      const x = row.values[of]!;
      if (x > 0.02) positive++;
      else if (x < -0.02) negative++;
      const hours = (row.timeMs - before.timeMs) / HOUR_MS;
      if (hours * HOUR_MS > NEIGHBOURS_MS) {
        sinceAh = longAh = longSoc = 0;
        return;
      }
      if (soc >= 0) {
        if (!Number.isNaN(x0)) sinceAh += x0 * hours;
        const change = row.values[soc]! - before.values[soc]!;
        const between = ((x0 + x) / 2) * hours;
        const isHeld = row.values[soc]! > MAX_SOC || row.values[soc]! < 1 - MAX_SOC;
        if (Math.abs(change) <= STEP_SOC && !isHeld && !Number.isNaN(between)) {
          longAh += between;
          longSoc += change;
          if (Math.abs(longSoc) >= WINDOW_SOC) {
            counted += longAh * longSoc;
            countedAll += Math.abs(longAh * longSoc);
            squares += longSoc * longSoc;
            windows++;
            longAh = longSoc = 0;
          }
        } else longAh = longSoc = 0;
        if (change > 0) rises++;
        else if (change < 0) falls++;
        if (Math.abs(change) > 0) {
          if (Math.abs(change) <= STEP_SOC) {
            socSum += sinceAh * change;
            socAll += Math.abs(sinceAh * change);
            socCount++;
          }
          sinceAh = 0;
        }
      }
      if (volt >= 0) {
        const most = MOST_JUMP * Math.abs(row.values[volt]!);
        const jump = row.values[volt]! - before.values[volt]!;
        const product = (x - x0) * Math.max(-most, Math.min(most, jump));
        if (!Number.isNaN(product) && product !== 0) {
          voltSum += product;
          voltAll += Math.abs(product);
          voltCount++;
          const half = halves[row.values[volt]! + before.values[volt]! > 2 * voltMean ? 1 : 0];
          half.sum += product;
          half.all += Math.abs(product);
          half.count++;
        }
        if (!Number.isNaN(row.values[volt]!)) voltMean += (row.values[volt]! - voltMean) / ++voltRows;
      }
      if (sun >= 0 && !Number.isNaN(x)) {
        const light = row.values[sun]!;
        // over some minutes, as the two may be written by different devices, each in its own rows
        if (!Number.isNaN(light) && !(row.timeMs - lightMs < LIGHT_STEP_MS)) {
          if (row.timeMs - lightMs <= NEIGHBOURS_MS) {
            const product = (x - xThen) * (light - lightThen);
            lightSum += product;
            lightAll += Math.abs(product);
          }
          [xThen, lightThen, lightMs] = [x, light, row.timeMs];
        }
        if (light > mostSun) mostSun = light;
        if (light > 0.3 * mostSun && light > 0) {
          sunnySum += x;
          sunny++;
        } else if (light <= 0.01 * mostSun) {
          darkSum += x;
          dark++;
        }
      }
    },
    verdict() {
      if (socCount >= MIN_SOC && clear(socSum, socAll)) return { positive: sign(socSum), by: 'state of charge' };
      const isClear = voltCount >= MIN_VOLT && clear(voltSum, voltAll);
      if (sunny >= MIN_SUN && dark >= MIN_SUN) {
        const bySun = sign(sunnySum / sunny - darkSum / dark);
        // two witnesses that contradict each other decide nothing
        if (!isClear || bySun !== sign(voltSum)) return isClear ? undefined : { positive: bySun, by: 'sun' };
      }
      return isClear ? { positive: sign(voltSum), by: 'voltage' } : undefined;
    },
    isUnsigned: () => {
      if (Math.min(positive, negative) > 0 || Math.max(positive, negative) <= MIN_VOLT) return false;
      if (rises > MIN_SOC && falls > MIN_SOC) return true;
      // what flows in the dark is given by the battery, so that light must lessen it
      const side = positive > 0 ? 1 : -1;
      if (dark >= MIN_SUN && Math.abs(darkSum) > 0.05 * dark && sunny >= MIN_SUN)
        return side * lightSum >= MIXED * lightAll && lightAll > 0;
      // a flow lifts the voltage or lowers it, not one above the middle and the other below
      const [low, high] = halves;
      const isMixed = ({ sum, all, count }: VoltHalf) => count >= MIN_VOLT && Math.abs(sum) >= MIXED * all;
      return isMixed(low) && isMixed(high) && low.sum * high.sum < 0;
    },
    socAgreement: () => (windows >= MIN_WINDOWS_TO_DENY ? (1 + Math.abs(counted) / countedAll) / 2 : Number.NaN),
    isFlowing: () => positive + negative > 0,
    counterAh: () => (column === 'current' && windows >= MIN_WINDOWS ? Math.abs(counted) / squares : Number.NaN),
  };
}
