import type { DayInfo } from '../../../packages/core/src/load/index.js';
import type {
  ClockPoint,
  DayWindow,
  FridgeLoad,
  Inverter,
  ScheduledLoad,
} from '../../../packages/core/src/rig/index.js';

export const HOUR_MS = 3_600_000;

export const clock = (hour: number): ClockPoint => ({ kind: 'clock', hour });
export const sunrise = (offsetH = 0): ClockPoint => ({ kind: 'sunrise', offsetH });
export const sunset = (offsetH = 0): ClockPoint => ({ kind: 'sunset', offsetH });
export const window = (from: ClockPoint, to: ClockPoint): DayWindow => ({ from, to });

/** An invented load of 10 W. */
export function scheduled(fields: Partial<ScheduledLoad> = {}): ScheduledLoad {
  return {
    kind: 'scheduled',
    name: 'lamp',
    draw: { kind: 'power', powerW: 10 },
    when: [],
    everyDays: 1,
    share: 1,
    inverter: false,
    critical: false,
    starterSide: false,
    ...fields,
  };
}

/** An invented fridge. */
export function fridge(fields: Partial<FridgeLoad> = {}): FridgeLoad {
  return {
    kind: 'fridge',
    name: 'fridge',
    critical: true,
    starterSide: false,
    volumeL: 45,
    setpointC: 4,
    cover: 0,
    stands: 'cabin',
    compressorW: 45,
    cutOutV: 10.4,
    cutInV: 11.7,
    openingsPerDay: 0,
    contentKg: 10,
    warmFood: [],
    standbyW: 0.3,
    heatLeakRange: { low: 0.8, high: 1.25 },
    ...fields,
  };
}

/** A civil day in UTC with the sun up from 6 to 18, starting at hour 24 · dayNumber. */
export function plainDay(dayNumber: number, fields: Partial<DayInfo> = {}): DayInfo {
  const startMs = dayNumber * 24 * HOUR_MS;
  return {
    startMs,
    endMs: startMs + 24 * HOUR_MS,
    dayNumber,
    offsets: [{ fromMs: startMs, utcOffsetH: 0 }],
    sunriseMs: startMs + 6 * HOUR_MS,
    sunsetMs: startMs + 18 * HOUR_MS,
    use: {},
    ...fields,
  };
}

/** A day on which clocks in UTC+1/+2 go forward at 02:00 (23 h) or back at 03:00 (25 h). */
export function changeDay(hours: 23 | 25): DayInfo {
  const [before, after] = hours === 23 ? [1, 2] : [2, 1];
  const startMs = -before * HOUR_MS;
  return {
    ...plainDay(0),
    startMs,
    endMs: startMs + hours * HOUR_MS,
    offsets: [
      { fromMs: startMs, utcOffsetH: before },
      { fromMs: HOUR_MS, utcOffsetH: after },
    ],
  };
}

export const sum = (column: Float64Array) => column.reduce((total, value) => total + value, 0);

/** An invented inverter at 12 V. */
export const inverter: Inverter = {
  ratingW: 600,
  standbyW: 7,
  on: 'with loads',
  efficiency: 0.9,
  cutOutV: 10.5,
  cutInV: 12,
  surgeW: 1200,
};
