import { HOUR_MS } from '../../math/index.js';
import type { Itinerary, Place } from '../../place/index.js';
import type { Rig, SolarArray, Stop } from '../../rig/index.js';
import { createPlaneColumns, type Grid, type PlaneColumns, planeColumns } from '../../sky/index.js';
import {
  type ArrayColumns,
  arrayColumns,
  type ConverterCoefficients,
  minMpptV,
  mpptConverter,
  mpptMaxOutputW,
} from '../../solar/index.js';
import { CONDUCTOR_C, circuitLoopOhm } from '../../wire/index.js';
import type { Conditions } from '../types.js';

/** Voltage at maximum power over open-circuit voltage of crystalline modules. Common practice, no source: 0.8 to 0.84. */
const VMP_PER_VOC = 0.82;

/** An array as the loop takes it. */
export interface SolarLane {
  readonly array: SolarArray;
  readonly plane: PlaneColumns;
  /** share of the array in hard shadow, by its windows; absent without such */
  readonly shaded?: Float64Array;
  /** after snow and packing away */
  readonly columns: ArrayColumns;
  /** share of each step's power that snow and packing away leave, and the power without them [W]; absent = all */
  readonly setUp?: Float64Array;
  readonly uncoveredW?: Float64Array;
  readonly cableOhm: number;
  /** an MPPT's conversion; undefined for PWM */
  readonly converter?: ConverterCoefficients;
  /** most that an MPPT can put out [W] */
  readonly maxOutputW: Float64Array;
}

/** Light on one array and what it and its controller can give, open loop. */
export function solarLane(array: SolarArray, rig: Rig, conditions: Conditions, nominalV: number): SolarLane {
  return arrayLane(array, rig, planeOfArray(array, rig, conditions), conditions, nominalV);
}

/** Light on a plane: the same for every array that stands so. */
export type PlaneOfArray = Pick<SolarLane, 'plane' | 'shaded'>;

/** All that `planeOfArray` looks at of an array and of its rig: flat, it faces no way. */
export function lightReads(
  { name, tiltDeg, azimuthDeg, reaimedPerDay, shade, horizon }: SolarArray,
  { albedo, snow }: Pick<Rig, 'albedo' | 'snow'>,
): unknown {
  return [name, tiltDeg, tiltDeg === 0 ? 0 : azimuthDeg, reaimedPerDay, shade, horizon, albedo, snow?.groundShare];
}

/** Where an array faces: its own way, or else toward the equator of the place [deg]. */
export function facingDeg({ azimuthDeg }: Pick<SolarArray, 'azimuthDeg'>, { latDeg }: Pick<Place, 'latDeg'>): number {
  return azimuthDeg ?? (latDeg < 0 ? 0 : 180);
}

/**
 * The light on an array's plane at every step of a run, less skyline, shade and reflection at the glass. The shade of a stop is
 * a canopy's: unless the stop says otherwise it takes as much of the sky's light as of the sun's (Beer-Lambert with one leaf
 * area for both, Monsi & Saeki 1953; within a fifth of what is measured under trees).
 */
export function planeOfArray(
  array: SolarArray,
  rig: Pick<Rig, 'albedo' | 'snow'>,
  conditions: Conditions,
): PlaneOfArray {
  const { grid, itinerary, sun, weather } = conditions;
  const windows = windowShade(array, conditions);
  const albedo = groundAlbedo(rig, conditions);
  const beamKeeps = new Float64Array(grid.steps);
  const plane = createPlaneColumns(grid.steps);
  for (const leg of itinerary.legs) {
    const [from, to] = [leg.firstStep, leg.firstStep + leg.steps];
    const cut = (column: Float64Array) => column.subarray(from, to);
    const horizon = array.horizon.length > 0 ? array.horizon : leg.stop.horizon;
    const shade = leg.stop.arrayShade?.[array.name] ?? leg.stop.shade;
    for (let i = from; i < to; i++) beamKeeps[i] = (1 - shade) * (windows ? windows.keeps[i]! : 1);
    planeColumns(
      { cosZenith: cut(sun.cosZenith), azimuthDeg: cut(sun.azimuthDeg), extraNormalWm2: cut(sun.extraNormalWm2) },
      { ghiWm2: cut(weather.ghiWm2), dniWm2: cut(weather.dniWm2), dhiWm2: cut(weather.dhiWm2) },
      {
        tiltDeg: array.tiltDeg,
        azimuthDeg: facingDeg(array, leg.place),
        albedo: typeof albedo === 'number' ? albedo : cut(albedo),
        horizon,
        beamKeeps: cut(beamKeeps),
        skyKeeps: 1 - skyShade(leg.stop, shade),
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
  return { plane, ...(windows?.hard && { shaded: windows.hard }) };
}

/** Share of the sky's light taken from an array that loses `shade` of the sun at a stop. */
function skyShade(stop: Stop, shade: number): number {
  return stop.skyShade === undefined || stop.shade === 0 ? shade : (stop.skyShade * shade) / stop.shade;
}

/** Snow that has lain for some days: the table in general use in solar engineering, for snow that is not fresh. */
const SNOW_ALBEDO = 0.65;

/** Reflectance of the ground: one value, or with snow one a step. */
export function groundAlbedo(
  { albedo, snow }: Pick<Rig, 'albedo' | 'snow'>,
  { itinerary, grid }: Conditions,
): number | Float64Array {
  if (!snow) return albedo;
  const column = monthly(snow.groundShare, itinerary, grid);
  for (let i = 0; i < column.length; i++) column[i] = albedo + (SNOW_ALBEDO - albedo) * column[i]!;
  return column;
}

/** Twelve values of the months, laid out over the steps by local date. */
function monthly(values: readonly number[], { days }: Itinerary, { startMs, stepH, steps }: Grid): Float64Array {
  const column = new Float64Array(steps);
  days.forEach((day, k) => {
    const from = Math.round((day.startMs - startMs) / (stepH * HOUR_MS));
    const next = days[k + 1];
    const to = next ? Math.round((next.startMs - startMs) / (stepH * HOUR_MS)) : steps;
    column.fill(values[Number(day.date.slice(5, 7)) - 1]!, Math.max(0, from), to);
  });
  return column;
}

/**
 * Share of the light that snow keeps from a panel while it lies on the ground, by tilt: of the energy of a snowy winter's months.
 * From memory, after studies in the Sierra Nevada, Michigan and Ontario; the middle of ranges as wide as a factor of three. A flat
 * panel does not shed snow by sliding (Marion et al., Solar Energy 97, 2013).
 */
const SNOW_BY_TILT = [0.75, 0.5, 0.3, 0.19, 0.09] as const;
const SNOW_TILT_STEP_DEG = 15;

/** The twelve shares of an array's light that snow keeps, by month; undefined without snow. */
export function snowOnPanel({ tiltDeg, mount }: Pick<SolarArray, 'tiltDeg' | 'mount'>, { snow }: Pick<Rig, 'snow'>) {
  if (!snow) return undefined;
  if (snow.panelShare) return snow.panelShare;
  if (mount === 'ground') return undefined; // set up by hand, so cleared by hand
  const at = Math.min(tiltDeg / SNOW_TILT_STEP_DEG, SNOW_BY_TILT.length - 1);
  const low = Math.min(Math.floor(at), SNOW_BY_TILT.length - 2);
  const lost = SNOW_BY_TILT[low]! + (SNOW_BY_TILT[low + 1]! - SNOW_BY_TILT[low]!) * (at - low);
  return snow.groundShare.map((share) => share * lost);
}

/** What an array and its controller give of the light on its plane. */
export function arrayLane(
  array: SolarArray,
  rig: Pick<Rig, 'snow'>,
  lit: PlaneOfArray,
  conditions: Conditions,
  nominalV: number,
): SolarLane {
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
  const setUp = setUpShare(array, rig, conditions);
  if (!setUp) return controllerLane(array, lit, columns, nominalV);
  return { ...controllerLane(array, lit, scaled(columns, setUp), nominalV), setUp, uncoveredW: columns.availableW };
}

/**
 * Share of its power that an array has to give: a panel on the ground is packed away on the road, and snow covers some of the month;
 * undefined where that is all of it.
 */
function setUpShare(array: SolarArray, rig: Pick<Rig, 'snow'>, { itinerary, grid }: Conditions) {
  const snow = snowOnPanel(array, rig);
  const isPacked = array.mount === 'ground' && itinerary.driving.some((share) => share > 0);
  if (!isPacked && !snow?.some((share) => share > 0)) return undefined;
  const covered = snow && monthly(snow, itinerary, grid);
  const share = new Float64Array(grid.steps);
  for (let i = 0; i < share.length; i++)
    share[i] = (isPacked ? 1 - itinerary.driving[i]! : 1) * (covered ? 1 - covered[i]! : 1);
  return share;
}

function scaled(columns: ArrayColumns, share: Float64Array): ArrayColumns {
  const { availableW, currentAtV } = columns;
  if (!currentAtV) return { ...columns, availableW: availableW.map((watts, i) => watts * share[i]!) };
  const points = currentAtV.voltagesV.length;
  return {
    ...columns,
    availableW: availableW.map((watts, i) => watts * share[i]!),
    currentAtV: {
      ...currentAtV,
      currentA: currentAtV.currentA.map((amps, k) => amps * share[Math.floor(k / points)]!),
    },
  };
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
  // It wakes when the open array stands startMarginV above the battery, and runs on while the string is a little above.
  const wakesV = (13.3 * nominalV) / 12 + array.controller.startMarginV;
  const runsV = minMpptV(nominalV);
  for (let i = 0; i < steps; i++) {
    const voltageV = columns.voltageV[i]!;
    if (voltageV < runsV || voltageV / VMP_PER_VOC < wakesV) maxOutputW[i] = 0;
  }
  return { ...lane, converter, maxOutputW };
}

/** Shade by windows of local civil time: what is left of the beam, and the share of the array in hard shadow, where there is one. */
function windowShade(array: SolarArray, { itinerary, grid }: Conditions) {
  if (array.shade.length === 0) return undefined;
  const halfStepH = grid.stepH / 2;
  const { localHour } = itinerary;
  const shareOf = (windows: SolarArray['shade']) => {
    const shaded = new Float64Array(grid.steps);
    for (const { fromH, toH, keeps } of windows)
      for (let i = 0; i < grid.steps; i++) {
        const hour = localHour[i]!;
        const inside =
          fromH <= toH
            ? overlap(hour, halfStepH, fromH, toH)
            : overlap(hour, halfStepH, fromH, 24) + overlap(hour, halfStepH, 0, toH);
        if (inside > 0) shaded[i] = Math.max(shaded[i]!, (1 - keeps) * inside);
      }
    return shaded;
  };
  const [hard, soft] = [
    array.shade.filter(({ edge }) => edge !== 'soft'),
    array.shade.filter(({ edge }) => edge === 'soft'),
  ];
  const inHard = shareOf(hard);
  const inSoft = shareOf(soft);
  const keeps = inHard.map((share, i) => (1 - share) * (1 - inSoft[i]!));
  return { keeps, ...(hard.length > 0 && { hard: inHard }) };
}

/** Share of [hour − half, hour + half] inside [from, to]. */
function overlap(hour: number, half: number, from: number, to: number): number {
  return Math.max(0, Math.min(hour + half, to) - Math.max(hour - half, from)) / (2 * half);
}
