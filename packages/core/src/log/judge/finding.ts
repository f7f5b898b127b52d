import { Z90 } from '../../math/index.js';

/** What a log can show of a rig. */
export type LogFindingCode =
  | 'log_clock'
  | 'monitor_zero'
  | 'counter_setting'
  | 'counter_set'
  | 'counter_drift'
  | 'panel_even'
  | 'panel_shade'
  | 'panel_step'
  | 'panel_clipped'
  | 'charge_ends_early'
  | 'charge_cold'
  | 'charge_below_freezing'
  | 'engine_weak'
  | 'capacity_low'
  | 'main_resistance'
  | 'draw_unlisted'
  | 'fridge_high'
  | 'fridge_climbing'
  | 'fridge_without_pause'
  | 'fridge_off'
  | 'fridge_wire'
  | 'load_cut';

/** A figure with its 90 % interval. */
export interface FindingSize {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** A, V, Ah, min, ohm; '' for a share */
  readonly unit: string;
}

/** What does not do its job, as data: the words come with whoever shows it. */
export interface LogFinding {
  readonly code: LogFindingCode;
  readonly level: 'note' | 'caution' | 'danger';
  /** the part it concerns, as in a rig file: solar, battery, loads … */
  readonly path: string;
  readonly confidence: 'high' | 'fair' | 'low';
  /** how large it is, where that can be said in one figure */
  readonly size?: FindingSize;
  /** civil date from which it holds, when it began within the log, and the first on which it no longer does */
  readonly since?: string;
  readonly until?: string;
  /** the figures behind it, by name */
  readonly args: Readonly<Record<string, number | string | readonly string[]>>;
}

/** A figure and its interval of 90 % from a standard error. */
export function sizeOf(value: number, standardError: number, unit: string): FindingSize {
  const half = Z90 * standardError;
  return { value, low: value - half, high: value + half, unit };
}
