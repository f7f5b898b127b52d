import type { Percentiles, TaskOptions } from '../../math/index.js';
import type { PartsList, Trip } from '../../rig/index.js';
import type { Finding, GivenWeather, OwnLoad } from '../../simulate/index.js';
import type { Worksheet } from './worksheet.js';

/** A run that every choice goes through, in each weather year: a trip, or days at one place. */
export type SizeCase = Trip;

/** How many weather years a choice must live through, and how finely. */
export interface SizeOptions extends TaskOptions {
  /** needed when a case's weather is a file */
  readonly weatherFile?: GivenWeather;
  /** loads beside the rig's own: see `ConditionOptions` */
  readonly ownLoads?: readonly OwnLoad[];
  /** weather years: 10 unless given; weather that is the same each year has one */
  readonly years?: number;
  readonly seed?: number;
  /** 1/6 unless given [h] */
  readonly stepH?: number;
  /** days of autonomy for the hand worksheet; 3 unless given */
  readonly autonomyDays?: number;
  /** every choice is run to its end, none is left out; for checks and small lists */
  readonly exhaustive?: boolean;
  /** called now and then, with what is done */
  readonly onProgress?: (progress: SizeProgress) => void;
}

/** How far a sizing is. */
export interface SizeProgress {
  readonly stage: 'weather' | 'choices' | 'limits' | 'margins';
  readonly done: number;
  readonly total: number;
}

/** So many of one line of the parts list. */
export interface ChosenPart {
  readonly kind: 'battery' | 'panel' | 'charger';
  readonly name: string;
  readonly count: number;
}

/** What a choice is made of and what it takes; what the list does not offer stays as the rig has it, at no mass or price. */
export interface Bill {
  readonly parts: readonly ChosenPart[];
  /** rated capacity of the bank, at its nominal voltage [Ah] */
  readonly batteryAh: number;
  readonly batteryNominalV: number;
  /** nameplate of all modules [W] */
  readonly solarW: number;
  readonly massKg: number;
  readonly price: number;
  readonly areaM2: number;
}

/** What a choice can be first in, of those that reach the target. */
export const SIZE_MARKS = ['lightest', 'cheapest', 'most reliable'] as const;
/** What a choice is first in. */
export type SizeMark = (typeof SIZE_MARKS)[number];

/**
 * A choice that was run through every weather year. It meets the target or has power for at least 95 % of the time, unless
 * no choice does.
 */
export interface SizeChoice extends Bill {
  /** hours in which some load asked for power and did not get all of it, mean of the weather years [h] */
  readonly unservedHoursYear: number;
  /** nights of all weather years, each from noon to noon, in which that happened */
  readonly nightsWithout: number;
  /** weather years that keep within the hours that are allowed; of several cases the worst */
  readonly yearsMet: number;
  readonly meets: boolean;
  /** the weather year, from 1, with the most unserved hours, and in which case; absent without any */
  readonly worst?: { readonly year: number; readonly case: string; readonly unservedHours: number };
  /** of all runs [0..1] */
  readonly lowestSoc: number;
  /** over the vehicles that the rig may be; of the marked choices of a rig with an ensemble */
  readonly spread?: SizeSpread;
  /** none is at least as light, cheap and reliable and better in one of them */
  readonly onFront: boolean;
  readonly marks: readonly SizeMark[];
  /** why it is none of the best: a sentence without names of people; absent on the front */
  readonly why?: string;
}

/** What a choice comes to in the vehicles of an ensemble, each in a mirrored pair of the weather years. */
export interface SizeSpread {
  /** so many were followed */
  readonly vehicles: number;
  /** of a vehicle in a weather year [h] */
  readonly unservedHoursYear: Percentiles;
  /** the same: nights, noon to noon */
  readonly nightsWithout: Percentiles;
  /** the same: lowest state of charge, 0..1 */
  readonly lowestSoc: Percentiles;
  /** share of all vehicles and weather years that keep within the hours that are allowed */
  readonly meets: number;
}

/** A choice that cannot be among the best, so that it was not followed to the end. */
export interface LostChoice extends Bill {
  /** `farBelowTarget`: misses the target and lacks power for more than 5 % of the time; `overload`: a load alone asks for more than the battery gives */
  readonly reason: 'limit' | 'dominated' | 'farBelowTarget' | 'overload';
  readonly why: string;
  /** as far as it was followed; absent when not at all */
  readonly atLeastUnservedHoursYear?: number;
}

/** How much more all loads together could draw before a choice no longer meets the target: 1.2 = a fifth more. */
export interface SizeMargin {
  readonly parts: readonly ChosenPart[];
  readonly marks: readonly SizeMark[];
  readonly loadFactor: number;
  /** the load was raised no further than this */
  readonly isAtLeast: boolean;
  /** cautions and dangers of the rig with these parts in it, as `checkRig` finds them */
  readonly findings: readonly Finding[];
}

/** When nothing meets the target: which limit stands in the way, and what would do without it. */
export interface BindingLimit {
  readonly limit: keyof PartsList['limits'];
  /** of the list, absent when it was only ours for want of one */
  readonly allowed: number;
  readonly given: boolean;
  readonly needed: number;
  /** the lightest that was found to meet the target with this limit alone lifted */
  readonly choice: Bill;
}

/** What `sizeStudy` gives: the trade-off, and what was left out and why. */
export interface SizeResult {
  /** run to the end, lightest first */
  readonly choices: readonly SizeChoice[];
  readonly lost: readonly LostChoice[];
  readonly weatherYears: number;
  readonly target: PartsList['target'];
  readonly limits: Required<Pick<PartsList['limits'], 'batteries' | 'panels'>> & PartsList['limits'];
  readonly meets: boolean;
  /** a load that no battery within the limits feeds at its full power, so that nothing meets the target */
  readonly tooStrongLoad?: string;
  readonly margins: readonly SizeMargin[];
  /** beside the lightest that meets the target: the next smaller battery of the list with the same panels and charger */
  readonly smaller?: SizeChoice;
  /** when nothing meets the target: what comes nearest, the load it would carry, and the limits that stand in the way */
  readonly nearest?: { readonly choice: SizeChoice; readonly loadFactor: number };
  readonly binding: readonly BindingLimit[];
  readonly worksheet: Worksheet;
  readonly places: readonly string[];
  readonly notes: readonly string[];
  /** runs through a weather year that were made, and that all choices would have taken */
  readonly runs: { readonly made: number; readonly all: number };
}
