import { ConfigError, type ConfigIssue, requireText } from '../../rig/index.js';
import { createLineFeed } from '../cells/line-feed.js';
import { isClockZone } from '../clock/zone-clock.js';
import type { LogOptions, LogReader, LogReading } from '../types.js';
import { createLogBody, type LogBody, type SampleSeen, UNSORTED } from './log-body.js';

/** Lines looked at before reading begins; more, up to the most, while the order of the dates is not settled. */
const SAMPLE_LINES = 1000;
const MAX_SAMPLE_LINES = 200_000;
/**
 * Reads the log of a battery monitor, pushed in as text of any size: memory stays flat (a log that has its newest row first
 * is the exception: it is kept until its end, and turned). Columns are found by their wording and units; what was understood,
 * guessed, corrected and rejected is in the reading, and every row counts once: read = kept + corrected + rejected. What can be
 * read in two ways, or contradicts itself, is an error that names the option that decides.
 * @throws ConfigError for an option that cannot be
 */
export function createLogReader(options: LogOptions = {}): LogReader {
  const { file = 'log', zone, columns: chosen = {} } = options;
  const refuse = (code: string, message: string, extra: Partial<ConfigIssue> = {}): never => {
    throw new ConfigError([{ code, path: '', file, message, ...extra }]);
  };
  if (zone !== undefined && !isClockZone(zone))
    throw new ConfigError([
      {
        code: 'log_zone',
        path: '',
        message: `"${zone}" is not a time zone`,
        hint: 'such as Europe/Lisbon, UTC or UTC+02:00',
      },
    ]);

  let sample: { line: string; number: number }[] | undefined = [];
  let tryAt = SAMPLE_LINES;
  let body: LogBody | undefined;
  let hasText = false;

  const begin = (seen: SampleSeen) => {
    const started = createLogBody(sample!, seen, options, refuse);
    if (started === undefined) {
      tryAt *= 2;
      return;
    }
    body = started;
    const lines = sample!;
    sample = undefined;
    for (const { line, number } of lines.slice(body.layout.firstLine)) body.line(line, number);
  };
  const feed = createLineFeed(
    (line, number) => {
      if (body !== undefined) return body.line(line, number);
      if (line.trim() === '' && sample!.length > 0 && number > 1) {
        sample!.push({ line: '', number });
      } else sample!.push({ line, number });
      if (sample!.length >= tryAt) begin(sample!.length >= MAX_SAMPLE_LINES ? 'enough' : 'part');
    },
    () => refuse('log_not_table', 'this is not a log: it has no line breaks', { line: 1 }),
  );

  return {
    push(chunk) {
      let text = chunk;
      if (!hasText && text.length > 0) {
        hasText = true;
        if (text.charCodeAt(0) === 0xfeff) text = text.slice(1);
        // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what tells binary from text
        if (/[\u0000-\u0008\u000e-\u001f]|\ufffd{3}/.test(text.slice(0, 4096)))
          refuse('log_not_text', 'this is not a log: it is binary, not text', { hint: 'export the log as CSV' });
      }
      feed.push(text);
    },
    end() {
      feed.end();
      if (body === undefined) {
        if (sample!.every(({ line }) => line.trim() === '')) refuse('log_empty', 'the file is empty');
        if (Object.keys(chosen).length === 0 && sample!.length === 1)
          refuse('log_one_line', 'the file has one line only: a log has a row of headings and many rows', { line: 1 });
        begin('all');
      }
      return body!.end();
    },
  };
}

/** Reads a whole log at once: see `createLogReader`. Rows that are out of order are sorted. */
export function readLog(text: string, options: LogOptions = {}): LogReading {
  requireText('readLog', text);
  return sortedIfNeeded(options, (wanted) => {
    const reader = createLogReader(wanted);
    reader.push(text);
    return reader.end();
  });
}

/** Reads once more, sorting, what can only be read so. `read` must begin anew each time. */
export function sortedIfNeeded<T>(options: LogOptions, read: (options: LogOptions) => T): T {
  try {
    return read(options);
  } catch (error) {
    if (!isUnsorted(error)) throw error;
    return read({ ...options, sort: true });
  }
}

/** Whether reading failed because the rows are not in the order of their times: it succeeds with `sort`. */
export const isUnsorted = (error: unknown): boolean =>
  error instanceof ConfigError && error.issues.length === 1 && error.issues[0]!.code === UNSORTED;
