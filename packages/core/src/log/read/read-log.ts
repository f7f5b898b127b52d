import { DAY_MS, HOUR_MS } from '../../math/index.js';
import { ConfigError, type ConfigIssue } from '../../rig/index.js';
import { createLineCells } from '../cells/line-cells.js';
import { createLineFeed } from '../cells/line-feed.js';
import { judgeHarvestHours } from '../clock/harvest-hours.js';
import { type LogZone, zoneOfLog } from '../clock/log-zone.js';
import { createStampReader, settleOrder } from '../clock/stamp-reader.js';
import { MAX_STEP_MS } from '../clock/step-length.js';
import { createTimeOrder } from '../clock/time-order.js';
import { createZoneClock, isClockZone } from '../clock/zone-clock.js';
import { type LogLayout, layoutOfLog } from '../columns/log-layout.js';
import { createSignedRows } from '../columns/signed-rows.js';
import {
  type LogOptions,
  type LogReader,
  type LogReading,
  type LogRow,
  type ReasonCode,
  TIDY_HEADINGS,
} from '../types.js';
import { createDailyPicture } from './daily-summary.js';
import { createTally, REASONS } from './reasons.js';
import { createRowReader } from './row-reader.js';
import { createSpikeFilter } from './spikes.js';

/** Lines looked at before reading begins; more, up to the most, while the order of the dates is not settled. */
const SAMPLE_LINES = 1000;
const MAX_SAMPLE_LINES = 200_000;
/** Between them are the characters of ASCII that are seen. */
const SPACE = 32;
const DELETE = 127;
/** Rows that the stages before and after may still look at once a row has gone out. */
const LOOKED_BACK = 8;

/**
 * Reads the log of a battery monitor, pushed in as text of any size: memory stays flat (a log that has its newest row first
 * is the exception: it is kept until its end, and turned). Columns are found by their wording and units; what was understood,
 * guessed, corrected and rejected is in the reading, and every row counts once: read = kept + corrected + rejected.
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
  let body: ReturnType<typeof createLogBody> | undefined;
  let hasText = false;

  const begin = (isWhole: boolean) => {
    const started = createLogBody(sample!, isWhole, options, refuse);
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
      if (sample!.length >= tryAt) begin(sample!.length >= MAX_SAMPLE_LINES);
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
        begin(true);
      }
      return body!.end();
    },
  };
}

/** Reads a whole log at once: see `createLogReader`. */
export function readLog(text: string, options: LogOptions = {}): LogReading {
  const reader = createLogReader(options);
  reader.push(text);
  return reader.end();
}

type Refuse = (code: string, message: string, extra?: Partial<ConfigIssue>) => never;

/** What reads the rows below the headings; undefined when the sample does not settle the order of the dates yet. */
function createLogBody(
  sample: readonly { readonly line: string }[],
  isWhole: boolean,
  options: LogOptions,
  refuse: Refuse,
) {
  const { file = 'log', at, onRow, onAccount } = options;
  const layout = layoutOfLog(
    sample.map(({ line }) => line),
    file,
    options.columns ?? {},
  );
  const stampColumn = layout.date ?? layout.time;
  const rows = sample.slice(layout.firstLine).flatMap(({ line }) => (line === '' ? [] : [line]));
  const cells = createLineCells(layout.delimiter, layout.decimalMark);
  const dateOf = (line: string) => {
    cells.cut(line);
    return cells.text(stampColumn);
  };
  const settled = settleOrder(rows.map(dateOf));
  const isSettled = options.dateOrder !== undefined || settled.isSettled;
  if (!isSettled && !isWhole) return undefined;
  const dateOrder = options.dateOrder ?? settled.order;

  const { time, date } = layout;
  const stamps = createStampReader(dateOrder);
  const stampOf = () =>
    date === undefined ? stamps.read(cells.text(time)) : stamps.readPair(cells.text(date), cells.text(time));
  const { newestFirst, usualMs, areUtc } = stepsOf(
    rows,
    (line) => {
      cells.cut(line);
      return stampOf();
    },
    stamps,
  );
  const logZone = zoneOfLog(layout, options, areUtc);
  const clock = createZoneClock(logZone.clock);

  const columns = layout.columns.map(({ role }) => role);
  options.onColumns?.(columns);
  const tally = createTally();
  const counts = { read: 0, kept: 0, corrected: 0, rejected: 0 };
  const account = (code: ReasonCode, row: Pick<LogRow, 'line' | 'text'>) => {
    const [outcome, reason] = REASONS[code];
    counts[outcome]++;
    tally.add(code, row.line);
    onAccount?.({ line: row.line, outcome, code, reason, text: row.text });
  };
  // Rows are used again once nothing looks back at them: a million new ones would keep the collector busy.
  const free: LogRow[] = [];
  const recent: LogRow[] = [];
  let oldest = 0;
  const retire = (row: LogRow) => {
    const old = recent[oldest];
    recent[oldest] = row;
    oldest = (oldest + 1) % LOOKED_BACK;
    if (old !== undefined) free.push(old);
  };
  const freshRow = (): LogRow =>
    free.pop() ?? { line: 0, timeMs: 0, values: new Float64Array(columns.length), corrected: undefined, text: '' };
  const picture = createDailyPicture(columns, logZone.civil, usualMs, at);
  const headed = (role: 'current' | 'power') => layout.columns.find((one) => one.role === role)?.outward ?? false;
  const signs = createSignedRows(
    columns,
    options.positive,
    { current: headed('current'), power: headed('power') },
    (row, counterAh) => {
      if (row.corrected === undefined) counts.kept++;
      else account(row.corrected, row);
      picture.add(row, counterAh);
      onRow?.(row);
      retire(row);
    },
  );
  const spikes = createSpikeFilter(columns);
  let [earlier, middle]: (LogRow | undefined)[] = [];
  const check = (next: LogRow | undefined) => {
    if (middle !== undefined) {
      if (spikes.check(earlier, middle, next)) middle.corrected ??= 'spike';
      if (hasValue(middle.values)) signs.push(middle);
      else account('no value', middle);
    }
    earlier = middle;
    middle = next;
  };
  const order = createTimeOrder(usualMs, check, (row, code) => account(code, row));
  const cellsReader = createRowReader(layout);
  const heading = layout.headings[time]!;
  const skipped = { code: 'skipped hour' as const };

  const read = (text: string, line: number) => {
    counts.read++;
    cells.cut(text);
    const localMs = stampOf();
    if (!(Math.abs(localMs) < 8e15)) {
      const isBlank = cells.isBlank();
      const isHeading = !isBlank && cells.text(time) === heading.trim();
      const dateText = cells.text(stampColumn);
      if (!isBlank && !isHeading && !isSettled && settleOrder([dateText]).order !== dateOrder)
        refuse(
          'log_date_order',
          `the dates before could be read day first or month first, and were read day first; "${dateText}" is no such date`,
          { line, hint: '--date-order mdy reads the month first' },
        );
      account(isBlank ? 'blank' : isHeading ? 'headings again' : 'no date', { line, text });
      return;
    }
    const timeMs = stamps.isUtc ? localMs : clock.toUtc(localMs, order.newestMs);
    const row = freshRow();
    const { hasValue, corrected } = cellsReader.read(cells, row.values);
    if (!hasValue) {
      account('no value', { line, text });
      return;
    }
    row.line = line;
    row.timeMs = timeMs;
    row.corrected = corrected;
    row.text = text;
    if (!stamps.isUtc && clock.isSkipped) row.corrected ??= skipped.code;
    order.push(row);
  };

  const waiting: { text: string; line: number }[] = [];
  return {
    layout,
    line(text: string, line: number): void {
      const first = text.charCodeAt(0);
      if (!(first > SPACE && first < DELETE) && text.trim() === '') return;
      if (newestFirst) waiting.push({ text, line });
      else read(text, line);
    },
    end(): LogReading {
      for (let i = waiting.length - 1; i >= 0; i--) read(waiting[i]!.text, waiting[i]!.line);
      order.end();
      check(undefined);
      check(undefined);
      const sign = signs.end();
      const told = picture.end();
      const accepted = counts.kept + counts.corrected;
      const reasons = tally.list();
      if (counts.read === 0)
        refuse('log_no_rows', 'there are headings, but no row below them', { line: layout.firstLine });
      if (accepted < 2)
        refuse(
          'log_no_rows',
          noRows(
            counts.read,
            accepted,
            reasons.map(({ text, count }) => `${count}: ${text}`),
          ),
          {
            line: layout.firstLine + 1,
            hint: `read as: time in "${layout.headings[time]}", ${layout.columns.map(({ role, index }) => `${role} in "${layout.headings[index]}"`).join(', ')}`,
          },
        );
      const harvest = judgeHarvestHours(told.harvest, logZone, Math.round((told.firstMs + told.lastMs) / 2), at);
      const warnings = [
        ...warningsOf(layout, logZone, { isSettled, dateOrder, newestFirst }, sign),
        ...(harvest.warning ? [harvest.warning] : []),
      ];
      const { picture: whole, daily, gaps, gapCount, gapHours, socResets } = told;
      return {
        rows: { ...counts },
        reasons,
        columns: Object.fromEntries(
          layout.columns.map(({ role, index, unit, by }) => [
            role,
            { heading: layout.headings[index]!, column: index + 1, unit: unit.text, tidy: TIDY_HEADINGS[role], by },
          ]),
        ),
        time: {
          headings: (date === undefined ? [time] : [date, time]).map((k) => layout.headings[k]!),
          zone: logZone.civil,
          zoneBy: logZone.by,
          dateOrder,
          dateOrderBy: options.dateOrder ? 'option' : isSettled ? 'dates' : 'assumed',
          newestFirst,
          stepH: picture.step.usualMs / HOUR_MS,
        },
        unused: layout.unused,
        delimiter: layout.delimiter,
        decimalMark: layout.decimalMark,
        ...(sign.sign && { currentSign: sign.sign }),
        span: { from: iso(told.firstMs), to: iso(told.lastMs), days: (told.lastMs - told.firstMs) / DAY_MS },
        gaps,
        gapCount,
        gapHours,
        socResets,
        ...(!Number.isNaN(sign.counterAh) && { counterAh: sign.counterAh }),
        ...(harvest.centre && { harvestCentre: harvest.centre }),
        daily,
        picture: whole,
        warnings,
      };
    },
  };
}

function hasValue(values: Float64Array): boolean {
  for (let k = 0; k < values.length; k++) if (!Number.isNaN(values[k]!)) return true;
  return false;
}

/** Direction, usual step and kind of the stamps of a sample. */
function stepsOf(rows: readonly string[], stampOf: (line: string) => number, stamps: { readonly isUtc: boolean }) {
  const steps: number[] = [];
  let [forward, back, utc, dated] = [0, 0, 0, 0];
  let last = Number.NaN;
  for (const line of rows.slice(0, 5000)) {
    const ms = stampOf(line);
    if (Number.isNaN(ms)) continue;
    dated++;
    if (stamps.isUtc) utc++;
    if (ms > last) forward++;
    else if (ms < last) back++;
    if (ms !== last && Math.abs(ms - last) <= MAX_STEP_MS) steps.push(Math.abs(ms - last));
    last = ms;
  }
  steps.sort((a, b) => a - b);
  return {
    newestFirst: back > 2 && back > 4 * forward,
    usualMs: steps[Math.floor(steps.length / 2)] ?? Number.NaN,
    areUtc: dated > 0 && utc > dated / 2,
  };
}

function noRows(read: number, accepted: number, reasons: readonly string[]): string {
  const why = reasons.length > 0 ? ` (${reasons.slice(0, 3).join('; ')})` : '';
  if (read === 1 && accepted === 1) return 'one row is no log: it needs at least two';
  return `of ${read} rows ${accepted === 0 ? 'none' : 'only one'} can be used${why}`;
}

function warningsOf(
  layout: LogLayout,
  zone: LogZone,
  { isSettled, dateOrder, newestFirst }: { isSettled: boolean; dateOrder: string; newestFirst: boolean },
  sign: ReturnType<ReturnType<typeof createSignedRows>['end']>,
) {
  const warnings = [...layout.notes];
  const warn = (code: string, text: string) => warnings.push({ code, text });
  if (!isSettled)
    warn(
      'log_date_order',
      `the dates could be read day first or month first: read as ${dateOrder}; --date-order dmy, mdy or ymd settles it`,
    );
  if (zone.by === 'assumed')
    warn('log_zone', 'nothing says in which time zone the clock ran: taken as UTC; --zone, --at or --place tells it');
  if (newestFirst) warn('log_newest_first', 'the log has its newest row first: it was kept in memory and turned');
  if (sign.sign?.by === 'assumed')
    warn(
      'log_sign',
      `nothing in the rows tells what a positive ${sign.column} means: taken as charging; --positive settles it`,
    );
  if (sign.isDoubtful && sign.sign)
    warn(
      'log_sign',
      `the ${sign.column} was read as positive when ${sign.sign.positive} (${sign.sign.text}), but the whole log tells otherwise; --positive settles it`,
    );
  if (sign.isUnsigned)
    warn(
      'log_unsigned',
      `the ${sign.column} never changes its sign, though the battery is both charged and discharged: what goes in and out cannot be told apart`,
    );
  return warnings;
}

const iso = (ms: number) => new Date(ms).toISOString().replace('.000Z', 'Z');
