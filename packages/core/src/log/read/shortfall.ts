import type { LogReading, LogReason, LogShortfall, ReasonCode } from '../types.js';

/** Beyond this share of rows, hours or cells the figures no longer stand for the log. */
const TOLERATED = 0.1;
/** Rows of these tell nothing that is not there already. */
const HARMLESS: ReadonlySet<ReasonCode> = new Set(['blank', 'headings again', 'duplicate', 'covered']);
const HELPS: Readonly<Partial<Record<ReasonCode, string>>> = {
  'no date': '--date-order, or --column time=HEADING where another column holds the time',
  'no value': '--column voltage=HEADING, where other columns hold the values',
  'same time': 'an export of one device, or times with their offset from UTC',
  'too wide': 'an export with semicolons or decimal points',
  covered: '--sort reads rows in any order',
  'clock lost': 'an export that begins after the clock was set',
  'stamp out of line': '--date-order dmy, mdy or ymd',
};
const CELL_HELPS = '--unit WHAT=UNIT, or --column WHAT=HEADING where another column holds it';

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
      text: worst?.text ?? 'their times lie before rows already read',
      hint: HELPS[worst?.code ?? 'covered'] ?? '--rejects FILE lists them',
    },
    {
      of: 'hours',
      share: spanHours > 0 ? gapHours / spanHours : 0,
      text: 'there are no rows for them',
      hint: '--rejects FILE lists rows that were not read, if they are in the file',
    },
    ...Object.entries(columns).map(([role, { heading, unused = {} }]): LogShortfall => {
      const spoilt = (unused.text ?? 0) + (unused.impossible ?? 0) + (unused['cut short'] ?? 0);
      return {
        of: 'cells',
        share: counts.read > 0 ? spoilt / counts.read : 0,
        text: `"${heading}" holds text or values that cannot be`,
        hint: CELL_HELPS.replaceAll('WHAT', role),
      };
    }),
  ];
  const most = all.reduce((a, b) => (b.share > a.share ? b : a));
  return most.share > TOLERATED ? most : undefined;
}
