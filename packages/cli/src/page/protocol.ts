import type {
  Calibration,
  Comparison,
  ConfigIssue,
  DailyRow,
  DefaultTaken,
  LoadRow,
  LogReading,
  Rig,
  StayStudy,
  Summary,
  TonightStudy,
  Trip,
} from '@stayput/core';
import type { Paragraph, Path, StayGlance } from '@stayput/core/model';
import type { ShownFinding } from '../words/finding-words.js';
import type { LogFindingWords } from '../words/log-finding-words.js';
import type { ComparedTraces } from './log-file.js';
import type { Schema } from './schema.js';

// What the page and its worker say to each other: plain data.

/** One set-up as its owner wrote it: two files, and what is asked of them. */
export interface Setup {
  /** a rig file's text */
  readonly rig: string;
  /** a trip file's text; the chart of charge follows it, and its stops are asked about */
  readonly trip: string;
  /** what the page made the trip from; absent = somebody wrote it */
  readonly made?: MadeTrip;
  /** which stop of the trip is asked about, from 0 */
  readonly stop: number;
  /** stays that begin in this month, 1 = January; absent = that of the stop's arrival */
  readonly month?: number;
}

/** A fortnight at one place, as sliders set it. */
export interface MadeTrip {
  /** "Porto", or latitude and longitude: "41.7,-8.8" */
  readonly where: string;
  /** first day, ISO */
  readonly from: string;
  /** clock time of that day at which it begins, as "18:00"; absent = midnight */
  readonly startsAt?: string;
  /** a drive on every so many days; 0 = never */
  readonly driveEvery: number;
  /** engine hours of each */
  readonly driveH: number;
}

/** One change to the text of a file, which leaves every other character as it is. */
export interface Edit {
  readonly file: 'rig' | 'trip';
  readonly path: Path;
  readonly value?: unknown;
  readonly isRemoved?: boolean;
}

export type Lane = 'a' | 'b';

/** A weather file that the trip names, as the command read it. */
export interface WeatherGiven {
  readonly name: string;
  readonly text: string;
  readonly columns?: Readonly<Record<string, string>>;
  readonly more?: readonly { readonly name: string; readonly text: string }[];
}

/** What the command put into the file. */
export interface Given {
  readonly version: string;
  /** absent = the page begins with a starter rig */
  readonly rig?: string;
  readonly trip?: string;
  readonly where?: string;
  /** "2026-10-03" or "2026-10-03 18:00" */
  readonly from?: string;
  readonly weather?: WeatherGiven;
  /** a parts list, for sizing */
  readonly parts?: string;
  readonly years?: number;
  readonly seed?: number;
}

/** What a set-up came to when it was read. */
export interface Reading {
  readonly rig: Rig;
  readonly trip: Trip;
  readonly stops: readonly {
    readonly name: string;
    readonly from: string;
    readonly month: number;
    readonly nights: number;
  }[];
  readonly month: number;
  readonly place: { readonly name: string; readonly latDeg: number; readonly lonDeg: number; readonly zone: string };
}

export interface Checked {
  readonly findings: readonly ShownFinding[];
  readonly defaults: readonly DefaultTaken[];
  readonly described: readonly Paragraph[];
}

/** A run of the trip, for its chart and its sums. */
export interface Followed {
  /** state of charge at the end of each sample, and what came in and went out in it */
  readonly soc: Float32Array;
  readonly sunW: Float32Array;
  readonly engineW: Float32Array;
  readonly loadW: Float32Array;
  /** of the first sample's beginning [ms], and of each [h] */
  readonly startMs: number;
  readonly sampleH: number;
  /** zone of each sample's stop, in order: from sample on */
  readonly zones: readonly { readonly from: number; readonly zone: string }[];
  readonly days: readonly { readonly date: string; readonly from: number }[];
  readonly summary: Pick<
    Summary,
    | 'days'
    | 'lowestSoc'
    | 'lowestAt'
    | 'hoursBelowFloor'
    | 'hoursOff'
    | 'pvAvailableWh'
    | 'pvHarvestWh'
    | 'pvSpilledWh'
    | 'alternatorWh'
    | 'mainsWh'
    | 'loadWh'
    | 'unservedWh'
  >;
  readonly daily: readonly Pick<DailyRow, 'date' | 'lowestSoc' | 'highestSoc' | 'pvHarvestWh' | 'loadWh'>[];
  readonly loads: readonly Pick<LoadRow, 'name' | 'servedWh' | 'unservedWh'>[];
  readonly warnings: readonly string[];
  /** what happened, in a sentence, and what else went wrong */
  readonly verdict: string;
  readonly others: readonly string[];
}

/** How long stays last without one load. */
export interface LoadCost {
  readonly name: string;
  readonly parkedDaysP10: number;
  readonly parkedDaysP50: number;
  readonly indefinite: boolean;
}

/** What a rig from nothing is to have. */
export interface Starter {
  readonly chemistry: 'LFP' | 'AGM' | 'gel' | 'flooded';
  readonly capacityAh: number;
  readonly solarW: number;
  readonly fridgeL: number;
}

/** A log held against a rig, in words where it is for people. */
export interface LogAnswer {
  readonly verdict: string;
  readonly rows: LogReading['rows'];
  readonly span: LogReading['span'];
  readonly findings: readonly (Comparison['findings'][number] & LogFindingWords)[];
  readonly untold: readonly string[];
  readonly warnings: readonly string[];
  readonly fit: Comparison['fit'];
  readonly traces: ComparedTraces;
}

/** What a log tells of a rig's values. */
export interface LogFit {
  readonly values: readonly { readonly name: string; readonly path: string; readonly text: string }[];
  readonly before: Calibration['before'];
  readonly after: Calibration['after'];
  readonly rigText: string;
}

/** What is said of tonight, as it was typed. */
export interface TonightAsked {
  /** state of charge as a monitor shows it [%]; of no account where volts are given */
  readonly soc: number;
  readonly volts: string;
  readonly amps: string;
  /** clock time; empty = the present */
  readonly now: string;
  /** a word for each day to come */
  readonly sky: readonly string[];
  /** planned, several with commas between */
  readonly use: string;
  readonly drive: string;
}

/** Tonight, in words, with the charge of the next two days as a band. */
export interface TonightAnswer {
  readonly spare: string;
  readonly end: string;
  readonly entries: readonly (readonly [name: string, text: string])[];
  readonly findings: readonly string[];
  readonly band: TonightStudy['band'];
  readonly floor: number;
}

/** A choice of a parts list. */
export interface SizePoint {
  readonly parts: string;
  readonly massKg: number;
  readonly price: number;
  readonly nightsWithout: number;
  readonly meets: boolean;
}

/** To the worker. A newer question of a lane ends the one before it. */
export type Ask =
  | { readonly kind: 'begin'; readonly given: Given; readonly zone: string; readonly today: string }
  | {
      readonly kind: 'answer';
      readonly lane: Lane;
      readonly seq: number;
      readonly setup: Setup;
      readonly edits: readonly Edit[];
    }
  | { readonly kind: 'schema' }
  | { readonly kind: 'start'; readonly starter: Starter }
  | { readonly kind: 'log'; readonly setup: Setup; readonly file: File; readonly zone: string; readonly today: string }
  | { readonly kind: 'calibrate'; readonly setup: Setup }
  | { readonly kind: 'tonight'; readonly setup: Setup; readonly asked: TonightAsked; readonly nowMs: number }
  | { readonly kind: 'size'; readonly setup: Setup; readonly parts: string };

interface Of {
  readonly lane: Lane;
  readonly seq: number;
}

/** From the worker. */
export type Told =
  | { readonly kind: 'begun'; readonly setup: Setup; readonly places: readonly string[]; readonly parts: string }
  | { readonly kind: 'schema'; readonly schema: Schema }
  | { readonly kind: 'started'; readonly rig?: string; readonly why?: string }
  | { readonly kind: 'log'; readonly stage: 'reading' | 'comparing' | 'fitting'; readonly done: number }
  | { readonly kind: 'logged'; readonly answer?: LogAnswer; readonly fitted?: LogFit; readonly why?: string }
  | { readonly kind: 'tonight'; readonly answer?: TonightAnswer; readonly why?: string }
  | { readonly kind: 'sizing'; readonly done: number }
  | {
      readonly kind: 'sized';
      readonly points?: readonly SizePoint[];
      readonly verdict?: string;
      readonly currency?: string;
      readonly issues?: readonly ConfigIssue[];
    }
  | (Of & { readonly kind: 'read'; readonly setup: Setup; readonly reading: Reading })
  | (Of & { readonly kind: 'values'; readonly values: unknown })
  | (Of & {
      readonly kind: 'refused';
      readonly setup: Setup;
      readonly values: unknown;
      readonly file: 'rig' | 'trip';
      readonly issues: readonly ConfigIssue[];
    })
  | (Of & { readonly kind: 'glance'; readonly isEstimate: boolean; readonly glance: StayGlance })
  | (Of & { readonly kind: 'followed'; readonly followed: Followed })
  | (Of & { readonly kind: 'checked'; readonly checked: Checked })
  | (Of & { readonly kind: 'studied'; readonly study: StayStudy })
  | (Of & { readonly kind: 'costs'; readonly costs: readonly LoadCost[] })
  | (Of & { readonly kind: 'done' })
  | (Of & { readonly kind: 'failed'; readonly message: string });
