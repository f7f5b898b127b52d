import type { Task } from '../../math/index.js';
import { ConfigError, middleVehicle, type Rig, type Trip } from '../../rig/index.js';
import {
  type Assembled,
  assembleTask,
  type BatteryRows,
  batteryRows,
  type ConditionOptions,
  type Conditions,
  type Memo,
  partMemo,
  type WeatherYears,
  weatherYearsTask,
} from '../../simulate/index.js';
import type { WeatherSeries } from '../../weather/index.js';
import { type OpenLoop, openLoopOf } from '../run/open-loop.js';
import { follower, type Outcome } from '../run/outcome.js';
import { type TripYear, tripYears } from '../run/weather-cases.js';

/** Columns of so many steps in all are kept from one weather year to the next round: some 200 MB. */
const MAX_STEPS_KEPT = 6e5;
/** Trips, or cabins, whose weather is kept at once. */
const SCENES_KEPT = 2;

/** Weather years that are worked out once for all variants which meet the same, with the columns that follow from them. */
export class SweepBench {
  private readonly scenes = partMemo(SCENES_KEPT);

  /** @param series of weather files whose every year is a weather year; empty = the trip's own dates, in whatever weather it has */
  constructor(
    private readonly options: ConditionOptions,
    private readonly series: readonly WeatherSeries[] = [],
  ) {}

  /** What the rig comes to in one weather year, from 0. */
  *outcomeTask(rig: Rig, trip: Trip, year: number): Task<Outcome> {
    const scene = this.scenes(
      'scene',
      [rig.cabin, rig.months, trip],
      () => new SharedWeather(rig, trip, this.options, this.series),
    );
    const bench = yield* scene.year(year);
    return yield* bench.outcome(middleVehicle(rig), trip.startSoc);
  }
}

class SharedWeather {
  private weather: WeatherYears | undefined;
  private held: readonly TripYear[] | undefined;
  private readonly kept = new Map<number, YearBench>();
  private last: { readonly year: number; readonly bench: YearBench } | undefined;

  constructor(
    private readonly rig: Rig,
    private readonly trip: Trip,
    private readonly options: ConditionOptions,
    private readonly series: readonly WeatherSeries[],
  ) {}

  *year(year: number): Task<YearBench> {
    if (this.last?.year === year) return this.last.bench;
    const bench = this.kept.get(year) ?? new YearBench(yield* this.conditions(year));
    this.last = { year, bench };
    if ((this.kept.size + 1) * bench.steps <= MAX_STEPS_KEPT) this.kept.set(year, bench);
    return bench;
  }

  private *conditions(year: number): Task<Conditions> {
    if (this.trip.weather.kind === 'file' && this.series.length > 0) {
      this.held ??= tripYears(this.trip, this.series);
      const one = this.held[year];
      if (!one) throw tooFewYears(this.held.length, year + 1);
      const laid = yield* weatherYearsTask(this.rig, one.trip, this.options, one.series);
      return yield* laid.yearTask(0);
    }
    this.weather ??= yield* weatherYearsTask(this.rig, this.trip, this.options);
    return yield* this.weather.yearTask(year);
  }
}

/** Dates of a variant that the files hold less often than those of the first one. */
function tooFewYears(held: number, wanted: number): ConfigError {
  const message = `the weather files hold these dates in ${held} years, and those of the first variant in ${wanted} or more`;
  return new ConfigError([{ code: 'weather_span', path: 'weather', message, hint: 'vary dates within one season' }]);
}

class YearBench {
  private readonly memo: Memo = partMemo();
  private open: { readonly of: Assembled; readonly columns: OpenLoop } | undefined;
  private battery: BatteryRows | undefined;

  constructor(private readonly conditions: Conditions) {}

  get steps(): number {
    return this.conditions.itinerary.grid.steps;
  }

  *outcome(rig: Rig, startSoc: number): Task<Outcome> {
    const assembled = yield* assembleTask(rig, this.conditions, startSoc, this.memo);
    if (!this.open || !hasSameColumns(this.open.of, assembled))
      this.open = { of: assembled, columns: openLoopOf(assembled) };
    yield;
    const isFirst = this.battery === undefined;
    this.battery = batteryRows(assembled.input, this.battery);
    return follower(assembled, this.open.columns, isFirst ? undefined : this.battery)({});
  }
}

/** Whether all but the battery came from the same memory: loads, fridges, and chargers with the panels behind them. */
function hasSameColumns({ input: a }: Assembled, { input: b }: Assembled): boolean {
  return a.plainW === b.plainW && a.fridgeRunW === b.fridgeRunW && a.drive === b.drive;
}
