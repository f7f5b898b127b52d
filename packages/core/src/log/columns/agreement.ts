import { type Advice, advice, option } from '../../message/index.js';
import type { LogColumnName } from '../types.js';

/** Sums of two columns that must be alike over a whole log are, when one over the other is within this. Common practice, no source. */
const ALIKE: readonly [number, number] = [0.75, 1.33];
/** What comes out of a controller over what goes in: heat at most, and sensors of 1 to 3 % each. */
const THROUGH: readonly [number, number] = [0.7, 1.15];
/** In the dark, with the battery giving, loads take what it gives and not more than this over it. */
const MAX_LOADS = 1.5;
const FEWEST = 50;
/** The two signs agree when so much of what flows has them alike. */
const SIGN_SHARE = 0.6;

interface Pair {
  readonly of: readonly LogColumnName[];
  readonly limits: readonly [number, number];
  /** both sizes of a row, NaN = not there */
  readonly read: (values: Float64Array) => readonly [number, number];
  readonly says: (ratio: number) => string;
  sumA: number;
  sumB: number;
  rows: number;
}

export interface Contradiction {
  readonly code: string;
  readonly message: string;
  readonly help: Advice;
}

const LEAVE_OUT = advice`${option('ignore', 'HEADING')} leaves one of them out`;
const NOT_BATTERY = advice`, ${option('columns', 'solarPower', 'HEADING')} or ${option('columns', 'loadPower', 'HEADING')} where it is not the battery`;

/** Holds columns that tell of the same thing against each other over all rows. */
export function createAgreement(columns: readonly LogColumnName[], solarSide: 'panel' | 'battery' | undefined) {
  const at = (name: LogColumnName) => columns.indexOf(name);
  const pairs: Pair[] = [];
  const scratch: [number, number] = [0, 0];
  const both = (a: number, b: number): readonly [number, number] => {
    scratch[0] = a;
    scratch[1] = b;
    return scratch;
  };
  const add = (of: readonly LogColumnName[], limits: Pair['limits'], read: Pair['read'], says: Pair['says']) => {
    if (of.every((name) => at(name) >= 0)) pairs.push({ of, limits, read, says, sumA: 0, sumB: 0, rows: 0 });
  };
  const powerOf = (watts: LogColumnName, volts: LogColumnName, amps: LogColumnName, limits: Pair['limits']) => {
    const [w, v, a] = [at(watts), at(volts), at(amps)];
    add(
      [watts, volts, amps],
      limits,
      (values) => both(Math.abs(values[w]!), Math.abs(values[v]! * values[a]!)),
      (ratio) => `over the log it comes to ${ratio.toPrecision(2)} times volts x amps`,
    );
  };
  powerOf('power', 'voltage', 'current', ALIKE);
  powerOf('loadPower', 'voltage', 'loadCurrent', ALIKE);
  powerOf('alternatorPower', 'voltage', 'alternatorCurrent', ALIKE);
  powerOf(
    'solarPower',
    solarSide === 'panel' && at('solarVoltage') >= 0 ? 'solarVoltage' : 'voltage',
    'solarCurrent',
    THROUGH,
  );
  const [load, battery, amps, volts, sun] = [
    at('loadPower'),
    at('power'),
    at('current'),
    at('voltage'),
    at('solarPower'),
  ];
  if (battery >= 0 || volts >= 0)
    add(
      battery >= 0 ? ['loadPower', 'power'] : ['loadPower', 'current', 'voltage'],
      [0, MAX_LOADS],
      (values) => {
        const out = battery >= 0 ? -values[battery]! : -values[amps]! * values[volts]!;
        // of rows where the sun gives, or something unlogged may, nothing follows
        return out > 0 && !(sun >= 0 && values[sun]! > 0) ? both(values[load]!, out) : both(Number.NaN, Number.NaN);
      },
      (ratio) => `in the dark it comes to ${ratio.toPrecision(2)} times what the battery gives`,
    );
  const sign = { product: 0, size: 0, rows: 0 };
  return {
    add(values: Float64Array): void {
      for (let k = 0; k < pairs.length; k++) {
        const pair = pairs[k]!;
        const [a, b] = pair.read(values);
        if (!(a + b > 0)) continue;
        pair.sumA += a;
        pair.sumB += b;
        pair.rows++;
      }
      if (battery >= 0 && amps >= 0) {
        const product = values[battery]! * values[amps]!;
        if (product !== 0 && !Number.isNaN(product)) {
          sign.product += product;
          sign.size += Math.abs(product);
          sign.rows++;
        }
      }
    },
    /** @param headingOf names the columns in messages */
    end(headingOf: (role: LogColumnName) => string): Contradiction[] {
      const found: Contradiction[] = [];
      for (const { of, limits, says, sumA, sumB, rows } of pairs) {
        const ratio = sumA / sumB;
        if (rows < FEWEST || (ratio >= limits[0] && ratio <= limits[1])) continue;
        const others = of.slice(1).map(headingOf).join(' and ');
        found.push({
          code: 'log_contradiction',
          message: `${headingOf(of[0]!)} contradicts ${others}: ${says(ratio)}`,
          help: advice`${option('units', of[0]!, 'UNIT')} or ${option('columns', of[0]!, 'HEADING')} puts it right${of[0] === 'power' ? NOT_BATTERY : ''}; ${LEAVE_OUT}`,
        });
      }
      if (sign.rows >= FEWEST && sign.product < SIGN_SHARE * sign.size)
        found.push({
          code: 'log_contradiction',
          message: `${headingOf('power')} and ${headingOf('current')} go in different directions in many rows: one charges while the other discharges`,
          help: LEAVE_OUT,
        });
      return found;
    },
  };
}
