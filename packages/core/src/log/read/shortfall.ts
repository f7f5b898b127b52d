import { type Advice, advice, option } from '../../message/index.js';
import type { LogReading, LogReason, LogShortfall, ReasonCode } from '../types.js';

/** Beyond this share of rows, hours or cells the figures no longer stand for the log. */
const TOLERATED = 0.1;
/** Rows of these tell nothing that is not there already. */
const HARMLESS: ReadonlySet<ReasonCode> = new Set(['blank', 'headings again', 'duplicate', 'covered']);
const HELPS: Readonly<Partial<Record<ReasonCode, Advice>>> = {
  'no date': advice`${option('dateOrder')}, or ${option('columns', 'time', 'HEADING')} where another column holds the time`,
  'no value': advice`${option('columns', 'voltage', 'HEADING')}, where other columns hold the values`,
  'same time': advice`an export of one device, or times with their offset from UTC`,
  'too wide': advice`an export with semicolons or decimal points`,
  covered: advice`${option('sort')} reads rows in any order`,
  'clock lost': advice`an export that begins after the clock was set`,
  'stamp out of line': advice`${option('dateOrder', 'dmy')}, mdy or ymd`,
};

const helpFor = (code: ReasonCode) => (HELPS[code] ? { advice: HELPS[code] } : {});

/** The largest of what is missing, if it is more than a tenth. */
export function shortfallOf(log: {
  readonly counts: LogReading['rows'];
  readonly reasons: readonly LogReason[];
  readonly columns: LogReading['columns'];
  readonly unplaced: number;
  readonly gapHours: number;
  readonly spanHours: number;
}): LogShortfall | undefined {
  const { counts, reasons, columns, unplaced, gapHours, spanHours } = log;
  const lost = reasons.filter(({ outcome, code }) => outcome === 'rejected' && !HARMLESS.has(code));
  const lostRows = lost.reduce((sum, { count }) => sum + count, 0) + unplaced;
  const worst = unplaced > (lost[0]?.count ?? 0) ? undefined : lost[0];
  const all: LogShortfall[] = [
    {
      of: 'rows',
      share: counts.read > 0 ? lostRows / counts.read : 0,
      reason: worst?.code ?? 'covered',
      ...helpFor(worst?.code ?? 'covered'),
    },
    {
      of: 'hours',
      share: spanHours > 0 ? gapHours / spanHours : 0,
    },
    ...Object.entries(columns).map(([role, { heading, unused = {} }]): LogShortfall => {
      const spoilt = (unused.text ?? 0) + (unused.impossible ?? 0) + (unused['cut short'] ?? 0);
      return {
        of: 'cells',
        share: counts.read > 0 ? spoilt / counts.read : 0,
        heading,
        advice: advice`${option('units', role, 'UNIT')}, or ${option('columns', role, 'HEADING')} where another column holds it`,
      };
    }),
  ];
  const most = all.reduce((a, b) => (b.share > a.share ? b : a));
  return most.share > TOLERATED ? most : undefined;
}
