import { finish } from '../../math/index.js';
import { type Rig, type VehicleDraw, vehicleOf } from '../../rig/index.js';
import {
  type Assembled,
  assemble,
  type Conditions,
  dayBounds,
  FULL_SOC,
  type LoopOutput,
  layOutSteps,
  loopOutput,
  loopState,
  type Memo,
  partMemo,
  runSteps,
  scaleChargerDrive,
  type WeatherYears,
  weatherYearsTask,
  withEndlessFuel,
} from '../../simulate/index.js';
import { type StudyStop, stopTrip } from '../../study/index.js';

/** What a display would have shown of one vehicle: a value for each civil day followed, and steps for single looks. */
export interface Shown {
  /** put out by the solar controllers, and taken by all loads, at the bus [Wh] */
  readonly solarWh: Float64Array;
  readonly usedWh: Float64Array;
  readonly lowest: Float64Array;
  readonly highest: Float64Array;
  /** times that all loads were cut off */
  readonly cuts: Float64Array;
  /** at each step's end, and its mean [V] */
  readonly soc: Float64Array;
  readonly batteryV: Float64Array;
  /** inside the first fridge; empty without one [°C] */
  readonly fridgeC: Float64Array;
}

/** Hours do for sums of days: against ten minutes the harvest of weeks moves by less than 1 %. */
const STEP_H = 1;
/** Followed before the first reading, so that it no longer matters how full it began [days]. */
export const LEAD_DAYS = 6;
const START_SOC = 0.9;
const VARIANTS_KEPT = 8;
const SHADE_STEP = 0.1;

/** Vehicles followed over the days of some readings, parked at one place, under weather years of its climate. */
export class VehicleRuns {
  readonly dates: readonly string[];
  readonly stepH = STEP_H;
  private readonly weather: WeatherYears;
  private readonly years = new Map<number, { conditions: Conditions; memo: Memo }>();
  private out: LoopOutput | undefined;

  /** @param from first day followed, local civil date */
  constructor(
    private readonly rig: Rig,
    stop: StudyStop,
    from: string,
    days: number,
    seed: number,
  ) {
    const trip = stopTrip(stop, from, days, { kind: 'climate' });
    this.weather = finish(weatherYearsTask(withEndlessFuel(rig), trip, { stepH: STEP_H, seed }));
    this.dates = this.weather.itinerary.days.map(({ date }) => date);
  }

  /** @param year of the seed's weather, from 0 */
  shown(draw: VehicleDraw, year: number): Shown {
    const at = this.years.get(year) ?? { conditions: this.weather.year(year), memo: partMemo(VARIANTS_KEPT) };
    this.years.set(year, at);
    // The light of a few shades is worked out, and what controllers make of it follows: straight between those, times the harvest.
    const step = Math.min(Math.floor(draw.shade / SHADE_STEP), Math.ceil(1 / SHADE_STEP) - 1);
    const beyond = draw.shade / SHADE_STEP - step;
    const laid = [step, step + 1].map((n) => {
      const rig = vehicleOf(this.rig, { ...draw, harvest: 1, shade: n * SHADE_STEP });
      const assembled = assemble(rig, at.conditions, START_SOC, at.memo);
      return { assembled, rows: layOutSteps(assembled.input) };
    });
    const [{ assembled, rows }, other] = laid as [(typeof laid)[number], (typeof laid)[number]];
    const { solar } = assembled;
    blend(rows, other.rows, beyond);
    const pwmA = assembled.input.pwmA.map((table, lane) => {
      const own = table.slice();
      blend(own, other.assembled.input.pwmA[lane]!, beyond);
      return lane < solar.length ? own.map((amps) => amps * draw.harvest) : own;
    });
    const input = { ...assembled.input, pwmA };
    for (let lane = 0; lane < solar.length; lane++) scaleChargerDrive(rows, input, lane, draw.harvest);
    this.out ??= loopOutput(input.steps, input);
    const { out } = this;
    runSteps({ ...assembled, input }, out, loopState(input, rows), 0, input.steps, new Float64Array(input.steps));
    return this.daily(assembled, out);
  }

  private daily(assembled: Assembled, out: LoopOutput): Shown {
    const bounds = dayBounds(assembled);
    const column = () => new Float64Array(bounds.length);
    const shown = { solarWh: column(), usedWh: column(), lowest: column().fill(1), highest: column(), cuts: column() };
    const { rows, soc, busV, batteryA, onShare, chargerW, chargerBusW } = out;
    const { input, solar } = assembled;
    let wasOn = true;
    bounds.forEach(({ from, to }, d) => {
      let solarW = 0;
      let usedW = 0;
      for (let i = from; i < to; i++) {
        for (let lane = 0; lane < input.chargers; lane++) {
          if (lane < solar.length) solarW += chargerW[lane * rows + i]!;
          usedW += chargerBusW[lane * rows + i]!;
        }
        usedW -= busV[i]! * batteryA[i]!;
        const now = soc[i]!;
        if (now < shown.lowest[d]!) shown.lowest[d] = now;
        if (now > shown.highest[d]!) shown.highest[d] = now;
        const isOn = onShare[i]! > 0.999;
        if (wasOn && !isOn) shown.cuts[d]!++;
        wasOn = isOn;
      }
      shown.solarWh[d] = solarW * STEP_H;
      shown.usedWh[d] = usedW * STEP_H;
    });
    const fridgeC = input.fridges > 0 ? out.fridgeC.slice(0, out.rows) : new Float64Array();
    return { ...shown, soc: soc.slice(), batteryV: out.batteryV.slice(), fridgeC };
  }
}

/** So much of the way from one column to another of the same length. */
function blend(column: Float64Array, other: Float64Array, share: number): void {
  for (let i = 0; i < column.length; i++) column[i] = column[i]! + share * (other[i]! - column[i]!);
}

/** Whether a day's highest state of charge counts as full. */
export const isFull = (highest: number) => highest >= FULL_SOC;
