import type { FitName, SweepPart } from '@stayput/core';
import type { Chemistry, Stamps } from '@stayput/core/model';
import type { CommonOptions } from './options.js';
import type { PictureOptions } from './pictures.js';
import type { WhereOptions } from './where.js';

// What each command is given on the command line, once its options are read.

/** Quantities are as typed: core reads them when the command runs. */
export interface NewOptions {
  readonly name?: string;
  readonly chemistry?: Chemistry;
  readonly capacity?: string;
  readonly solar?: string;
  readonly fridge?: string;
  readonly place?: string;
  readonly at?: string;
  readonly trip?: string;
  readonly schema?: boolean;
  /** false with --no-input */
  readonly input: boolean;
  readonly out?: string;
  readonly force?: boolean;
  readonly quiet?: boolean;
}

export interface CheckOptions extends CommonOptions, PictureOptions {
  readonly defaults?: boolean;
  readonly set?: string[];
}

export interface SimulateOptions extends CommonOptions, PictureOptions, WhereOptions {
  readonly from?: string;
  readonly days?: number;
  readonly ensemble?: string;
  readonly seed?: number;
  /** [h] */
  readonly step?: number;
  readonly startSoc?: number;
  readonly randomLoads?: boolean;
  readonly set?: string[];
  readonly detail?: boolean;
  readonly trace?: string;
  readonly neverBelow?: number;
  readonly neverOff?: boolean;
}

export interface StayOptions extends CommonOptions, PictureOptions, WhereOptions {
  /** 1 = January */
  readonly months?: readonly number[];
  readonly fromSoc?: number;
  readonly pastFloor?: boolean;
  /** [days] */
  readonly horizon?: number;
  readonly years?: number;
  readonly ensemble?: string;
  readonly seed?: number;
  /** [h] */
  readonly step?: number;
  readonly set?: string[];
  /** [days] */
  readonly atLeast?: number;
}

/** Quantities, clock times and skies are as typed: core reads them when the command runs. */
export interface TonightCommandOptions extends CommonOptions, PictureOptions {
  readonly at?: string;
  readonly place?: string;
  readonly now?: string;
  readonly soc?: string;
  readonly volts?: string;
  readonly amps?: string;
  readonly sky?: string;
  readonly days?: number;
  readonly drive?: string[];
  readonly mains?: string[];
  readonly use?: string[];
  readonly neverBelow?: number;
  readonly chance?: number;
  readonly ensemble?: string;
  readonly seed?: number;
  readonly set?: string[];
}

export interface YieldOptions extends CommonOptions, PictureOptions, WhereOptions {
  readonly years?: number;
  readonly seed?: number;
  /** [h] */
  readonly step?: number;
  readonly set?: string[];
}

export interface SizeCommandOptions extends CommonOptions, PictureOptions {
  readonly at?: string[];
  readonly place?: string[];
  /** first and last month of the stay, 1 = January */
  readonly month?: { readonly first: number; readonly last: number };
  readonly from?: string;
  readonly days?: number;
  readonly weather?: string;
  readonly column?: Record<string, string>;
  readonly years?: number;
  readonly ensemble?: string;
  readonly seed?: number;
  /** [h] */
  readonly step?: number;
  /** [days] */
  readonly autonomy?: number;
  readonly set?: string[];
}

export interface SweepOptions extends CommonOptions, PictureOptions, WhereOptions {
  readonly vary?: string[];
  readonly sample?: number;
  readonly years?: number;
  readonly part?: SweepPart;
  readonly workers?: number;
  readonly answer?: string;
  readonly from?: string;
  readonly days?: number;
  readonly seed?: number;
  /** [h] */
  readonly step?: number;
  readonly startSoc?: number;
  readonly randomLoads?: boolean;
  readonly set?: string[];
}

export interface WiresOptions extends CommonOptions, PictureOptions {
  readonly set?: string[];
  /** as typed; core reads it when the command runs */
  readonly air?: string;
  readonly engineAir?: string;
  readonly roofAir?: string;
  readonly allOk?: boolean;
}

export interface ReportOptions extends CommonOptions, WhereOptions {
  readonly parts?: string;
  readonly from?: string;
  readonly days?: number;
  readonly years?: number;
  readonly seed?: number;
  /** [h] */
  readonly step?: number;
  readonly startSoc?: number;
  readonly set?: string[];
}

export interface PageOptions {
  readonly at?: string;
  readonly place?: string;
  readonly from?: string;
  readonly column?: Record<string, string>;
  readonly parts?: string;
  readonly years?: number;
  readonly seed?: number;
  readonly out?: string;
  readonly force?: boolean;
  readonly quiet?: boolean;
}

/** How a log is to be read; other commands that read one take the same. */
export interface LogReadOptions {
  readonly at?: string;
  readonly place?: string;
  readonly zone?: string;
  readonly dateOrder?: 'ymd' | 'dmy' | 'mdy';
  readonly column?: Record<string, string>;
  readonly positive?: 'charging' | 'discharging';
  readonly unit?: Record<string, string>;
  readonly ignore?: string[];
  readonly solarSide?: 'panel' | 'battery';
  readonly calendar?: 'gregorian' | 'buddhist';
  readonly sort?: boolean;
}

export interface LogCommandOptions extends CommonOptions, LogReadOptions, PictureOptions {
  readonly tidy?: string;
  readonly rejects?: string;
}

/** What commands take that lay a log over a rig. */
export interface LogAndRigOptions extends CommonOptions, LogReadOptions {
  readonly weather?: string;
  readonly weatherColumn?: Record<string, string>;
  readonly from?: string;
  readonly to?: string;
  readonly stamps?: Stamps;
  readonly set?: string[];
}

export type CompareOptions = LogAndRigOptions & PictureOptions;

export interface CalibrateCommandOptions extends LogAndRigOptions, PictureOptions {
  readonly fit?: readonly FitName[];
  readonly checkShare?: number;
  readonly rigOut?: string;
  /** of readings instead of a log */
  readonly ensembleOut?: string;
}
