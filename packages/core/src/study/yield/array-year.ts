import type { Rig, SolarArray } from '../../rig/index.js';
import { type Conditions, facingDeg, groundAlbedo, type SolarLane, solarLane } from '../../simulate/index.js';
import { type PlaneColumns, planeColumns } from '../../sky/index.js';
import { arrayColumns } from '../../solar/index.js';
import { type Calendar, monthSums } from '../run/calendar.js';
import { controllerOutput } from './controller-output.js';
import { YIELD_LOSSES } from './yield-types.js';

/** Sums of one array over one weather year, by month. */
export interface ArrayYear {
  /** [Wh/m²] */
  readonly poaWhM2: Float64Array;
  /** [Wh] */
  readonly availableWh: Float64Array;
  readonly yieldWh: Float64Array;
}

/** What is left of the year's light after each factor: `levelsWh[0]` all of it, then after each of YIELD_LOSSES in turn. */
export interface ArrayYearFlow extends ArrayYear {
  readonly levelsWh: Float64Array;
}

export function nominalV(rig: Pick<Rig, 'battery'>): number {
  return rig.battery.nominalV * rig.battery.series;
}

/** At the controller's output by month [Wh]: the short way, for setups that are only compared. */
export function arrayYieldWh(array: SolarArray, rig: Rig, conditions: Conditions, calendar: Calendar): Float64Array {
  const lane = solarLane(array, rig, conditions, nominalV(rig));
  return monthSums(controllerOutput(lane, nominalV(rig)).outputW, calendar, conditions.grid.stepH);
}

/** One array through one weather year, with what each loss factor takes. */
export function arrayYear(array: SolarArray, rig: Rig, conditions: Conditions, calendar: Calendar): ArrayYearFlow {
  const { stepH } = conditions.grid;
  const lane = solarLane(array, rig, conditions, nominalV(rig));
  const { availableW, cableLossW, outputW } = controllerOutput(lane, nominalV(rig));
  const yieldWh = monthSums(outputW, calendar, stepH);
  return {
    poaWhM2: monthSums(lane.plane.poaWm2, calendar, stepH),
    availableWh: monthSums(availableW, calendar, stepH),
    yieldWh,
    levelsWh: levels(lane, rig, conditions, cableLossW, yieldWh),
  };
}

function levels(
  lane: SolarLane,
  rig: Rig,
  conditions: Conditions,
  cableLossW: Float64Array,
  yieldWh: Float64Array,
): Float64Array {
  const { array, plane, shaded, columns } = lane;
  const { weather, grid } = conditions;
  const open = inTheOpen(lane, rig, conditions);
  const nameplate = (array.powerW * array.count) / 1000; // W per W/m²

  // The module without dirt, mismatch and age, and without a PWM controller's table.
  const bare: SolarArray = {
    ...array,
    losses: { soiling: 0, mismatch: 0, ageing: 0 },
    controller: { ...array.controller, kind: 'MPPT' },
  };
  const air = { poaWm2: plane.poaWm2, ambientC: weather.ambientC, windMs: weather.windMs };
  const lit = { ...air, effectiveWm2: plane.effectiveWm2 };
  const volts = { nominalV: nominalV(rig) };
  const evenW = arrayColumns(bare, lit, volts).availableW;
  const cleanW = shaded
    ? arrayColumns(bare, { ...lit, beamShade: shaded, beamWm2: plane.beamWm2 }, volts).availableW
    : evenW;
  // As hot as it is, but as efficient as in full light: 1000 W/m² on the cells in each step.
  const fullLight = { ...air, effectiveWm2: new Float64Array(grid.steps).fill(1000) };
  const hotW = arrayColumns(bare, fullLight, volts).availableW;

  const uncoveredW = lane.uncoveredW ?? columns.availableW;
  let [light, reflected, shade, heat, lowLight, aged, uncovered, cable] = [0, 0, 0, 0, 0, 0, 0, 0];
  for (let i = 0; i < grid.steps; i++) {
    light += open.poaWm2[i]!;
    reflected += open.effectiveWm2[i]!;
    const sun = plane.effectiveWm2[i]!;
    // What part shade costs a string beyond the light it takes.
    const kept = evenW[i]! > 0 ? cleanW[i]! / evenW[i]! : 1;
    shade += sun * kept;
    heat += sun * kept * hotW[i]!;
    lowLight += cleanW[i]!;
    aged += uncoveredW[i]!;
    uncovered += columns.availableW[i]!;
    cable += cableLossW[i]!;
  }
  const { mismatch, ageing, other = 0 } = array.losses;
  const old = aged / (1 - other);
  const mismatched = old / (1 - ageing);
  const yielded = yieldWh.reduce((sum, wh) => sum + wh, 0) / grid.stepH;
  const watts = [
    light * nameplate,
    reflected * nameplate,
    shade * nameplate,
    heat / 1000,
    lowLight,
    mismatched / (1 - mismatch),
    mismatched,
    old,
    aged,
    uncovered,
    uncovered - cable,
    yielded,
  ];
  if (watts.length !== YIELD_LOSSES.length + 1) throw new RangeError('one level for each loss, and one before them');
  return Float64Array.from(watts, (sum) => sum * grid.stepH);
}

/** Light on the plane with no trees, no skyline and no shade windows; the lane's own when it has none of them. */
function inTheOpen(lane: SolarLane, rig: Rig, conditions: Conditions): PlaneColumns {
  const { array } = lane;
  const { sun, weather, itinerary } = conditions;
  const isOpen =
    array.shade.length === 0 &&
    array.horizon.length === 0 &&
    itinerary.legs.every(({ stop }) => stop.shade === 0 && stop.horizon.length === 0);
  if (isOpen) return lane.plane;
  const { tiltDeg, reaimedPerDay } = array;
  const azimuthDeg = facingDeg(array, itinerary.legs[0]!.place);
  return planeColumns(sun, weather, { tiltDeg, azimuthDeg, reaimedPerDay, albedo: groundAlbedo(rig, conditions) });
}
