import { DAY_MS, HOUR_MS } from '../../math/index.js';
import { advice, advised, option } from '../../message/index.js';
import { ConfigError, type ConfigIssue } from '../../rig/index.js';
import { createLineCells } from '../cells/line-cells.js';
import { judgeHarvestHours } from '../clock/harvest-hours.js';
import { createHeldCells } from '../clock/held-cells.js';
import { type LogZone, zoneOfLog } from '../clock/log-zone.js';
import { BUDDHIST_YEARS, createStampReader, settleOrder } from '../clock/stamp-reader.js';
import { createTimeOrder } from '../clock/time-order.js';
import { createTwelveHours } from '../clock/twelve-hours.js';
import { createZoneClock } from '../clock/zone-clock.js';
import { type Contradiction, createAgreement } from '../columns/agreement.js';
import { type Counter, type CounterOf, createCounterCheck } from '../columns/counters.js';
import type { LogUnit } from '../columns/heading-wording.js';
import { type LogLayout, layoutOfLog } from '../columns/log-layout.js';
import { deviceColumn, isOtherHeadings, isWide, type Refuse, refuseWideRows } from '../columns/other-tables.js';
import { type Resolved, resolveColumns } from '../columns/resolve-columns.js';
import { type Rhythm, rhythmOf } from '../columns/rhythm.js';
import { createSignedRows } from '../columns/signed-rows.js';
import { createSurvey, holdsOf } from '../columns/survey.js';
import type { LogNote } from '../note.js';
import {
  type CellReason,
  type ColumnFound,
  type LogColumnName,
  type LogOptions,
  type LogReading,
  type LogRow,
  type ReasonCode,
  TIDY_HEADINGS,
} from '../types.js';
import { createDailyPicture } from './daily-summary.js';
import { type Flows, flowsOf } from './flows.js';
import { createTally, REASONS } from './reasons.js';
import { type CellColumn, createRowReader } from './row-reader.js';
import { shortfallOf } from './shortfall.js';
import { createSpikeFilter } from './spikes.js';

/** The code of the error that says that the rows must be sorted. */
export const UNSORTED = 'log_unsorted';

/** Between them are the characters of ASCII that are seen. */
const SPACE = 32;
const DELETE = 127;
/** Rows that the stages before and after may still look at once a row has gone out. */
const LOOKED_BACK = 8;
/** Rows looked at for their direction and rhythm, and lines after which no more light is waited for. */
const RHYTHM_ROWS = 5000;
const MAX_DARK_LINES = 20_000;
const FEWEST_LIT = 24;
/** Share of rows that go back in time from which all are sorted; share that found no room from which reading begins anew. */
const UNSORTED_SHARE = 0.05;
const UNPLACED_SHARE = 0.05;
const FEWEST_UNPLACED = 10;
/** Parts of a log in the wrong order lie no further apart than this: beyond it a clock was set. */
const MAX_APART_MS = 31 * DAY_MS;
/** Share of rows with the time of another and other values from which they are not of one device. */
const SAME_TIME_SHARE = 0.1;
const UNDATED_LOOKED_AT = 1000;

export interface LogBody {
  readonly layout: LogLayout;
  line(text: string, line: number): void;
  end(): LogReading;
}

/** What the sample is of the log: a beginning, so much that no more is waited for, or all of it. */
export type SampleSeen = 'part' | 'enough' | 'all';

/** What reads the rows below the headings; undefined when the sample leaves open what more rows may settle. */
export function createLogBody(
  sample: readonly { readonly line: string; readonly number: number }[],
  seen: SampleSeen,
  options: LogOptions,
  refuse: Refuse,
): LogBody | undefined {
  const { file = 'log', at, onRow, onAccount } = options;
  const layout = layoutOfLog(
    sample.map(({ line }) => line),
    file,
    options,
  );
  const { time, date } = layout;
  const stampColumn = date ?? time;
  const isWhole = seen !== 'part';
  let rows = sample.slice(layout.firstLine).flatMap(({ line }) => (line === '' ? [] : [line]));
  const cells = createLineCells(layout.delimiter, layout.decimalMark);
  refuseWideRows(rows, layout, refuse);
  const settled = settleOrder(
    rows.map((line) => {
      cells.cut(line);
      return cells.text(stampColumn);
    }),
  );
  const isSettled = options.dateOrder !== undefined || settled.isSettled;
  if (!isSettled && !isWhole) return undefined;
  if (!isSettled)
    refuse('log_date_order', 'the dates can be read day first or month first, and nothing tells which', {
      line: layout.firstLine + 1,
      ...advised(advice`${option('dateOrder', 'dmy')}, mdy or ymd settles it`),
    });
  const dateOrder = options.dateOrder ?? settled.order;

  const stamps = createStampReader(dateOrder, options.calendar);
  const stampOf = () =>
    date === undefined ? stamps.read(cells.text(time)) : stamps.readPair(cells.text(date), cells.text(time));
  const stampIn = (line: string) => {
    cells.cut(line);
    return stampOf();
  };
  const { newestFirst, isUnordered, areUtc, middleMs, ...first } = stepsOf(rows, stampIn, stamps);
  refuseFuture(middleMs, options, refuse, layout.firstLine + 1);
  const isSorting = options.sort === true || (isUnordered && !newestFirst);
  // rows that are picked from a log without order are not as far apart as those of the log
  if (isSorting && seen !== 'all') return undefined;
  if (isSorting) rows = inOrder(rows, stampIn).slice(0, MAX_DARK_LINES);
  const rowRhythm = isSorting ? stepsOf(rows, stampIn, stamps).rhythm : first.rhythm;

  const survey = createSurvey(layout, rows, cells, stampOf);
  const light = layout.columns.find(({ role }) => role === 'solarPower' || role === 'solarCurrent');
  const isDark = light !== undefined && survey.of(light).filter((value) => Math.abs(value) > 0).length < FEWEST_LIT;
  if (isDark && !isWhole && rows.length < MAX_DARK_LINES) return undefined;
  const device = deviceColumn(rows, layout, cells);
  if (device !== undefined)
    refuse(
      'log_devices',
      `rows of several devices share the columns: "${layout.headings[device.index]}" names them (${device.names.join(', ')})`,
      {
        line: layout.firstLine + 1,
        hint: 'export each device to a file of its own, or each value to a column of its own',
      },
    );
  const issues: ConfigIssue[] = [];
  const resolved = resolveColumns(layout, survey, options, (code, message, help) =>
    issues.push({ code, path: '', file, line: layout.firstLine, message, ...advised(help) }),
  );
  if (resolved.columns.length === 0 && issues.length === 0)
    issues.push({
      code: 'log_no_column',
      path: '',
      file,
      line: layout.firstLine,
      message: 'no column shows both directions of the battery',
      ...advised(advice`name one: ${option('columns', 'current', 'HEADING')}`),
    });
  if (issues.length > 0) throw new ConfigError(issues);

  const logZone = zoneOfLog(layout, options, areUtc);
  const clock = createZoneClock(logZone.clock);
  const names = resolved.columns.map(({ role }) => role);
  const cellColumns = cellColumnsOf(resolved, layout);
  const isPlain = cellColumns.length === names.length;
  options.onColumns?.(names);
  const tally = createTally();
  const counts = { read: 0, kept: 0, corrected: 0, rejected: 0 };
  const account = (code: ReasonCode, row: Pick<LogRow, 'line' | 'text'>) => {
    const outcome = REASONS[code];
    counts[outcome]++;
    tally.add(code, row.line);
    onAccount?.({ line: row.line, outcome, code, text: row.text });
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
  const freshRow = (): LogRow => {
    const used = free.pop();
    if (used !== undefined) return used;
    const own = new Float64Array(cellColumns.length);
    const values = isPlain ? own : new Float64Array(names.length);
    return { line: 0, timeMs: 0, cells: own, values, corrected: undefined, text: '' };
  };

  const { holdMs: holds, deviceMs } = holdsOf(cellColumns, survey);
  const rhythm: Rhythm = deviceMs === undefined ? rowRhythm : { usualMs: deviceMs, holdMs: 3 * deviceMs };
  const picture = createDailyPicture(names, logZone.civil, rhythm, resolved.solarSide, at);
  const agreement = createAgreement(names, resolved.solarSide);
  const flows = flowsOf(names, resolved.solarSide);
  const counterAt = cellColumns.length - layout.counters.length;
  const counted =
    layout.counters.length > 0
      ? createCounterCheck(
          layout.counters.map((counter, k) => ({ counter, cell: counterAt + k })),
          (counter, values) => flowCounted(flows, counter, values),
          rhythm.holdMs ?? 3 * rhythm.usualMs,
        )
      : undefined;
  const headed = (role: 'current' | 'power') => resolved.columns.find((one) => one.role === role)?.outward ?? false;
  const isKnown = (role: 'current' | 'power') => {
    const one = resolved.columns.find((column) => column.role === role);
    return one !== undefined && (one.isSplit || layout.headings[one.parts[0]!.index] === TIDY_HEADINGS[role]);
  };
  const signs = createSignedRows(
    names,
    options.positive,
    { current: headed('current'), power: headed('power') },
    isKnown('current') || (!names.includes('current') && isKnown('power')),
    (row, counterAh) => {
      if (row.corrected === undefined) counts.kept++;
      else account(row.corrected, row);
      agreement.add(row.values);
      counted?.add(row.timeMs, row.values, row.cells);
      picture.add(row, counterAh);
      onRow?.(row);
      retire(row);
    },
  );
  const spikes = createSpikeFilter(names);
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
  const held = holds.some((ms) => ms > 0) ? createHeldCells(holds) : undefined;
  const writesChanges = held !== undefined && deviceMs === undefined;
  const combine = combiner(resolved, cellColumns);
  const order = createTimeOrder(
    rowRhythm.usualMs,
    (row) => {
      held?.fill(row.timeMs, row.cells);
      if (!isPlain) combine(row);
      check(row);
    },
    (row, code) => account(code, row),
  );
  const cellsReader = createRowReader(cellColumns, layout.decimalMark);
  const twelve = createTwelveHours();
  const heading = layout.headingCells[time]!;
  const width = layout.headings.length;
  let undated = 0;

  const read = (text: string, line: number) => {
    counts.read++;
    cells.cut(text);
    const localMs = stampOf();
    if (!(Math.abs(localMs) < 8e15)) {
      const isBlank = cells.isBlank();
      if (!isBlank && undated++ < UNDATED_LOOKED_AT && isOtherHeadings(cells, layout))
        refuse('log_two_tables', 'here begins a second table with other headings', {
          line,
          hint: 'make a file of each table, or one table with a column for each value',
        });
      const isHeading = !isBlank && cells.text(time) === heading.trim();
      account(isBlank ? 'blank' : isHeading ? 'headings again' : 'no date', { line, text });
      return;
    }
    if (!stamps.isUtc) twelve.see(localMs);
    if (cells.count > width && isWide(cells, width)) {
      account('too wide', { line, text });
      return;
    }
    const timeMs = stamps.isUtc ? localMs : clock.toUtc(localMs, order.newestMs);
    const row = freshRow();
    const { hasValue: isFilled, corrected } = cellsReader.read(cells, row.cells);
    // where only what changes is written, an empty row says that nothing has
    if (!isFilled && !writesChanges) {
      account('no value', { line, text });
      return;
    }
    row.line = line;
    row.timeMs = timeMs;
    row.corrected = corrected;
    row.text = text;
    if (!stamps.isUtc && clock.isSkipped) row.corrected ??= 'skipped hour';
    order.push(row);
  };

  const waiting: { text: string; line: number; ms: number }[] = [];
  return {
    layout,
    line(text: string, line: number): void {
      const first = text.charCodeAt(0);
      if (!(first > SPACE && first < DELETE) && text.trim() === '') return;
      if (isSorting) {
        cells.cut(text);
        const ms = stampOf();
        waiting.push({ text, line, ms: Number.isNaN(ms) ? Infinity : ms });
      } else if (newestFirst) waiting.push({ text, line, ms: 0 });
      else read(text, line);
    },
    end(): LogReading {
      if (isSorting) waiting.sort((a, b) => (a.ms < b.ms ? -1 : a.ms > b.ms ? 1 : 0));
      else waiting.reverse();
      for (const { text, line } of waiting) read(text, line);
      order.end();
      check(undefined);
      check(undefined);
      const sign = signs.end();
      const summary = picture.end();
      const reasons = tally.list();
      const accepted = counts.kept + counts.corrected;
      if (counts.read === 0)
        refuse('log_no_rows', 'there are headings, but no row below them', { line: layout.firstLine });
      const countOf = (code: ReasonCode) => reasons.find((one) => one.code === code)?.count ?? 0;
      const clashes = countOf('same time');
      if (twelve.isHalf() && clashes + countOf('duplicate') + countOf('covered') > SAME_TIME_SHARE * counts.read)
        refuse(
          'log_twelve_hours',
          'the times run from 1 to 12 twice a day, with no am or pm: half of the rows cannot be placed',
          {
            line: layout.firstLine + 1,
            hint: 'export with 24 hours, or with am and pm',
          },
        );
      const { unplaced, beforeFirst } = order;
      const isNear = !(beforeFirst.firstMs - beforeFirst.lastMs > MAX_APART_MS) || beforeFirst.lastMs === -Infinity;
      if (!isSorting && unplaced > Math.max(FEWEST_UNPLACED, UNPLACED_SHARE * counts.read) && isNear)
        refuse(UNSORTED, `${unplaced} rows come after rows of later times`, {
          line: layout.firstLine + 1,
          ...advised(advice`${option('sort')} keeps all rows in memory and sorts them`),
        });
      if (clashes > SAME_TIME_SHARE * counts.read)
        refuse(
          'log_same_time',
          `${clashes} of ${counts.read} rows have the time of another row, with other values: more than one device, or a clock that repeats hours`,
          {
            line: reasons.find(({ code }) => code === 'same time')!.firstLine,
            hint: 'export each device to a file of its own, or times with their offset from UTC',
          },
        );
      if (accepted < 2)
        refuse(
          'log_no_rows',
          noRows(
            counts.read,
            accepted,
            reasons.map(({ code, count }) => `${count}: ${code}`),
          ),
          {
            line: layout.firstLine + 1,
            hint: `read as: time in "${layout.headings[time]}", ${resolved.columns.map((one) => `${one.role} in ${headingOf(one.parts, layout)}`).join(', ')}`,
          },
        );
      const contradictions = [
        ...signIssues(sign),
        ...agreement.end((role) => headingOf(resolved.columns.find((one) => one.role === role)!.parts, layout)),
        ...(counted?.end(
          (index) => layout.headings[index]!,
          (of) => {
            const role = COUNTED_ROLES[of].find((one) => names.includes(one));
            return (
              role && { role, headings: headingOf(resolved.columns.find((one) => one.role === role)!.parts, layout) }
            );
          },
        ) ?? []),
      ];
      if (contradictions.length > 0)
        throw new ConfigError(
          contradictions.map(({ code, message, help }) => ({
            code,
            path: '',
            file,
            line: layout.firstLine,
            message,
            ...advised(help),
          })),
        );
      const harvest = judgeHarvestHours(
        summary.harvest,
        logZone,
        Math.round((summary.firstMs + summary.lastMs) / 2),
        at,
      );
      const warnings = [
        ...layout.notes,
        ...resolved.notes,
        ...warningsOf(
          logZone,
          {
            newestFirst,
            isSorting,
            rhythm: rowRhythm,
            isDevices: deviceMs !== undefined,
            sparse: cellColumns
              .filter((_, k) => holds[k]! > 0 && cellsReader.unused[k]!.empty > 0)
              .map(({ index }) => layout.headings[index]!),
          },
          sign,
        ),
        ...(harvest.warning ? [harvest.warning] : []),
      ];
      const { picture: whole, daily, gaps, gapCount, gapHours, socResets } = summary;
      const columns = columnsFound(resolved, cellColumns, cellsReader.unused, spikes.counts, layout);
      const shortfall = shortfallOf({
        counts,
        reasons,
        columns,
        unplaced,
        gapHours,
        spanHours: (summary.lastMs - summary.firstMs) / HOUR_MS,
      });
      return {
        rows: { ...counts },
        reasons,
        columns,
        ...(resolved.solarSide && { solarSide: resolved.solarSide }),
        ...(shortfall && { shortfall }),
        time: {
          headings: (date === undefined ? [time] : [date, time]).map((k) => layout.headings[k]!),
          zone: logZone.civil,
          zoneBy: logZone.by,
          dateOrder,
          dateOrderBy: options.dateOrder ? 'option' : 'dates',
          newestFirst,
          sorted: isSorting,
          stepH: picture.step.usualMs / HOUR_MS,
          ...(rhythm.holdMs !== undefined && { holdH: rhythm.holdMs / HOUR_MS }),
        },
        unused: layout.unused,
        delimiter: layout.delimiter,
        decimalMark: layout.decimalMark,
        ...(sign.sign && { currentSign: sign.sign }),
        span: {
          from: iso(summary.firstMs),
          to: iso(summary.lastMs),
          days: (summary.lastMs - summary.firstMs) / DAY_MS,
        },
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

const COUNTED: LogUnit = { text: '', times: 1, per: 1, plus: 0 };

/** First the one or the first column of each value, in the order of the values, then the others, and the counters last. */
function cellColumnsOf({ columns }: Resolved, { counters }: LogLayout): CellColumn[] {
  const first = columns.map(({ role, parts }) => ({ role, ...parts[0]! }));
  const counted = counters.map(({ index }): CellColumn => {
    return { role: 'counter', index, unit: COUNTED, isNamed: true, factor: 1 };
  });
  return [
    ...first,
    ...columns.flatMap(({ role, parts }) => parts.slice(1).map((part) => ({ role, ...part }))),
    ...counted,
  ];
}

/** What counters are held against, the first that is there. */
const COUNTED_ROLES: Readonly<Record<CounterOf, readonly LogColumnName[]>> = {
  harvest: ['solarPower', 'solarCurrent'],
  load: ['loadPower', 'loadCurrent'],
  charged: ['current', 'power'],
  discharged: ['current', 'power'],
  net: ['current', 'power'],
};

/** The flow of a row in the counter's unit [A], [W]. */
function flowCounted(flows: Flows, { of, in: unit }: Counter, values: Float64Array): number {
  if (of === 'harvest') return flows.harvestW(values);
  if (of === 'load') return flows.loadW(values);
  const flow = unit === 'Ah' ? flows.batteryA(values) : flows.batteryW(values);
  return of === 'net' ? flow : of === 'charged' ? Math.max(0, flow) : Math.max(0, -flow);
}

/** Adds up the values that have more than one column. */
function combiner({ columns }: Resolved, cellColumns: readonly CellColumn[]) {
  const at = columns.map(({ role }) => cellColumns.flatMap((one, k) => (one.role === role ? [k] : [])));
  return ({ cells, values }: LogRow) => {
    for (let k = 0; k < at.length; k++) {
      const parts = at[k]!;
      let [sum, filled] = [0, 0];
      for (let p = 0; p < parts.length; p++) {
        const cell = cells[parts[p]!]!;
        if (Number.isNaN(cell)) continue;
        sum += cell;
        filled++;
      }
      values[k] = filled === parts.length || (columns[k]!.isSplit && filled > 0) ? sum : Number.NaN;
    }
  };
}

const headingOf = (parts: readonly { readonly index: number }[], layout: LogLayout) =>
  parts.map(({ index }) => `"${layout.headings[index]}"`).join(' + ');

function columnsFound(
  { columns }: Resolved,
  cellColumns: readonly CellColumn[],
  unused: readonly Readonly<Record<CellReason, number>>[],
  spikes: Uint32Array,
  layout: LogLayout,
): LogReading['columns'] {
  return Object.fromEntries(
    columns.map(({ role, parts, by }, at): [LogColumnName, ColumnFound] => {
      const counts: Partial<Record<CellReason, number>> = spikes[at]! > 0 ? { spike: spikes[at]! } : {};
      cellColumns.forEach((one, k) => {
        if (one.role !== role) return;
        for (const [reason, count] of Object.entries(unused[k]!) as [CellReason, number][])
          if (count > 0) counts[reason] = (counts[reason] ?? 0) + count;
      });
      return [
        role,
        {
          heading: parts.map(({ index }) => layout.headings[index]!).join(' + '),
          column: parts[0]!.index + 1,
          unit: parts[0]!.unit.text,
          tidy: TIDY_HEADINGS[role],
          by,
          ...(Object.keys(counts).length > 0 && { unused: counts }),
        },
      ];
    }),
  );
}

function hasValue(values: Float64Array): boolean {
  for (let k = 0; k < values.length; k++) if (!Number.isNaN(values[k]!)) return true;
  return false;
}

function inOrder(rows: readonly string[], stampOf: (line: string) => number): string[] {
  return rows
    .map((line) => ({ line, ms: stampOf(line) || Number.POSITIVE_INFINITY }))
    .sort((a, b) => (a.ms < b.ms ? -1 : a.ms > b.ms ? 1 : 0))
    .map(({ line }) => line);
}

/** Direction, rhythm and kind of the stamps of a sample. */
function stepsOf(
  rows: readonly string[],
  stampOf: (line: string) => number,
  stamps: { readonly isUtc: boolean },
): { newestFirst: boolean; isUnordered: boolean; rhythm: Rhythm; areUtc: boolean; middleMs: number } {
  const times: number[] = [];
  let [forward, back, utc] = [0, 0, 0];
  let last = Number.NaN;
  for (const line of rows.slice(0, RHYTHM_ROWS)) {
    const ms = stampOf(line);
    if (Number.isNaN(ms)) continue;
    if (stamps.isUtc) utc++;
    if (ms > last) forward++;
    else if (ms < last) back++;
    times.push(ms);
    last = ms;
  }
  const sorted = [...new Set(times)].sort((a, b) => a - b);
  return {
    newestFirst: back > 2 && back > 4 * forward,
    isUnordered: back > FEWEST_UNPLACED && back > UNSORTED_SHARE * times.length,
    rhythm: rhythmOf(sorted.slice(1).map((ms, i) => ms - sorted[i]!)),
    areUtc: times.length > 0 && utc > times.length / 2,
    middleMs: sorted[sorted.length >> 1] ?? Number.NaN,
  };
}

/** A log of tomorrow and later has its years from another calendar, or a clock that was wrong. */
function refuseFuture(middleMs: number, { todayMs, calendar }: LogOptions, refuse: Refuse, line: number): void {
  if (todayMs === undefined || !(middleMs > todayMs + 1.5 * DAY_MS) || calendar === 'gregorian') return;
  const year = new Date(middleMs).getUTCFullYear();
  const buddhist = year - BUDDHIST_YEARS;
  const isBuddhist = buddhist > 2000 && buddhist <= new Date(todayMs).getUTCFullYear();
  refuse(
    'log_future',
    `the dates lie in the future: the year ${year}${isBuddhist ? ` is ${buddhist} where years are counted by the Buddhist calendar` : ''}`,
    {
      line,
      ...advised(
        advice`${isBuddhist ? advice`${option('calendar', 'buddhist')} reads them so; ` : ''}${option('calendar', 'gregorian')} takes them as they stand; ${option('dateOrder')}, where day, month and year change places`,
      ),
    },
  );
}

function noRows(read: number, accepted: number, reasons: readonly string[]): string {
  const why = reasons.length > 0 ? ` (${reasons.slice(0, 3).join('; ')})` : '';
  if (read === 1 && accepted === 1) return 'one row is no log: it needs at least two';
  return `of ${read} rows ${accepted === 0 ? 'none' : 'only one'} can be used${why}`;
}

type SignOutcome = ReturnType<ReturnType<typeof createSignedRows>['end']>;

/** A direction that nothing tells, or that the rows contradict, is asked about: nothing that goes in or out could be said. */
function signIssues(sign: SignOutcome): Contradiction[] {
  const { column } = sign;
  if (column === undefined || sign.sign === undefined) return [];
  const leavesOut = advice`${option('ignore')} leaves the ${column} out`;
  const help = advice`${option('positive', 'charging')} or ${option('positive', 'discharging')} settles it; ${leavesOut}`;
  if (sign.isUnsigned)
    return [
      {
        code: 'log_unsigned',
        message: `the ${column} never changes its sign, though the battery is both charged and discharged: what goes in and out cannot be told apart`,
        help: advice`${leavesOut}; another export may have it with its sign`,
      },
    ];
  if (sign.sign.by === 'assumed' && sign.isFlowing)
    return [{ code: 'log_sign', message: `nothing in the rows tells what a positive ${column} means`, help }];
  if (sign.isDoubtful && sign.sign.by !== 'option')
    return [
      {
        code: 'log_sign',
        message: `a positive ${column} is ${sign.sign.positive} by the first rows (${sign.sign.by}), but the whole log tells otherwise`,
        help,
      },
    ];
  if (sign.socAgreement < SOC_AGREES)
    return [
      {
        code: 'log_contradiction',
        message: `the state of charge contradicts the ${column}: it rises about as often while charge goes out as while it goes in`,
        help: advice`${option('columns', 'soc', 'HEADING')} names another, ${option('ignore')} leaves one of them out`,
      },
    ];
  return [];
}

/** Of windows in which the state of charge changes by a twentieth, so many (weighed) go the way of the charge. */
const SOC_AGREES = 0.7;

function warningsOf(
  zone: LogZone,
  {
    newestFirst,
    isSorting,
    rhythm,
    isDevices,
    sparse,
  }: { newestFirst: boolean; isSorting: boolean; rhythm: Rhythm; isDevices: boolean; sparse: readonly string[] },
  sign: SignOutcome,
): LogNote[] {
  return [
    ...(zone.by === 'assumed' ? [{ code: 'log_zone', args: {} } as const] : []),
    ...(newestFirst && !isSorting ? [{ code: 'log_newest_first', args: {} } as const] : []),
    ...(isSorting ? [{ code: 'log_sorted', args: {} } as const] : []),
    ...(sparse.length > 0
      ? [{ code: 'log_held', args: { headings: sparse, by: isDevices ? 'devices' : 'change' } } as const]
      : []),
    ...(rhythm.holdMs !== undefined && !isDevices
      ? [{ code: 'log_on_change', args: { holdH: rhythm.holdMs / HOUR_MS } } as const]
      : []),
    ...(sign.column && sign.isDoubtful && sign.sign?.by === 'option'
      ? [{ code: 'log_sign', args: { column: sign.column, positive: sign.sign.positive } } as const]
      : []),
  ];
}

const iso = (ms: number) => new Date(ms).toISOString().replace('.000Z', 'Z');
