import type { Rig, SolarArray } from '../../rig/index.js';
import { createPlaneColumns, type PlaneColumns, planeColumns } from '../../sky/index.js';
import {
  type ArrayColumns,
  arrayColumns,
  type ConverterCoefficients,
  minMpptV,
  mpptConverter,
  mpptMaxOutputW,
} from '../../solar/index.js';
import { circuitLoopOhm } from '../../wire/index.js';
import type { Conditions } from '../types.js';
import { CONDUCTOR_C } from './conductors.js';

/** Voltage at maximum power over open-circuit voltage of crystalline modules. Common practice, no source: 0.8 to 0.84. */
const VMP_PER_VOC = 0.82;

/** An array as the loop takes it. */
export interface SolarLane {
  readonly array: SolarArray;
  readonly plane: PlaneColumns;
  /** share of the array in hard shadow, by its windows; absent without windows */
  readonly shaded?: Float64Array;
  readonly columns: ArrayColumns;
  readonly cableOhm: number;
  /** an MPPT's conversion; undefined for PWM */
  readonly converter?: ConverterCoefficients;
  /** most that an MPPT can put out [W] */
  readonly maxOutputW: Float64Array;
}

/** Light on one array and what it and its controller can give, open loop. */
export function solarLane(array: SolarArray, rig: Rig, conditions: Conditions, nominalV: number): SolarLane {
  return arrayLane(array, planeOfArray(array, rig, conditions), conditions, nominalV);
}

/** Light on a plane: the same for every array that stands so. */
export type PlaneOfArray = Pick<SolarLane, 'plane' | 'shaded'>;

/** All of an array that `planeOfArray` looks at: flat, it faces no way. */
export function lightReads({ tiltDeg, azimuthDeg, reaimedPerDay, shade, horizon }: SolarArray): unknown {
  return [tiltDeg, tiltDeg === 0 ? 0 : azimuthDeg, reaimedPerDay, shade, horizon];
}

/** The light on an array's plane at every step of a run, less skyline, shade and reflection at the glass. */
export function planeOfArray(array: SolarArray, rig: Pick<Rig, 'albedo'>, conditions: Conditions): PlaneOfArray {
  const { grid, itinerary, sun, weather, beamKeeps } = conditions;
  const { steps } = grid;
  const shaded = windowShade(array, conditions);
  let keeps = beamKeeps;
  if (shaded) {
    keeps = new Float64Array(steps);
    for (let i = 0; i < steps; i++) keeps[i] = beamKeeps[i]! * (1 - shaded[i]!);
  }
  const plane = createPlaneColumns(steps);
  for (const leg of itinerary.legs) {
    const cut = (column: Float64Array) => column.subarray(leg.firstStep, leg.firstStep + leg.steps);
    const horizon = array.horizon.length > 0 ? array.horizon : leg.stop.horizon;
    planeColumns(
      { cosZenith: cut(sun.cosZenith), azimuthDeg: cut(sun.azimuthDeg), extraNormalWm2: cut(sun.extraNormalWm2) },
      { ghiWm2: cut(weather.ghiWm2), dniWm2: cut(weather.dniWm2), dhiWm2: cut(weather.dhiWm2) },
      {
        tiltDeg: array.tiltDeg,
        azimuthDeg: array.azimuthDeg,
        albedo: rig.albedo,
        horizon,
        beamKeeps: cut(keeps),
        reaimedPerDay: array.reaimedPerDay,
      },
      {
        poaWm2: cut(plane.poaWm2),
        beamWm2: cut(plane.beamWm2),
        skyDiffuseWm2: cut(plane.skyDiffuseWm2),
        groundWm2: cut(plane.groundWm2),
        cosIncidence: cut(plane.cosIncidence),
        effectiveWm2: cut(plane.effectiveWm2),
      },
    );
  }
  return { plane, ...(shaded && { shaded }) };
}

/** What an array and its controller give of the light on its plane. */
export function arrayLane(array: SolarArray, lit: PlaneOfArray, conditions: Conditions, nominalV: number): SolarLane {
  const { plane, shaded } = lit;
  const { weather } = conditions;
  const columns = arrayColumns(
    array,
    {
      effectiveWm2: plane.effectiveWm2,
      poaWm2: plane.poaWm2,
      ambientC: weather.ambientC,
      windMs: weather.windMs,
      ...(shaded && { beamShade: shaded, beamWm2: plane.beamWm2 }),
    },
    { nominalV },
  );
  return controllerLane(array, lit, columns, nominalV);
}

/** What the controller makes of an array's columns. */
export function controllerLane(
  array: SolarArray,
  lit: PlaneOfArray,
  columns: ArrayColumns,
  nominalV: number,
): SolarLane {
  const steps = columns.availableW.length;
  const cableOhm = circuitLoopOhm(array.cable, CONDUCTOR_C);
  const lane = { array, plane: lit.plane, ...(lit.shaded && { shaded: lit.shaded }), columns, cableOhm };
  if (array.controller.kind === 'PWM') return { ...lane, maxOutputW: new Float64Array(steps) };
  const converter = mpptConverter(array.controller, nominalV);
  const maxOutputW = mpptMaxOutputW(columns, cableOhm, converter);
  // It wakes when the open array stands startAboveV above the battery, and runs on while the string is a little above.
  const wakesV = (13.3 * nominalV) / 12 + array.controller.startAboveV;
  const runsV = minMpptV(nominalV);
  for (let i = 0; i < steps; i++) {
    const voltageV = columns.voltageV[i]!;
    if (voltageV < runsV || voltageV / VMP_PER_VOC < wakesV) maxOutputW[i] = 0;
  }
  return { ...lane, converter, maxOutputW };
}

/** Share of the array in hard shadow at each step, by its windows of local civil time; undefined without windows. */
function windowShade(array: SolarArray, { itinerary, grid }: Conditions): Float64Array | undefined {
  if (array.shade.length === 0) return undefined;
  const halfStepH = grid.stepH / 2;
  const { localHour } = itinerary;
  const shaded = new Float64Array(grid.steps);
  for (const { fromH, toH, keeps } of array.shade)
    for (let i = 0; i < grid.steps; i++) {
      const hour = localHour[i]!;
      const inside =
        fromH <= toH
          ? overlap(hour, halfStepH, fromH, toH)
          : overlap(hour, halfStepH, fromH, 24) + overlap(hour, halfStepH, 0, toH);
      if (inside > 0) shaded[i] = Math.max(shaded[i]!, (1 - keeps) * inside);
    }
  return shaded;
}

/** Share of [hour − half, hour + half] inside [from, to]. */
function overlap(hour: number, half: number, from: number, to: number): number {
  return Math.max(0, Math.min(hour + half, to) - Math.max(hour - half, from)) / (2 * half);
}
