import { batteryModel } from '../../battery/index.js';
import type { Battery, Rig, SolarArray } from '../../rig/index.js';
import {
  type Assembled,
  arrayLane,
  assemble,
  batteryClimate,
  batteryInput,
  type ChargerColumns,
  type Conditions,
  controllerLane,
  joinedShare,
  type LoopInput,
  lightReads,
  loopState,
  type PlaneOfArray,
  planeOfArray,
} from '../../simulate/index.js';
import type { ArrayColumns } from '../../solar/index.js';
import { calendarOf, monthSums } from '../run/calendar.js';
import { type OpenLoop, openLoopOf } from '../run/open-loop.js';

/** A charger beside the arrays as it is in this year: the engine's, or mains. */
type OtherCharger = Pick<ChargerColumns, 'drive' | 'limitA' | 'share'>;

/** What the worksheet starts from, by civil month: 12 values each. */
export interface MonthDemand {
  readonly days: Float64Array;
  /** asked by all loads, as the battery's bus sees it but for cables [Wh] */
  readonly loadWh: Float64Array;
  /** the lowest of the battery's temperature over a whole day [°C]; infinite in months without one */
  readonly coldestC: Float64Array;
}

/** What an array has to give at its controller; with a PWM the current at each voltage of its table. */
interface SolarDrive {
  readonly maxOutputW: Float64Array;
  readonly currentA?: Float64Array;
}

interface BatteryYear {
  readonly rows: Float64Array;
  readonly batteryC: Float64Array;
  readonly heaterW?: Float64Array;
  /** capacity of the bank that the rows are of [Ah] */
  readonly capacityAh: number;
}

/**
 * One weather year of one case: all that no choice changes, and what the choices share, worked out when first asked for.
 * Light on a plane serves all panels that stand so, one module's output any number of them, one battery's temperature and
 * limits any bank of its kind.
 */
export class SizeYear {
  readonly steps: number;
  /** loads and fridges as the loop reads them, without chargers */
  readonly loadRows: Float64Array;
  /** the fridges' rooms, where a row does not say all of them */
  readonly rooms: Pick<LoopInput, 'fridgeLossWPerK' | 'fridgeInflowW' | 'fridgeFoodKgPerH' | 'fridgeCoolingW'>;
  /** what `unservedShare` looks at */
  readonly asks: Float64Array;
  readonly fallsShort: Float64Array;
  readonly holdW: readonly Float64Array[];
  readonly heavyAskedW: readonly Float64Array[];
  /** lanes in a row of `loadRows` */
  readonly lanes: Pick<LoopInput, 'steps' | 'fridges' | 'heavies'>;
  readonly dayFrom: readonly number[];
  /** the night, noon to noon, that each step belongs to */
  readonly nightOf: Int32Array;
  readonly socDraw: Assembled['socDraw'];
  readonly demand: MonthDemand;
  private readonly planes = new Map<string, PlaneOfArray>();
  private readonly modules = new Map<SolarArray, { lit: PlaneOfArray; columns: ArrayColumns }>();
  private readonly drives = new Map<string, SolarDrive>();
  private readonly batteries = new Map<string, BatteryYear>();
  private readonly engines = new Map<object, readonly OtherCharger[]>();

  constructor(
    private readonly rig: Rig,
    readonly conditions: Conditions,
  ) {
    const { grid, itinerary } = conditions;
    this.steps = grid.steps;
    const base = assemble({ ...rig, solar: [] }, conditions, 1);
    const open = openLoopOf({ ...base, input: { ...base.input, chargers: 0 } });
    this.loadRows = open.laidOut;
    const { fridgeLossWPerK, fridgeInflowW, fridgeFoodKgPerH, fridgeCoolingW } = base.input;
    this.rooms = { fridgeLossWPerK, fridgeInflowW, fridgeFoodKgPerH, fridgeCoolingW };
    this.asks = open.asks;
    this.fallsShort = open.fallsShort;
    this.holdW = open.holdW;
    this.heavyAskedW = open.heavyAskedW;
    this.lanes = base.input;
    this.dayFrom = open.dayFrom;
    this.socDraw = base.socDraw;
    this.demand = monthDemand(base, open);
    this.nightOf = new Int32Array(grid.steps);
    for (let day = 0; day + 1 < open.dayFrom.length; day++)
      for (let i = open.dayFrom[day]!; i < open.dayFrom[day + 1]!; i++)
        this.nightOf[i] = itinerary.localHour[i]! < 12 ? day : day + 1;
  }

  /** What the weather makes of a battery, as rows of a bank of its kind that serve `times` as large a one. */
  battery({ battery, alternator }: Pick<Rig, 'battery' | 'alternator'>): BatteryYear & { readonly times: number } {
    const { capacityAh, count, health } = battery;
    const ah = capacityAh * count * health;
    const joined = joinedShare({ ...(alternator && { alternator }) }, this.conditions);
    const key = JSON.stringify([
      battery.chemistry,
      battery.stands,
      battery.thermalLagH,
      battery.chargeMinC,
      battery.maxChargeA / ah,
      battery.selfDischargePerMonth,
      joined !== undefined,
      // A heater's effect depends on the mass it heats.
      battery.heater && [battery.heater, battery],
    ]);
    const known = this.batteries.get(key) ?? this.batteryYear(battery, ah, joined);
    this.batteries.set(key, known);
    return { ...known, times: ah / known.capacityAh };
  }

  private batteryYear(battery: Battery, capacityAh: number, joined: Float64Array | undefined): BatteryYear {
    const { batteryC, heaterW } = batteryClimate(battery, this.conditions);
    const { grid } = this.conditions;
    const empty = assemble({ ...this.rig, battery, solar: [], loads: [] }, withoutSteps(this.conditions), 1);
    const input = {
      ...empty.input,
      steps: grid.steps,
      ...batteryInput({ battery }, batteryModel(battery), batteryC, grid.stepH, 1, joined),
    };
    return { rows: loopState(input, new Float64Array(0)).battery, batteryC, ...(heaterW && { heaterW }), capacityAh };
  }

  /** What an array's controller can give. @param module the same array with `count` at its line's, by which outputs are shared */
  solar(array: SolarArray, module: SolarArray, nominalV: number): SolarDrive {
    const key = JSON.stringify([array, nominalV]);
    const known = this.drives.get(key);
    if (known) return known;
    const { lit, columns } = this.module(module, nominalV);
    const times = array.count / module.count;
    const availableW = columns.availableW.map((watts) => times * watts);
    const currentA = columns.currentAtV?.currentA.map((amps) => times * amps);
    const made = currentA
      ? { maxOutputW: availableW, currentA }
      : { maxOutputW: controllerLane(array, lit, { ...columns, availableW }, nominalV).maxOutputW };
    this.drives.set(key, made);
    return made;
  }

  private module(module: SolarArray, nominalV: number): { lit: PlaneOfArray; columns: ArrayColumns } {
    const known = this.modules.get(module);
    if (known) return known;
    const lit = this.plane(module);
    const made = { lit, columns: arrayLane(module, this.rig, lit, this.conditions, nominalV).columns };
    this.modules.set(module, made);
    return made;
  }

  plane(array: SolarArray): PlaneOfArray {
    const key = JSON.stringify(lightReads(array, this.rig));
    const lit = this.planes.get(key) ?? planeOfArray(array, this.rig, this.conditions);
    this.planes.set(key, lit);
    return lit;
  }

  /** The chargers that are not solar, in the loop's order. */
  others({ alternator, mains, ...rig }: Rig): readonly OtherCharger[] {
    const key = alternator?.charger ?? mains ?? this;
    const known = this.engines.get(key);
    if (known) return known;
    const lanes = Number(alternator !== undefined) + Number(mains !== undefined);
    const alone = { ...rig, ...(alternator && { alternator }), ...(mains && { mains }), solar: [], loads: [] };
    const { input } = assemble(alone, this.conditions, 1);
    const cut = (columns: Float64Array, k: number) => columns.slice(k * this.steps, (k + 1) * this.steps);
    const made = Array.from({ length: lanes }, (_, k) => ({
      drive: cut(input.drive, k),
      limitA: cut(input.limitA, k),
      share: cut(input.chargerShare, k),
    }));
    this.engines.set(key, made);
    return made;
  }
}

function monthDemand({ rig, conditions, plain, inverter, batteryC }: Assembled, open: OpenLoop): MonthDemand {
  const { grid, itinerary } = conditions;
  const calendar = calendarOf(itinerary);
  const nominalV = rig.battery.nominalV * rig.battery.series;
  const askedW = open.askedW.map((watts, i) => watts + nominalV * open.askedA[i]!);
  const heavyW = plain.filter(({ isHeavy }) => isHeavy).map(({ meanW }) => meanW!);
  for (const column of [...open.holdW, ...heavyW, ...(inverter ? [inverter.columns.inputW] : [])])
    for (let i = 0; i < askedW.length; i++) askedW[i] = askedW[i]! + column[i]!;
  const coldestC = new Float64Array(12).fill(Infinity);
  for (let day = 0; day + 1 < open.dayFrom.length; day++) {
    const [from, to] = [open.dayFrom[day]!, open.dayFrom[day + 1]!];
    const month = calendar.monthOf[from]!;
    const meanC = batteryC.subarray(from, to).reduce((sum, cellC) => sum + cellC, 0) / (to - from);
    coldestC[month] = Math.min(coldestC[month]!, meanC);
  }
  return { days: calendar.days, loadWh: monthSums(askedW, calendar, grid.stepH), coldestC };
}

/** The same conditions on an empty grid: a rig assembled on them has all but its columns. */
export function withoutSteps(conditions: Conditions): Conditions {
  const { itinerary, grid, sun, weather } = conditions;
  const none = new Float64Array(0);
  const empty = <T extends object>(columns: T): T =>
    Object.fromEntries(Object.keys(columns).map((key) => [key, none])) as T;
  const emptyGrid = { ...grid, steps: 0 };
  return {
    ...conditions,
    grid: emptyGrid,
    itinerary: { ...itinerary, grid: emptyGrid, legs: [], days: [], driving: none, mains: none, localHour: none },
    sun: empty(sun),
    weather: empty(weather),
    cabinC: none,
  };
}
