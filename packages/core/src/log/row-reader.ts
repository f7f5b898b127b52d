import { CELL_TEXT, createCellReader } from './cell-number.js';
import type { LogLayout } from './log-layout.js';
import { LIMITS } from './spikes.js';
import type { LogColumnName, ReasonCode } from './types.js';

/** Values that overflow or absent sensors leave, at any scale of ten. Common practice, no source. */
const CODES: ReadonlySet<number> = new Set([65535, 6553.5, 655.35, 65.535, 2147483647, -2147483648, 9999, -9999, -999]);
/** The sensor's own zero: solar power and current this little below nothing are nothing. */
const ZERO_BAND: Readonly<Partial<Record<LogColumnName, number>>> = {
  solarPower: 10,
  solarCurrent: 0.5,
  irradiance: 20,
};
/** Units written in a cell beside its number: how often they go into V, A, W. */
const CELL_UNITS: Readonly<Record<string, number>> = { mv: 1000, ma: 1000, kw: 0.001 };

/** Reads the measured cells of a row into the units of the tidy log. */
export function createRowReader(layout: LogLayout) {
  const cell = createCellReader(layout.decimalMark);
  const { columns } = layout;
  const count = columns.length;
  const last = columns.reduce((most, { index }) => Math.max(most, index), 0);
  const result = { hasValue: false, mended: undefined as ReasonCode | undefined };
  return {
    /** @param values receives one value a column, NaN where there is none */
    read(cells: readonly string[], values: Float64Array): typeof result {
      result.hasValue = false;
      const isCut = cells.length <= last;
      result.mended = isCut ? 'cut short' : undefined;
      for (let k = 0; k < count; k++) {
        const { index, unit, role } = columns[k]!;
        // of a row that is cut short the last cell may be half of what it was
        const text = isCut && index === cells.length - 1 ? undefined : cells[index];
        let value = Number.NaN;
        if (text !== undefined) {
          value = cell.read(text);
          if (cell.kind === CELL_TEXT) result.mended = 'text in a number cell';
          else if (!Number.isNaN(value)) {
            const isCode = CODES.has(value);
            if (cell.suffix !== '' && CELL_UNITS[cell.suffix] !== undefined) value /= CELL_UNITS[cell.suffix]!;
            else if (unit.per !== 1 || unit.times !== 1 || unit.plus !== 0)
              value = (value * unit.times) / unit.per + unit.plus;
            const [low, high] = LIMITS[role];
            const zero = ZERO_BAND[role];
            if (isCode || !(value >= low && value <= high)) {
              value = Number.NaN;
              result.mended ??= 'impossible value';
            } else if (zero !== undefined && value < 0 && value >= -zero) value = 0;
            else if (role === 'soc') value = value > 1 ? 1 : value < 0 ? 0 : value;
            if (!Number.isNaN(value)) result.hasValue = true;
          }
        }
        values[k] = value;
      }
      return result;
    },
  };
}
