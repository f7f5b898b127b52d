/**
 * What a rig, a trip and a parts list are once read: every quantity a plain number in the unit its name carries,
 * every default filled in. The text form is read by `read-rig.ts`; everything past this room trusts these types.
 * Ratios are 0..1. Currents and powers are positive into the part named. Azimuth 0 = north, clockwise.
 */

import type { Advice, OptionNamed } from '../message/index.js';
import type { ClockPoint, DayWindow } from '../quantity/index.js';
import type { Chemistry } from './chemistry.js';

export type { Chemistry, ClockPoint, DayWindow };

/** Which air a part stands in, and so follows. */
export type Air = 'cabin' | 'outside' | 'engine bay';
/**
 * How a panel is fixed, which says how it sheds heat: glued to the roof, over a gap, on an open rack, laid on the
 * ground.
 */
export type Mount = 'bonded' | 'gap' | 'rack' | 'ground';
/** What a panel's cells are made of. */
export type PanelTechnology = 'mono' | 'poly' | 'thin film';

/** A stated uncertainty of a value nobody can know: the truth lies between low and high with about 90 % confidence. */
export interface Range {
  readonly low: number;
  readonly high: number;
}

/** A two-wire copper run. `sectionMm2` is the conductor's copper area; a gauge is turned into its area on reading. */
export interface Cable {
  /** one way; the return wire is added by the wire room [m] */
  readonly lengthM: number;
  /** nominal section (IEC) or the exact area of the gauge (AWG) [mm²] */
  readonly sectionMm2: number;
  /** as written when given as AWG: "10", "1/0" */
  readonly gaugeAwg?: string;
  /** wires bundled together, for ampacity (1 = alone) */
  readonly bundled: number;
  /** highest temperature of the insulation [°C] */
  readonly insulationC: number;
  /** fuse or breaker in this run [A], if the owner has named it */
  readonly fuseA?: number;
}

/** A cut-out limit given either as state of charge or as voltage. */
export type Limit =
  | { readonly kind: 'soc'; readonly soc: number }
  | { readonly kind: 'voltage'; readonly voltageV: number };

/** Set points of a charge algorithm, for the whole bank at 25 °C. */
export interface ChargeProfile {
  readonly absorptionV: number;
  readonly floatV: number;
  /** absorption ends after this long … [h] */
  readonly holdH: number;
  /** … or when the battery takes less than this share of its capacity [A per Ah]; 0 = time only */
  readonly fullBelowC: number;
  /** bulk begins again when the battery rests below this [V] */
  readonly restartBelowV: number;
  /** correction of the set points per kelvin away from 25 °C, for the whole bank [V/K]; 0 for LFP */
  readonly perDegreeV: number;
}

/** A heater that keeps a battery warm enough to charge, fed by the house bus. */
export interface Heater {
  readonly powerW: number;
  /** switches on below, off 3 K above [°C] */
  readonly belowC: number;
}

/** The house battery: one or more of the same kind, in parallel and in series. */
export interface Battery {
  readonly chemistry: Chemistry;
  /** rated capacity of one battery; lead-acid at the 20-hour rate [Ah] */
  readonly capacityAh: number;
  /** in parallel */
  readonly count: number;
  /** in series */
  readonly series: number;
  /** nominal of one battery: 12, 24 … [V] */
  readonly nominalV: number;
  /** share of the rated capacity that is left, (0, 1] */
  readonly health: number;
  readonly floor: number;
  readonly disconnect: Limit;
  readonly reconnect: Limit;
  readonly stands: Air;
  /** how slowly its cells follow the air [h] */
  readonly thermalLagH: number;
  /** LFP: no charge below this cell temperature [°C]; absent = no such limit */
  readonly chargeMinC?: number;
  readonly heater?: Heater;
  /** limits of the management system, for the whole bank [A]; absent = none */
  readonly maxChargeA: number;
  readonly maxDischargeA?: number;
  /** internal resistance of the whole bank at 25 °C, half charged, cables not included [Ω]; absent = the chemistry's */
  readonly resistanceOhm?: number;
  /** per month at 20 °C; absent = the chemistry's */
  readonly selfDischargePerMonth?: number;
  readonly charge: ChargeProfile;
  readonly cable?: Cable;
  /** each battery */
  readonly massKg?: number;
  readonly price?: number;
}

/** A time of day at which something stands between sun and panel. */
export interface ShadeWindow {
  /** hours of local civil time, 0..24; may cross midnight */
  readonly fromH: number;
  readonly toH: number;
  /** share of the beam that is left, 0..1 */
  readonly keeps: number;
  /** soft: it dims all of the panel alike; absent = hard: it darkens whole cells, which stop their string */
  readonly edge?: 'soft';
}

/** Snow by month, January first. */
export interface Snow {
  /** share of the time that it lies on the ground, 0..1 */
  readonly groundShare: readonly number[];
  /** share of the light that it keeps from the panels, 0..1; absent = what the ground's share and the panel's tilt make likely */
  readonly panelShare?: readonly number[];
}

/** A point of the skyline, interpolated between points all round the compass. */
export interface HorizonPoint {
  readonly azimuthDeg: number;
  readonly elevationDeg: number;
}

/**
 * What the maker prints of one module at standard test conditions (1000 W/m², 25 °C): volts and amperes at open
 * circuit, short circuit and maximum power.
 */
export interface Datasheet {
  readonly vocV: number;
  readonly iscA: number;
  readonly vmpV: number;
  readonly impA: number;
  /** of power [1/K], negative */
  readonly tempPowerPerK: number;
  /** of open-circuit voltage [1/K], negative; absent = the technology's */
  readonly tempVoltagePerK?: number;
  /** of short-circuit current [1/K]; absent = the technology's */
  readonly tempCurrentPerK?: number;
  /** in series in one module; absent = from Voc */
  readonly cells?: number;
}

/** The charge controller of an array. */
export interface SolarController {
  readonly kind: 'MPPT' | 'PWM';
  /** largest output current [A] */
  readonly currentA: number;
  /** largest permitted input voltage, where the owner gives it [V] */
  readonly maxInputV?: number;
  /** peak conversion efficiency of an MPPT, 0..1 */
  readonly efficiency: number;
  /** own draw from the battery, day and night [W] */
  readonly standbyW: number;
  /** an MPPT starts when the array is this far above the battery [V] */
  readonly startMarginV: number;
  /** overrides of the battery's charge profile */
  readonly charge?: Partial<ChargeProfile>;
}

/** One or more equal panels on one controller. */
export interface SolarArray {
  readonly name: string;
  /** nameplate of one module at standard test conditions [W] */
  readonly powerW: number;
  readonly count: number;
  /** modules in series in one string; count is a multiple of it */
  readonly series: number;
  readonly technology: PanelTechnology;
  readonly mount: Mount;
  readonly tiltDeg: number;
  /** from north, clockwise; absent = toward the equator of the place */
  readonly azimuthDeg?: number;
  /** a portable panel turned to the sun so many times a day; 0 = fixed */
  readonly reaimedPerDay: number;
  readonly losses: {
    readonly soiling: number;
    readonly mismatch: number;
    readonly ageing: number;
    /** found by measuring and not told apart; below 0 where it gives more than it should; absent = 0 */
    readonly other?: number;
  };
  readonly soilingRange: Range;
  readonly shade: readonly ShadeWindow[];
  readonly horizon: readonly HorizonPoint[];
  readonly datasheet?: Datasheet;
  /** in series in one module without a datasheet; absent = those of a panel made for 12 V */
  readonly cells?: number;
  readonly controller: SolarController;
  /** from the array to its controller */
  readonly cable?: Cable;
  /** from the controller to the battery */
  readonly outputCable?: Cable;
  /** each module */
  readonly massKg?: number;
  readonly price?: number;
  readonly areaM2?: number;
}

/** What stands between alternator and house battery: a DC-DC charger, or a relay that joins the two. */
export type AlternatorCharger =
  | {
      readonly kind: 'dcdc';
      readonly currentA: number;
      readonly efficiency: number;
      /** stops below this input voltage [V] */
      readonly inputCutOutV: number;
      /** the solar controller built into the same box shares `currentA` */
      readonly sharedWithSolar: boolean;
      readonly charge?: Partial<ChargeProfile>;
    }
  | { readonly kind: 'relay'; readonly resistanceOhm: number; readonly sensing?: RelaySensing };

/** A relay that senses voltage: it stays joined with the engine off until the batteries have fallen far enough. */
export interface RelaySensing {
  /** of either battery, from which on it joins them [V] */
  readonly joinV: number;
  /** below which it parts them [V] */
  readonly partV: number;
  /** taken of the house battery while it joins them with the engine off: its coil and the parked vehicle [A] */
  readonly drawA: number;
}

/** The vehicle's alternator with what leads from it to the house battery. */
export interface Alternator {
  readonly ratingA: number;
  /** held by the regulator at its terminals [V] */
  readonly voltageV: number;
  /** variable-voltage ("smart") regulation: the low voltage it falls to when not coasting [V] */
  readonly lowVoltageV?: number;
  /** temperature-compensated regulation: change of `voltageV` per kelvin of the regulator above 25 °C [V/K]; absent = none */
  readonly perDegreeV?: number;
  /** what the vehicle itself draws with the engine on [A] */
  readonly vehicleA: number;
  /** share of the rating it gives hot, at driving speed, 0..1 */
  readonly hotShare: number;
  /** share of the rating it gives at idle, 0..1 */
  readonly idleShare: number;
  readonly charger: AlternatorCharger;
  /** from the alternator to the charger or relay */
  readonly cable?: Cable;
  /** from the charger to the house battery */
  readonly outputCable?: Cable;
}

/** The charger that a mains hook-up feeds. */
export interface MainsCharger {
  readonly currentA: number;
  readonly efficiency: number;
  readonly charge?: Partial<ChargeProfile>;
  readonly cable?: Cable;
}

/** Makes mains voltage for the loads behind it. */
export interface Inverter {
  readonly ratingW: number;
  /** with nothing connected [W] */
  readonly standbyW: number;
  /** 'always' or only while a load behind it runs */
  readonly on: 'always' | 'with loads';
  /** at its best point, 0..1 */
  readonly efficiency: number;
  /** at its terminals: it switches its loads off below one and on again from the other [V] */
  readonly cutOutV: number;
  readonly cutInV: number;
  /** what it gives for the second or two in which a load starts [W] */
  readonly surgeW: number;
  readonly cable?: Cable;
}

/** How warm the living space gets. */
export interface Cabin {
  /** above ambient at full sun (1000 W/m² on the roof), steady [K] */
  readonly gainK: number;
  /** time constant of the cabin's air and walls [h] */
  readonly lagH: number;
  /** warmer than outside besides the sun, by day and at night [K] */
  readonly offset?: { readonly dayK: number; readonly nightK: number };
  /** kept at least so warm by a heater; absent = not heated [°C] */
  readonly heatedC?: number;
  /** what the heater can do, where the cabin is heated */
  readonly heater?: CabinHeater;
}

/** A cabin's heater. */
export interface CabinHeater {
  /** heat it gives at most, and how far above the unheated cabin that takes it [W, K] */
  readonly powerW: number;
  readonly upToK: number;
  /** its fan and pump are loads on the battery: cut off with them */
  readonly needsPower: boolean;
  /** heat in its fuel at the start, and again after each drive; absent = never out of it [Wh] */
  readonly fuelWh?: number;
}

/** How strong a load is while on: a fixed power, a fixed current, or an expression in W. */
export type Draw =
  | { readonly kind: 'power'; readonly powerW: number }
  | { readonly kind: 'current'; readonly currentA: number }
  | { readonly kind: 'expression'; readonly text: string };

/** What every load has, whatever its kind. */
export interface LoadCommon {
  readonly name: string;
  /** not to be unserved: drop limit 3 % instead of 10 % */
  readonly critical: boolean;
  readonly cable?: Cable;
  /** start-up current [A], for voltage checks */
  readonly surgeA?: number;
  /** fed by the starter battery, so never a load of the house battery */
  readonly starterSide: boolean;
}

/** A load with a timetable. Energy a day = draw × on-time × share. */
export interface ScheduledLoad extends LoadCommon {
  readonly kind: 'scheduled';
  readonly draw: Draw;
  /** when it may run; empty = all day */
  readonly when: readonly DayWindow[];
  /** hours a day it runs, its energy spread evenly over its windows (limits are judged at full power); absent = the whole of them */
  readonly hoursPerDay?: number;
  /** runs so many times a day, each `lastsH`, spread evenly over its windows */
  readonly timesPerDay?: number;
  readonly lastsH?: number;
  /** runs only every so many days, 1 = daily */
  readonly everyDays: number;
  /** only on these days of the week, 0 = Sunday; absent = all */
  readonly weekdays?: readonly number[];
  /** only in these months, 1 = January; absent = all */
  readonly months?: readonly number[];
  /** share of use, 0..1 */
  readonly share: number;
  readonly inverter: boolean;
  /** behind the inverter: what it takes for the second or two in which it starts; absent = no more than it runs at [W] */
  readonly startW?: number;
}

/** What a fridge's label or data sheet says it takes, closed and without a cover. */
export interface RatedConsumption {
  readonly energyWhPerDay: number;
  /** air around it [°C] */
  readonly ambientC: number;
  /** kept inside while that was measured, whatever its set point now is; its second zone too [°C] */
  readonly insideC: number;
  readonly secondInsideC?: number;
  /** further points of the same data sheet, at other ambients */
  readonly also?: readonly { readonly energyWhPerDay: number; readonly ambientC: number }[];
}

/** A compressor fridge or freezer. */
export interface FridgeLoad extends LoadCommon {
  readonly kind: 'fridge';
  readonly volumeL: number;
  readonly setpointC: number;
  /** a second zone of the same box, e.g. a freezer */
  readonly secondZone?: { readonly volumeL: number; readonly setpointC: number };
  /** electrical consumption at an ambient, from which the heat leak is fitted */
  readonly rated?: RatedConsumption;
  /** wall insulation, from which the heat leak is computed when there is no rated consumption [mm] */
  readonly insulationMm?: number;
  /** share taken off the heat leak, 0..1 */
  readonly cover: number;
  readonly stands: 'cabin' | 'outside';
  /** electrical power while the compressor runs [W] */
  readonly compressorW: number;
  /** its electronics switch off below, and on again above, as they see it through their own cable [V] */
  readonly cutOutV: number;
  readonly cutInV: number;
  readonly openingsPerDay: number;
  /** mass of what is inside, as water [kg] */
  readonly contentKg: number;
  /** warm food put in each day: mass as water, at what local hour, how warm (absent = at the cabin's temperature) */
  readonly warmFood: readonly { readonly massKg: number; readonly atH: number; readonly temperatureC?: number }[];
  /** inside temperature at the start; absent = at the set point */
  readonly startC?: number;
  /** own electronics, day and night [W] */
  readonly standbyW: number;
  /** relative uncertainty of the heat leak */
  readonly heatLeakRange: Range;
}

/** Anything that uses power; `kind` tells which. */
export type Load = ScheduledLoad | FridgeLoad;

/** Monthly climate, January first: what a place's table row, a rig or a trip can give. */
export interface MonthlyClimate {
  /** mean daily irradiation on the horizontal, 12 values [kWh/m²/day] */
  readonly ghiKwhM2Day: readonly number[];
  /** mean daily maximum and minimum of air temperature, 12 values each [°C] */
  readonly tMaxC: readonly number[];
  readonly tMinC: readonly number[];
}

/** What is bolted in, with every default filled in: what `readRig` gives and all answers start from. */
export interface Rig {
  readonly name: string;
  readonly currency?: string;
  readonly battery: Battery;
  readonly solar: readonly SolarArray[];
  readonly alternator?: Alternator;
  readonly mains?: MainsCharger;
  readonly inverter?: Inverter;
  readonly cabin: Cabin;
  readonly loads: readonly Load[];
  /** the owner's own months, used instead of the table of places; parts may be given alone */
  readonly months?: Partial<MonthlyClimate>;
  /** reflectance of the ground without snow, 0..1 */
  readonly albedo: number;
  readonly snow?: Snow;
  /** vehicles that the rig may be, each as likely as the others: studies follow them too, and give their spread */
  readonly ensemble?: readonly VehicleDraw[];
}

/** One vehicle of an ensemble: by what it differs from the rig as its file has it. All are factors but `shade`. */
export interface VehicleDraw {
  /** power of all loads but fridges, times so much */
  readonly loads: number;
  /** heat leak of the fridges, times so much */
  readonly heatLeak: number;
  /** what the panels give, times so much */
  readonly harvest: number;
  /** share of the direct sun that trees and the like take, beside what the rig says, 0..1 */
  readonly shade: number;
  /** of the battery, times so much */
  readonly capacity: number;
}

/** `clear`, `climate` and `dull` are made; anything else is a file's name. */
export type WeatherChoice =
  | { readonly kind: 'clear' | 'climate' | 'dull' }
  | { readonly kind: 'file'; readonly path: string };

/** One stay of a trip, with the drive that leads to it. */
export interface Stop {
  readonly name?: string;
  /** exactly one of `at` and `place` */
  readonly at?: { readonly latDeg: number; readonly lonDeg: number };
  readonly place?: string;
  readonly elevationM?: number;
  /** IANA zone; absent = looked up from the position */
  readonly zone?: string;
  /** local civil date of arrival, ISO; absent = the day the stop before it ends */
  readonly from?: string;
  readonly nights: number;
  /** engine hours to get here, on the day of arrival */
  readonly driveH: number;
  /** drives that come back in the evening: every so many days after the day of arrival; absent = none */
  readonly outings?: { readonly everyDays: number; readonly driveH: number; readonly fromH: number };
  /** local civil hour at which that drive begins, in the zone that is left */
  readonly driveFromH: number;
  /** share of the sun taken by trees and the like for the whole stop, 0..1; of arrays that differ, the largest */
  readonly shade: number;
  /** the same of single arrays by their names; one that is not named has `shade` */
  readonly arrayShade?: Readonly<Record<string, number>>;
  /** share of the sky's own light taken where `shade` is, 0..1; absent = as much as of the sun, as under a canopy */
  readonly skyShade?: number;
  /** a load, by name, times so much */
  readonly use: Readonly<Record<string, number>>;
  /** hours on mains a day, from `mainsFromH` */
  readonly mainsH: number;
  readonly mainsFromH: number;
  readonly horizon: readonly HorizonPoint[];
  readonly months?: Partial<MonthlyClimate>;
}

/** Where, when and how: what `readTrip` gives. */
export interface Trip {
  readonly name: string;
  readonly startSoc: number;
  readonly weather: WeatherChoice;
  /** local civil time of the first day at which the run begins, 0 to 24, 24 excluded; midnight unless given [h] */
  readonly startH?: number;
  readonly stops: readonly Stop[];
}

/** One line of a parts list for sizing. */
export interface Part {
  readonly name: string;
  readonly massKg: number;
  readonly price: number;
  readonly areaM2?: number;
}
export interface BatteryPart extends Part {
  readonly battery: Battery;
}
export interface PanelPart extends Part {
  readonly array: SolarArray;
}
export interface ChargerPart extends Part {
  readonly charger: AlternatorCharger;
}

/** What there is to choose from, for `sizeStudy`: what `readParts` gives. */
export interface PartsList {
  readonly name: string;
  readonly batteries: readonly BatteryPart[];
  readonly panels: readonly PanelPart[];
  readonly chargers: readonly ChargerPart[];
  readonly limits: {
    readonly batteries?: number;
    readonly panels?: number;
    readonly massKg?: number;
    readonly price?: number;
    readonly areaM2?: number;
  };
  readonly target: {
    /** hours a year without power that are allowed */
    readonly unservedHours: number;
    /** share of weather years that must meet it, 0..1 */
    readonly years: number;
  };
}

/** A default that reading took because the file did not say. `text` is as the user would write it. */
export interface DefaultTaken {
  readonly path: string;
  readonly text: string;
  readonly why: string;
}

/** One thing wrong in a file, said so that it can be corrected. */
export interface ConfigIssue {
  /** short and stable: unknown_key, wrong_unit, missing, out_of_range, yaml … */
  readonly code: string;
  /** as written in that file: loads[1].power; '' for the whole */
  readonly path: string;
  readonly file?: string;
  /** from 1 */
  readonly line?: number;
  readonly column?: number;
  /** what is wrong, what was found and what would be right */
  readonly message: string;
  /** a guess at what was meant, or what would help */
  readonly hint?: string;
  /** the same with its options apart, where it names some: for whoever calls them otherwise */
  readonly advice?: Advice;
  /** the option of the call that it is about, where that is no file */
  readonly option?: OptionNamed;
}
