import type { LogReason, ReasonCode } from '../types.js';

/** What became of a row, by what was wrong with it. */
export const REASONS: Readonly<Record<ReasonCode, LogReason['outcome']>> = {
  blank: 'rejected',
  'headings again': 'rejected',
  'no date': 'rejected',
  'no value': 'rejected',
  duplicate: 'rejected',
  'same time': 'rejected',
  covered: 'rejected',
  'clock lost': 'rejected',
  'stamp out of line': 'rejected',
  'text in a number cell': 'corrected',
  'impossible value': 'corrected',
  spike: 'corrected',
  'out of order': 'corrected',
  'clock reset': 'corrected',
  'skipped hour': 'corrected',
  'cut short': 'corrected',
  'too wide': 'rejected',
  joined: 'corrected',
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
          outcome: REASONS[code],
          count,
          firstLine,
        }))
        .sort((a, b) => b.count - a.count),
  };
}
