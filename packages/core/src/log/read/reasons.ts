import type { LogReason, ReasonCode } from '../types.js';

/** What was wrong with a row and what became of it, in plain words. */
export const REASONS: Readonly<Record<ReasonCode, readonly [outcome: 'corrected' | 'rejected', text: string]>> = {
  blank: ['rejected', 'every cell is empty'],
  'headings again': ['rejected', 'the headings come again'],
  'no date': ['rejected', 'no date and time can be read'],
  'no value': ['rejected', 'nothing was measured'],
  duplicate: ['rejected', 'the same row was there already'],
  'same time': ['rejected', 'another row has the same time, with other values; the first is kept'],
  covered: ['rejected', 'its time lies before rows already read: a repeated export, or a clock set back'],
  'clock lost': ['rejected', 'the clock had lost the time, and the true time cannot be worked out'],
  'stamp out of line': ['rejected', 'its stamp leaps away and the next comes back'],
  'text in a number cell': ['corrected', 'text where a number should be: that cell is left empty'],
  'impossible value': ['corrected', 'a value that cannot be: that cell is left empty'],
  spike: ['corrected', 'one reading far off both its neighbours: that cell is left empty'],
  'out of order': ['corrected', 'out of order: put in its place'],
  'clock reset': ['corrected', 'the clock had lost the time: moved to end where the clock is right again'],
  'skipped hour': ['corrected', 'a time that daylight saving skips: read as if the clock had not been put forward'],
  'cut short': ['corrected', 'the row is cut short: what is missing is left empty'],
  'too wide': ['rejected', 'it has more cells than there are headings: which is which cannot be told'],
  joined: ['corrected', 'another row of the same time fills other columns: the two are one'],
};

export function createTally() {
  const found = new Map<ReasonCode, { count: number; firstLine: number }>();
  return {
    add(code: ReasonCode, line: number): void {
      const one = found.get(code);
      if (one === undefined) found.set(code, { count: 1, firstLine: line });
      else {
        one.count++;
        if (line < one.firstLine) one.firstLine = line;
      }
    },
    list: (): LogReason[] =>
      [...found]
        .map(([code, { count, firstLine }]) => ({
          code,
          outcome: REASONS[code][0],
          text: REASONS[code][1],
          count,
          firstLine,
        }))
        .sort((a, b) => b.count - a.count),
  };
}
