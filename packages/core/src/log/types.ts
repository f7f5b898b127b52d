import type { Advice } from '../message/index.js';
import type { DateOrder } from '../table/index.js';
import type { LogNote } from './note.js';

/** What a column of a log may hold. Battery current and power are positive into the battery, as everywhere. */
export const LOG_COLUMNS = [
  'voltage',
  'current',
  'power',
  'soc',
  'temperature',
  'solarPower',
  'solarVoltage',
  'solarCurrent',
  'loadPower',
  'loadCurrent',
  'alternatorPower',
  'alternatorCurrent',
  'ambient',
  'cabin',
  'irradiance',
] as const;
/** What the stamp of a row marks: the start or the end of the interval that it is the mean of, or the moment of a reading. */
export type Stamps = 'start' | 'end' | 'instant';
/** What a column of a log can hold. */
export type LogColumnName = (typeof LOG_COLUMNS)[number];

/** Headings of the tidy log: V, A, W, °C, W/m², and the state of charge from 0 to 1. Times are UTC, ISO 8601. */
export const TIDY_HEADINGS: Readonly<Record<LogColumnName, string>> = {
  voltage: 'battery_v',
  current: 'battery_a',
  power: 'battery_w',
  soc: 'soc',
  temperature: 'battery_c',
  solarPower: 'solar_w',
  solarVoltage: 'solar_v',
  solarCurrent: 'solar_a',
  loadPower: 'load_w',
  loadCurrent: 'load_a',
  alternatorPower: 'alternator_w',
  alternatorCurrent: 'alternator_a',
  ambient: 'ambient_c',
  cabin: 'cabin_c',
  irradiance: 'irradiance_w_m2',
};

/** One row of the log, once read. `values` follows the reader's `columns`; NaN = nothing was measured. */
export interface LogRow {
  /** line of the file, from 1 */
  line: number;
  /** UTC [ms] */
  timeMs: number;
  readonly values: Float64Array;
  /** the cells that the values are made of, in the same units; the same array where each value has one column */
  readonly cells: Float64Array;
  /** what was corrected in it; undefined = kept as it stood */
  corrected: ReasonCode | undefined;
  /** the row as it stood in the file */
  text: string;
}

/** What was wrong with a row. */
export type ReasonCode =
  | 'blank'
  | 'headings again'
  | 'no date'
  | 'no value'
  | 'duplicate'
  | 'same time'
  | 'covered'
  | 'clock lost'
  | 'stamp out of line'
  | 'text in a number cell'
  | 'impossible value'
  | 'spike'
  | 'out of order'
  | 'clock reset'
  | 'skipped hour'
  | 'cut short'
  | 'joined'
  | 'too wide';

/** Why rows were corrected or rejected. */
export interface LogReason {
  readonly code: ReasonCode;
  readonly outcome: 'corrected' | 'rejected';
  readonly count: number;
  readonly firstLine: number;
}

/** A row that was not kept as it stood, for the row-by-row account. */
export interface RowAccount {
  readonly line: number;
  readonly outcome: 'corrected' | 'rejected';
  readonly code: ReasonCode;
  /** the row as it stood in the file */
  readonly text: string;
}

/** What the log's text leaves open. */
export interface LogOptions {
  /** name used in messages */
  readonly file?: string;
  /** IANA zone or fixed offset ("+02:00") of the log's clock; absent = the heading's, else the place's, else UTC */
  readonly zone?: string;
  /** where it was logged: gives the zone when nothing else does, and tells night from day */
  readonly at?: { readonly latDeg: number; readonly lonDeg: number };
  readonly dateOrder?: DateOrder;
  /** heading, or number from 1, of a column that wording does not find; keys are `LOG_COLUMNS`, `time` and `date` */
  readonly columns?: Readonly<Record<string, string>>;
  /** what a positive battery current means in the file; absent = worked out from the data */
  readonly positive?: 'charging' | 'discharging';
  /** units of columns whose heading names none, or a wrong one; keys are `LOG_COLUMNS` */
  readonly units?: Readonly<Record<string, string>>;
  /** headings, or numbers from 1, of columns that are not read */
  readonly ignore?: readonly string[];
  /** the side of the controller that a solar current is of; absent = worked out from the data */
  readonly solarSide?: 'panel' | 'battery';
  /** of the years in its dates; absent = gregorian */
  readonly calendar?: 'gregorian' | 'buddhist';
  /** keeps all rows in memory and sorts them by their stamps */
  readonly sort?: boolean;
  /** now, UTC [ms]: a log that lies beyond it is refused; absent = any date is believed */
  readonly todayMs?: number;
  /** called once, before the first row: the columns in the order of a row's values */
  readonly onColumns?: (columns: readonly LogColumnName[]) => void;
  /** called for each row kept or corrected, in time order; the row is used again afterwards: copy what is to last */
  readonly onRow?: (row: LogRow) => void;
  /** called for each row corrected or rejected */
  readonly onAccount?: (account: RowAccount) => void;
}

/** Which column of the file a value was read from, and why that one. */
export interface ColumnFound {
  readonly heading: string;
  /** from 1 */
  readonly column: number;
  /** as the file has it */
  readonly unit: string;
  readonly tidy: string;
  readonly by: 'wording' | 'option';
  /** cells that were not used, by reason; none = all were */
  readonly unused?: Readonly<Partial<Record<CellReason, number>>>;
}

/** Why a cell was not used. */
export type CellReason = 'empty' | 'text' | 'impossible' | 'cut short' | 'spike';

/** A time from which there are no rows. */
export interface LogGap {
  /** ISO, UTC: last row before, first row after */
  readonly from: string;
  readonly to: string;
  readonly hours: number;
}

/** A day of a log. */
export interface LogDay {
  /** civil date in the log's zone */
  readonly date: string;
  readonly rows: number;
  /** hours that the rows account for, and those in gaps */
  readonly coveredH: number;
  readonly gapH: number;
  readonly chargedAh?: number;
  readonly dischargedAh?: number;
  readonly chargedWh?: number;
  readonly dischargedWh?: number;
  readonly harvestWh?: number;
  readonly loadWh?: number;
  readonly alternatorWh?: number;
  readonly lowestSoc?: number;
  readonly highestSoc?: number;
  readonly lowestV?: number;
  readonly highestV?: number;
  /** out of the battery at night: mean [W] and in all [Wh] */
  readonly baseLoadW?: number;
  readonly baseLoadWh?: number;
  /** drawn all night, whatever else comes and goes: the median of the quietest rows [A] */
  readonly alwaysOnA?: number;
  /** reached full */
  readonly full?: boolean;
}

/** A log in a few numbers. */
export interface LogPicture {
  readonly days: number;
  /** means of the days that are at least nine tenths covered (of all, when there is none) */
  readonly chargedAhDay?: number;
  readonly dischargedAhDay?: number;
  readonly harvestWhDay?: number;
  readonly loadWhDay?: number;
  readonly lowestSoc?: number;
  readonly highestSoc?: number;
  readonly lowestV?: number;
  readonly highestV?: number;
  readonly baseLoadW?: number;
  /** median of the days' [A], [W] */
  readonly alwaysOnA?: number;
  readonly alwaysOnW?: number;
  readonly fullDays?: number;
  readonly longestWithoutFullDays?: number;
  readonly fullBy?: 'state of charge' | 'voltage';
  readonly nightBy: 'harvest' | 'sun' | 'clock';
  /** 12, 24 or 48 */
  readonly nominalV?: number;
}

/** Which way the battery's current counts in the log, and what decided it. */
export interface SignFound {
  readonly positive: 'charging' | 'discharging';
  readonly by: 'option' | 'heading' | 'state of charge' | 'voltage' | 'sun' | 'assumed';
}

/** What is missing of a log, and what would help. */
export interface LogShortfall {
  /** rows that could not be used, hours without rows, cells of a column */
  readonly of: 'rows' | 'hours' | 'cells';
  /** 0..1 */
  readonly share: number;
  /** of rows: why most of them were not used */
  readonly reason?: ReasonCode;
  /** of cells: the heading of their column */
  readonly heading?: string;
  /** what would help; absent = a look at the rows that were not read */
  readonly advice?: Advice;
}

/** What came of reading a log: every row kept, corrected or rejected with a reason. */
export interface LogReading {
  readonly rows: {
    readonly read: number;
    readonly kept: number;
    readonly corrected: number;
    readonly rejected: number;
  };
  readonly reasons: readonly LogReason[];
  readonly columns: Readonly<Partial<Record<LogColumnName, ColumnFound>>>;
  /** a solar current makes a power with the voltage of this side of the controller */
  readonly solarSide?: 'panel' | 'battery';
  /** so much of the log is lost that its figures stand for the rest only: the largest such share, above a tenth */
  readonly shortfall?: LogShortfall;
  readonly time: {
    readonly headings: readonly string[];
    readonly zone: string;
    readonly zoneBy: 'option' | 'stamps' | 'heading' | 'place' | 'assumed';
    readonly dateOrder: DateOrder;
    readonly dateOrderBy: 'option' | 'dates' | 'assumed';
    readonly newestFirst: boolean;
    /** the rows were not in the order of their times, and were sorted */
    readonly sorted: boolean;
    /** the usual time between rows [h] */
    readonly stepH: number;
    /** rows are written on change: one holds so long at most [h] */
    readonly holdH?: number;
  };
  readonly unused: readonly string[];
  readonly delimiter: string;
  readonly decimalMark: '.' | ',';
  readonly currentSign?: SignFound;
  readonly span: { readonly from: string; readonly to: string; readonly days: number };
  /** the first 1000 */
  readonly gaps: readonly LogGap[];
  readonly gapCount: number;
  readonly gapHours: number;
  /** the monitor's state of charge was set, most often to full: the first 1000 */
  readonly socResets: readonly { readonly at: string; readonly from: number; readonly to: number }[];
  /** charge that goes with the whole range of the monitor's state of charge: the capacity it is set to [Ah] */
  readonly counterAh?: number;
  /** centre of the day's harvest: hours UTC, and solar time when the place is known, else the zone's civil time */
  readonly harvestCentre?: {
    readonly utcH: number;
    readonly dayH: number;
    readonly dayBy: 'solar time' | 'civil time';
  };
  readonly daily: readonly LogDay[];
  readonly picture: LogPicture;
  readonly warnings: readonly LogNote[];
}

/** Takes a log of any size piece by piece; memory does not grow with it. */
export interface LogReader {
  /** @throws ConfigError when what was pushed so far cannot be a log */
  push(chunk: string): void;
  /** @throws ConfigError when there is no log in what was pushed */
  end(): LogReading;
}
