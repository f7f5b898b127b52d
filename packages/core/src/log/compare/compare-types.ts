import type { CivilDay } from '../../place/index.js';
import type { LogFinding } from '../judge/finding.js';
import type { PanelHour } from '../replay/panel-hours.js';
import type { Replay } from '../replay/replay.js';

/** Log and model in one hour of the local day, or on one day: means over the steps in which the log has both. NaN = none. */
export interface SideBySide {
  readonly logSoc: number;
  readonly modelSoc: number;
  readonly logV: number;
  readonly modelV: number;
  readonly logHarvestW: number;
  readonly modelHarvestW: number;
  readonly logLoadW: number;
  readonly modelLoadW: number;
}

export interface CompareHour extends SideBySide {
  /** local civil hour, 0..23 */
  readonly hour: number;
}

export interface CompareDay extends SideBySide {
  readonly date: string;
  /** share of the day that the log accounts for */
  readonly cover: number;
}

/** The panel against the rig's promise, where the battery took all that it gave. */
export interface PanelShare {
  /** of a whole day's promise, each hour weighted by what the promise is there; with its 90 % interval */
  readonly share: number;
  readonly low: number;
  readonly high: number;
  /** of the promise, the part that lies in hours that could be judged */
  readonly judged: number;
  readonly hours: readonly PanelHour[];
}

/** What `compareLog` gives: how near the model comes to the log, and which part is off. */
export interface Comparison {
  readonly from: string;
  readonly to: string;
  readonly days: number;
  /** share of the span that the log accounts for */
  readonly cover: number;
  readonly light: Replay['light'];
  readonly sources: readonly string[];
  readonly startSoc: number;
  readonly startSocBy: Replay['startSocBy'];
  readonly fit: {
    readonly socRmse?: number;
    /** mean of model less log */
    readonly socBias?: number;
    readonly voltageRmse?: number;
    readonly voltageBias?: number;
    readonly harvestBias?: number;
    readonly loadBias?: number;
  };
  readonly hours: readonly CompareHour[];
  readonly daily: readonly CompareDay[];
  readonly panel?: PanelShare;
  readonly findings: readonly LogFinding[];
  /** what the rows were taken to mean */
  readonly rows: Replay['evidence'];
  /** what was looked at and could not be told, and why */
  readonly untold: readonly string[];
  /** both on one grid, for a picture: step beginnings UTC [ms], and the civil days they lie in */
  readonly traces: {
    readonly days: readonly CivilDay[];
    readonly timeMs: Float64Array;
    readonly logSoc: Float64Array;
    readonly modelSoc: Float64Array;
    readonly logHarvestW: Float64Array;
    readonly modelHarvestW: Float64Array;
  };
}
