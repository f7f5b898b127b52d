import { CELL_TEXT, createCellReader } from '../cells/cell-number.js';
import type { LineCells } from '../cells/line-cells.js';
import type { ColumnPart } from '../columns/log-layout.js';
import { COUNTER_LIMITS, LIMITS } from '../columns/value-limits.js';
import type { CellReason, LogColumnName, ReasonCode } from '../types.js';

/** Values that overflow or absent sensors leave, at any scale of ten. Common practice, no source. */
const CODES: ReadonlySet<number> = new Set([65535, 6553.5, 655.35, 65.535, 2147483647, -2147483648]);
/** Values that people write for nothing, where the column's unit leaves no room for them. */
const FILLERS: ReadonlySet<number> = new Set([9999, -9999, -999]);
/** The sensor's own zero: solar power and current this little below nothing are nothing. */
const ZERO_BAND: Readonly<Partial<Record<LogColumnName, number>>> = {
  solarPower: 10,
  solarCurrent: 0.5,
  irradiance: 20,
};
/** Units written in a cell beside its number: how often they go into V, A, W. */
const CELL_UNITS: Readonly<Record<string, number>> = { mv: 1000, ma: 1000, kw: 0.001 };

/** One column of the file that values are made of, as the rows carry it. */
export interface CellColumn extends ColumnPart {
  readonly role: LogColumnName | 'counter';
}

const limitsOf = (role: CellColumn['role']) => (role === 'counter' ? COUNTER_LIMITS : LIMITS[role]);

/** Reads the measured cells of a row into the units of the tidy log. */
export function createRowReader(columns: readonly CellColumn[], decimalMark: '.' | ',') {
  const cell = createCellReader(decimalMark);
  const count = columns.length;
  const last = columns.reduce((most, { index }) => Math.max(most, index), 0);
  const index = Int32Array.from(columns, (one) => one.index);
  const times = Float64Array.from(columns, ({ unit, factor }) => unit.times * factor);
  const per = Float64Array.from(columns, ({ unit }) => unit.per);
  const plus = Float64Array.from(columns, ({ unit }) => unit.plus);
  const low = Float64Array.from(columns, ({ role }) => limitsOf(role)[0]);
  const high = Float64Array.from(columns, ({ role }) => limitsOf(role)[1]);
  const zero = Float64Array.from(columns, ({ role }) => (role === 'counter' ? 0 : (ZERO_BAND[role] ?? 0)));
  const soc = columns.findIndex(({ role }) => role === 'soc');
  const result = { hasValue: false, corrected: undefined as ReasonCode | undefined };
  const unused = columns.map(
    (): Record<CellReason, number> => ({ empty: 0, text: 0, impossible: 0, 'cut short': 0, spike: 0 }),
  );
  return {
    /** cells that were not used, a record a column */
    unused,
    /** @param values receives one value a column, NaN where there is none */
    read(cells: LineCells, values: Float64Array): typeof result {
      result.hasValue = false;
      const isCut = cells.count <= last;
      result.corrected = isCut ? 'cut short' : undefined;
      for (let k = 0; k < count; k++) {
        const at = index[k]!;
        values[k] = Number.NaN;
        // of a row that is cut short the last cell may be half of what it was
        if (at >= cells.count || (isCut && at === cells.count - 1)) {
          unused[k]!['cut short']++;
          continue;
        }
        let value = cells.plainNumber(at);
        let isScaled = false;
        if (Number.isNaN(value)) {
          value = cell.read(cells.text(at));
          if (cell.kind === CELL_TEXT) {
            result.corrected = 'text in a number cell';
            unused[k]!.text++;
          }
          const share = cell.suffix === '' ? undefined : CELL_UNITS[cell.suffix];
          if (share !== undefined) {
            value /= share;
            isScaled = true;
          }
        }
        if (Number.isNaN(value)) {
          if (cell.kind !== CELL_TEXT) unused[k]!.empty++;
          continue;
        }
        const isCode = (value >= 65.535 || value <= -999) && (CODES.has(value) || (per[k] === 1 && FILLERS.has(value)));
        if (!isScaled) value = (value * times[k]!) / per[k]! + plus[k]!;
        else if (times[k]! < 0) value = -value;
        if (isCode || !(value >= low[k]! && value <= high[k]!)) {
          result.corrected ??= 'impossible value';
          unused[k]!.impossible++;
          continue;
        }
        if (value < 0 && value >= -zero[k]!) value = 0;
        else if (k === soc) value = value > 1 ? 1 : value < 0 ? 0 : value;
        values[k] = value;
        result.hasValue = true;
      }
      return result;
    },
  };
}
