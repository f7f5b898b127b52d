import type { TaskOptions } from '../../math/index.js';
import type { Place } from '../../place/index.js';
import type { Range } from '../../rig/index.js';
import type { WeatherNote } from '../../weather/index.js';
import type { EndCause } from '../run/outcome.js';
import type { WeatherCaseOptions } from '../run/weather-cases.js';

/** From when, from which charge and to what end stays are followed. */
export interface StayOptions extends WeatherCaseOptions, TaskOptions {
  /** state of charge at which a stay begins, 0..1; full unless given */
  readonly fromSoc?: number;
  /** what ends a stay: the owner's floor or any load that goes without (`floor`, unless given), or the latter alone (`off`) */
  readonly endAt?: 'floor' | 'off';
  /** a stay that lasts this long counts as one without an end; 60 unless given [days] */
  readonly horizonDays?: number;
  /** 1 = January; stays that begin in these are looked at, all twelve unless given */
  readonly months?: readonly number[];
  /** called after each weather year with the share that is done, 0..1 */
  readonly onProgress?: (done: number) => void;
}

/** Stays as percentiles over all that begin in a month, of all weather years. `horizonDays` stands for that or longer. */
export interface StayLengths {
  /** one stay in ten is shorter, half are, nine in ten are [days] */
  readonly parkedDaysP10: number;
  readonly parkedDaysP50: number;
  readonly parkedDaysP90: number;
  /** whether nine in ten have no end within the horizon: as long as you like */
  readonly indefinite: boolean;
}

export interface StayMonth extends StayLengths {
  /** 1 = January */
  readonly month: number;
  /** how many stays were followed, in how many weather years */
  readonly stays: number;
  readonly weatherYears: number;
  /**
   * between what and what `parkedDaysP10` lies with about 90 % confidence, for that there are so few weather years, that made years are
   * not real ones, and of an ensemble that nobody knows which vehicle it is; absent for a single real year, which says nothing of others [days]
   */
  readonly parkedDaysP10Low?: number;
  readonly parkedDaysP10High?: number;
  /** share of them without an end within the horizon, 0..1 */
  readonly outlasts: number;
  /** autonomy with no charging at all, in the air of this month; the median [days] */
  readonly darkDays: number;
  /** from full, where stays begin with less [days] */
  readonly darkDaysFromFull?: number;
  /** for the range of the fridges' heat leak, or of the ensemble's vehicles [days] */
  readonly darkDaysLow: number;
  readonly darkDaysHigh: number;
  /** between what and what the median lies for all that nobody knows (see `unknowns`; of an ensemble its vehicles), with about 90 % confidence [days] */
  readonly parkedDaysLow: number;
  readonly parkedDaysHigh: number;
  /** of the stays that end, the share by what ends them; of dark ones, what ends most */
  readonly endedBy: Readonly<Partial<Record<EndCause, number>>>;
  readonly darkEndedBy?: EndCause;
  /** least driving every morning from 10:00 that makes it indefinite; 0 = none, Infinity = four hours do not do [min] */
  readonly engineMinutes?: number;
  readonly oneMorePanel?: StayLengths;
  readonly oneMoreBattery: StayLengths & { readonly darkDays: number };
}

/** What nobody can know, between what and what it is taken to lie, and its share in the spread that follows. */
export interface StayUnknown {
  readonly what: 'heat leak' | 'soiling' | 'irradiation';
  /** soiling: share of the light; the others: times the value used */
  readonly assumed: Range;
  /** of the low end's distance from the value used, as squares add, 0..1 */
  readonly share: number;
}

/** One more of what the rig has, as what-if; its mass and price are those of the one it has. */
export interface OneMore {
  readonly what: string;
  readonly massKg?: number;
  readonly price?: number;
}

/** What `stayStudy` gives. */
export interface StayStudy {
  readonly place: Place;
  readonly weatherYears: number;
  readonly fromSoc: number;
  readonly endAt: 'floor' | 'off';
  readonly horizonDays: number;
  /** autonomy with no charging at all in the hardest of the months looked at: the fridge works with the heat [days] */
  readonly darkDays: number;
  /** 1 = January; the month of `darkDays`, and that with the shortest stays */
  readonly darkMonth: number;
  readonly hardestMonth: number;
  /** in the order of the year */
  readonly months: readonly StayMonth[];
  /** none where an ensemble says it better */
  readonly unknowns: readonly StayUnknown[];
  /** of an ensemble so many were followed; absent without one */
  readonly vehicles?: number;
  readonly panel?: OneMore;
  readonly battery: OneMore;
  readonly notes: readonly WeatherNote[];
}
