import type { TaskOptions } from '../../math/index.js';
import type { Rig, WrittenValue } from '../../rig/index.js';
import type { FitErrors } from '../replay/fit-errors.js';
import type { ReplayOptions } from '../replay/replay.js';

/** What can be fitted; shade is that of the morning and of the evening. */
export const FIT_NAMES = ['solar', 'shade', 'always-on', 'fridge', 'inverter', 'resistance', 'capacity'] as const;
/** One of what can be fitted. */
export type FitName = (typeof FIT_NAMES)[number];

/** What of a rig is fitted to a log, and on which of its days. */
/** What to fit, on which days, and where the log was written. */
export interface CalibrateOptions extends ReplayOptions, TaskOptions {
  /** called with the share that is done, 0..1 */
  readonly onProgress?: (done: number) => void;
  /** what to fit; all that the log can tell unless given */
  readonly fit?: readonly FitName[];
  /** share of the days, from the end, on which the fit is checked and which it does not see; 1/3 unless given, 0 to 0.8 */
  readonly checkShare?: number;
}

/** A value that the log tells. */
export interface FittedValue {
  readonly fit: FitName;
  /** as people call it: solar factor, morning shade, capacity … */
  readonly name: string;
  /** of what is written for it in the rig file: solar[0].losses.other */
  readonly path: string;
  readonly value: number;
  /** the truth lies between them with about 90 % confidence, if the model's form is right */
  readonly low: number;
  readonly high: number;
  /** Ah, A, mΩ, W; '' for a ratio */
  readonly unit: string;
  /** what the rig has */
  readonly before: number;
  /** what it was read from, in words */
  readonly by: string;
  /** what it means, in a sentence or two */
  readonly text: string;
  /** what it comes to in the rig file */
  readonly writes: readonly WrittenValue[];
}

/** A value that was looked for and keeps what the rig has. */
export interface NotIdentifiable {
  readonly fit: FitName;
  readonly name: string;
  readonly why: string;
}

/** What `calibrate` gives: the values that the log tells, those it does not, and how much nearer the rig comes to it. */
/** What a log tells of a rig, and how much better the rig then agrees with days that the fit did not see. */
export interface Calibration {
  readonly fitted: readonly FittedValue[];
  readonly untold: readonly NotIdentifiable[];
  /** the rig with the fitted values */
  readonly rig: Rig;
  /** civil days, ISO, and how many of them the log covers */
  readonly trained: { readonly from: string; readonly to: string; readonly days: number };
  readonly checked?: { readonly from: string; readonly to: string; readonly days: number };
  /** how far the rig as written and as fitted are from the log on the days that were not used; empty without such days */
  readonly before: FitErrors;
  readonly after: FitErrors;
  /** where light and air came from */
  readonly sources: readonly string[];
  /** what to know of the fit */
  readonly notes: readonly string[];
}

/** A value on its way: with what it makes of a rig. */
export interface Found extends FittedValue {
  readonly applyTo: (rig: Rig) => Rig;
}

/** What one part of the fit comes to. */
export interface Findings {
  readonly fitted: readonly Found[];
  readonly untold: readonly NotIdentifiable[];
  readonly notes: readonly string[];
}

export const isFound = (one: Found | NotIdentifiable): one is Found => 'value' in one;
export const isUntold = (one: Found | NotIdentifiable): one is NotIdentifiable => !isFound(one);
