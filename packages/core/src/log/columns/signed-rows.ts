import type { LogColumnName, LogRow, SignFound } from '../types.js';
import { createSignEvidence } from './current-sign.js';

/** Rows held until the direction of the current is clear; beyond the most it is decided by what is there. */
const MIN_HELD = 4000;
const MAX_HELD = 50_000;

/**
 * Turns battery current and power positive into the battery; `isCharging` = the columns themselves say that it is so. The direction is worked out from the first rows and checked on
 * all of them. Rows go on to `next` with the charge that goes with a whole turn of the state of charge, as far as known.
 */
export function createSignedRows(
  columns: readonly LogColumnName[],
  chosen: 'charging' | 'discharging' | undefined,
  outwardHeading: { readonly current: boolean; readonly power: boolean },
  isCharging: boolean,
  next: (row: LogRow, counterAh: number) => void,
) {
  const signed = (['current', 'power'] as const).filter((name) => columns.includes(name));
  const main = signed[0];
  const at = signed.map((name) => columns.indexOf(name));
  const early = signed.map((name) => createSignEvidence(columns, name));
  const late = main === undefined ? undefined : createSignEvidence(columns, main);
  let held: LogRow[] | undefined = main === undefined ? undefined : [];
  let before: LogRow | undefined;
  let found: SignFound | undefined;
  const turned = signed.map(() => false);

  const pass = (row: LogRow) => {
    for (let k = 0; k < at.length; k++) {
      const value = row.values[at[k]!]!;
      if (turned[k] && value !== 0) row.values[at[k]!] = -value;
    }
    if (late !== undefined && before !== undefined) late.observe(before, row);
    before = row;
    next(row, late?.counterAh() ?? Number.NaN);
  };
  const decide = () => {
    const rows = held!;
    held = undefined;
    found = chosen
      ? { positive: chosen, by: 'option' }
      : isCharging
        ? { positive: 'charging', by: 'heading' }
        : (early[0]!.verdict() ??
          (outwardHeading[main!]
            ? { positive: 'discharging', by: 'heading' }
            : { positive: 'charging', by: 'assumed' }));
    turned[0] = found.positive === 'discharging';
    if (signed.length === 2) {
      // the two columns tell of one flow: the second is turned to agree with the first
      let product = 0;
      for (const { values } of rows) {
        const one = values[at[0]!]! * values[at[1]!]!;
        if (!Number.isNaN(one)) product += one;
      }
      turned[1] = product < 0 ? !turned[0] : turned[0];
    }
    before = undefined;
    for (const row of rows) pass(row);
  };

  return {
    push(row: LogRow): void {
      if (held === undefined) {
        pass(row);
        return;
      }
      if (before !== undefined) for (const one of early) one.observe(before, row);
      before = row;
      held.push(row);
      if (held.length >= MAX_HELD || (held.length % MIN_HELD === 0 && (chosen || early[0]!.verdict()))) decide();
    },
    end(): {
      sign?: SignFound;
      column?: 'current' | 'power';
      isDoubtful: boolean;
      isUnsigned: boolean;
      /** see `SignEvidence` */
      socAgreement: number;
      /** anything flows at all */
      isFlowing: boolean;
      counterAh: number;
    } {
      if (held !== undefined) decide();
      const whole = late?.verdict();
      return {
        ...(found && { sign: found }),
        ...(main && { column: main }),
        isDoubtful: whole !== undefined && whole.positive !== 'charging',
        isUnsigned: late?.isUnsigned() ?? false,
        isFlowing: late?.isFlowing() ?? false,
        socAgreement: late?.socAgreement() ?? Number.NaN,
        counterAh: late?.counterAh() ?? Number.NaN,
      };
    },
  };
}
