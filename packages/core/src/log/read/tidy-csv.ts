import { HOUR_MS } from '../../math/index.js';
import { type LogColumnName, type LogRow, TIDY_HEADINGS } from '../types.js';

const TWO = Array.from({ length: 60 }, (_, k) => String(k).padStart(2, '0'));
const THOUSANDTHS = Array.from({ length: 1000 }, (_, k) =>
  k === 0 ? '' : `.${String(k).padStart(3, '0').replace(/0+$/, '')}`,
);

/** Header line of a tidy log, without line end. */
export function tidyHeader(columns: readonly LogColumnName[]): string {
  return `time,${columns.map((name) => TIDY_HEADINGS[name]).join(',')}`;
}

let hourMs = Number.NaN;
let hourText = '';

/** One row of a tidy log, without line end: UTC, empty where nothing was measured, to a millionth. */
export function tidyLine({ timeMs, values }: Pick<LogRow, 'timeMs' | 'values'>): string {
  const hour = Math.floor(timeMs / HOUR_MS) * HOUR_MS;
  if (hour !== hourMs) {
    hourMs = hour;
    hourText = new Date(hour).toISOString().slice(0, 14);
  }
  const seconds = (timeMs - hour) / 1000;
  const whole = Math.floor(seconds);
  let line = `${hourText}${TWO[Math.floor(whole / 60)]}:${TWO[whole % 60]}${whole === seconds ? '' : thousandths(timeMs)}Z`;
  for (let k = 0; k < values.length; k++) line += `,${decimal(values[k]!)}`;
  return line;
}

const thousandths = (timeMs: number) => `.${String(Math.round(timeMs % 1000)).padStart(3, '0')}`;

/** Most readings have three decimals or fewer, and these are written ten times as fast from whole numbers. */
function decimal(value: number): string {
  if (Number.isNaN(value)) return '';
  const size = Math.abs(value);
  const scaled = Math.round(size * 1000);
  if (size < 1e6 && scaled / 1000 === size) {
    const whole = Math.floor(scaled / 1000);
    return `${value < 0 ? '-' : ''}${whole}${THOUSANDTHS[scaled - whole * 1000]}`;
  }
  return String(Math.round(value * 1e6) / 1e6);
}
