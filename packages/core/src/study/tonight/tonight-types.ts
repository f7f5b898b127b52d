import type { Percentiles, TaskOptions } from '../../math/index.js';
import type { Coded } from '../../message/index.js';
import type { Place } from '../../place/index.js';
import type { WeatherNote } from '../../weather/index.js';
import type { BatteryReading } from './battery-reading.js';
import type { SkyDay } from './sky-days.js';

/** A planned drive, or hours on mains. */
export interface PlannedSpan {
  /** UTC [ms] */
  readonly fromMs: number;
  readonly hours: number;
}

/** Use that is planned beside the rig's own timetable. */
export interface ExtraUse extends PlannedSpan {
  readonly name: string;
  /** at the appliance [W] */
  readonly powerW: number;
  /** fed through the rig's inverter */
  readonly inverter: boolean;
}

/** State, clock, sky and plans. */
export interface TonightOptions extends TaskOptions {
  /** UTC [ms] */
  readonly nowMs: number;
  readonly battery: BatteryReading;
  /** days to come, the first today before solar noon, else tomorrow; after them the climate's */
  readonly sky?: readonly SkyDay[];
  /** where no sky is given, how many days are looked at, 1 to 14; 3 unless given */
  readonly days?: number;
  readonly drives?: readonly PlannedSpan[];
  readonly mains?: readonly PlannedSpan[];
  readonly use?: readonly ExtraUse[];
  /** instead of the rig's floor, 0..1 */
  readonly neverBelow?: number;
  /** with which the floor is to hold, above 0.5 and below 1; 0.9 unless given */
  readonly chance?: number;
  /** how many ways it may go are followed, 8 to 1000; 48 unless given */
  readonly members?: number;
  readonly seed?: number;
  /** time step; 1/3 unless given [h] */
  readonly stepH?: number;
}

/** What a load takes from the battery until the sun has paid the night back. */
export interface LoadCost {
  readonly name: string;
  /** its share of the inverter's loss included; the middle of all ways it may go [Wh] */
  readonly costWh: number;
  /** `spoils`: a fridge; `critical`: the rig says so; `idle`: an inverter with nothing to do */
  readonly kind: 'load' | 'critical' | 'spoils' | 'idle' | 'planned';
}

/** Switched off from now on, with all that stand before it. */
export interface SwitchOff {
  readonly name: string;
  readonly savesWh: number;
  /** then to spare at the end of the days, with the chance asked for [Wh] */
  readonly spareAtEndWh: number;
}

/** The least driving that keeps the battery at its floor to the end of the days, with the chance asked for. */
export interface DriveNeeded {
  /** local civil time, ISO with offset */
  readonly from: string;
  /** again every morning from 10:00, as one drive does not do */
  readonly daily: boolean;
  /** in steps of five; Infinity where four hours do not do [min] */
  readonly minutes: number;
  /** with the engine idling at the camp instead [min] */
  readonly idleMinutes: number;
  /** fuel that the charging takes beside that of the drive itself; and that of the idling; of all days together [L] */
  readonly fuelL: number;
  readonly idleFuelL: number;
}

/** Arguments of each finding by its code, in the library's units. */
export interface TonightFindingArgs {
  /** the reading leaves so much of the state of charge, 8 ways in 10 */
  readonly charge_is_wide: { readonly low: number; readonly high: number; readonly plateau: boolean };
  readonly below_floor_now: { readonly soc: number; readonly floor: number };
  /** share of the ways in which the sun does not pay a night back within the days followed */
  readonly not_paid_back: { readonly share: number; readonly days: number };
  /** a load is cut off or a fridge cuts out, before or without the floor, in that share of the ways by the end of the days */
  readonly cut_before_end: { readonly share: number };
  readonly rest_of_today: Record<string, never>;
}
export type TonightFinding = Coded<TonightFindingArgs>;

/** A day of the sky that was given, as it was taken. */
export interface SkyTaken {
  /** local civil date, ISO */
  readonly date: string;
  readonly said: SkyDay;
  /** on the horizontal, 8 ways in 10 between low and high [kWh/m²], and that of a clear sky */
  readonly lowKwhM2: number;
  readonly highKwhM2: number;
  readonly clearKwhM2: number;
}

/** What `tonightStudy` gives. Times are local civil time, ISO 8601 with offset. */
export interface TonightStudy {
  readonly place: Place;
  readonly now: string;
  /** end of the days that were given */
  readonly end: string;
  readonly days: number;
  readonly members: number;
  readonly chance: number;
  readonly floor: number;
  /** what the reading leaves of the state of charge */
  readonly soc: Percentiles;
  readonly sky: readonly SkyTaken[];
  /**
   * Energy that may be taken at the battery's terminals, at any time from now on and beside all that is planned, so that the floor is just
   * not crossed before the first moment of a day at which the battery holds again what it held at the sunset before it (or now, if that is
   * later); below 0 so much is missing [Wh]
   */
  readonly spareWh: Percentiles;
  /** the same to the end of the days [Wh] */
  readonly spareAtEndWh: Percentiles;
  /** with the chance asked for [Wh] */
  readonly spareAtChanceWh: number;
  readonly spareAtEndAtChanceWh: number;
  /** when the night is paid back: half the ways by then, and with the chance asked for; null = not within the days followed */
  readonly paidBackAt: string | null;
  readonly paidBackAtChance: string | null;
  /** share of the ways in which the floor holds to the end of the days, if nothing changes */
  readonly keeps: number;
  /** when the floor is reached if nothing changes: half the ways by then; null where fewer than half do, to the end of the days */
  readonly floorAt: string | null;
  /** so early in one way of (1 − chance), null where fewer do */
  readonly floorAtEarliest: string | null;
  /** highest cost first */
  readonly loads: readonly LoadCost[];
  /** where the floor does not hold to the end with the chance asked for: the cheapest order, until it does */
  readonly switchOff: readonly SwitchOff[];
  /** where the floor does not hold and there is an alternator */
  readonly drive: DriveNeeded | null;
  /** state of charge over the next two days at each step's end */
  readonly band: {
    readonly fromMs: number;
    readonly stepH: number;
    readonly p10: readonly number[];
    readonly p50: readonly number[];
    readonly p90: readonly number[];
    /** local midnights within it: step and date */
    readonly midnights: readonly { readonly step: number; readonly date: string }[];
  };
  readonly findings: readonly TonightFinding[];
  readonly notes: readonly WeatherNote[];
}
