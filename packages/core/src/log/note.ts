import type { Coded, NoArgs } from '../message/index.js';
import type { LogColumnName, SignFound } from './types.js';

/** What is to be known of how a log was read. Headings are as the log has them; several make up one value. */
export interface LogNoteArgs {
  /** nothing says in which zone the clock ran: UTC was taken */
  log_zone: NoArgs;
  log_newest_first: NoArgs;
  log_sorted: NoArgs;
  /** columns that are empty in many rows hold their last value */
  log_held: { readonly headings: readonly string[]; readonly by: 'devices' | 'change' };
  /** rows are written on change, and each holds until the next, so long at most */
  log_on_change: { readonly holdH: number };
  /** read as the option says, and the rows tell otherwise */
  log_sign: { readonly column: 'current' | 'power'; readonly positive: SignFound['positive'] };
  /** the harvest is centred on night in the zone taken: the hour in solar or civil time */
  log_night_harvest: {
    readonly dayH: number;
    readonly zone: string;
    /** with the place known: share while the sun is down, and what the clock seems to run at */
    readonly sun?: { readonly nightShare: number; readonly clock: string };
    /** without: where the sun stands so, east positive [°] */
    readonly lonDeg?: number;
  };
  log_columns_summed: { readonly column: LogColumnName; readonly headings: readonly string[] };
  /** of several that could be it the first was taken */
  log_column_first: { readonly column: LogColumnName; readonly headings: readonly string[] };
  /** a column names no unit, and its values tell none */
  log_unit: { readonly heading: string; readonly unit: string };
  /** a column names no unit, and its values tell which */
  log_unit_found: { readonly headings: readonly string[]; readonly unit: string; readonly by: UnitEvidence };
  /** it shows one direction only, and no column the other: not used */
  log_one_way: { readonly column: LogColumnName; readonly heading: string };
  /** below nought throughout, and turned */
  log_turned: { readonly column: LogColumnName; readonly headings: readonly string[] };
  /** the side of the controller that the solar current was found to be of */
  log_solar_side: {
    readonly headings: readonly string[];
    readonly side: 'panel' | 'battery';
    /** from the solar power over it, or from how the battery's current moves with it */
    readonly by: 'power' | 'current';
  };
}

export type LogNote = Coded<LogNoteArgs>;

/** What tells the unit of a column. */
export type UnitEvidence =
  /** watts over volts times amps, a thousand or a thousandth */
  | {
      readonly of: 'product';
      readonly watts: readonly string[];
      readonly amps: readonly string[];
      readonly ratio: number;
    }
  /** a full turn of the state of charge would be so much charge in the other unit [Ah] */
  | { readonly of: 'capacity'; readonly unit: string; readonly ah: number }
  /** it goes so high in the other unit */
  | { readonly of: 'size'; readonly unit: string; readonly most: number }
  /** the battery's power moves so many times as much */
  | { readonly of: 'battery'; readonly times: number };
