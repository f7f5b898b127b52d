import { ConfigError, type FridgeLoad } from '../rig/index.js';

// Every constant of common practice here is the middle of its stated range, so that none leans on any one figure.

/** Evaporator below the coldest zone [K]. Common practice: 10 to 15 K. */
export const EVAPORATOR_BELOW_BOX_K = 12.5;
/** Condenser above the room's air [K]. Common practice: 10 to 15 K. */
export const CONDENSER_ABOVE_ROOM_K = 12.5;
/**
 * Coefficient of performance as a share of Carnot's between evaporating and condensing temperature. Small hermetic
 * 12 V compressors: 0.25 to 0.45 (compressor rating points of COP 1.0 to 1.3 at −25/55 °C, from memory).
 */
export const CARNOT_FRACTION = 0.35;
/**
 * Electrical power while running rises by this share for each kelvin of condensing temperature [1/K]; capacity, which
 * is power times COP, then falls by about 1.4 % per kelvin. Common practice, no source: 0.5 to 1 % per kelvin.
 */
export const POWER_PER_K = 0.0075;
/** Room temperature at which `compressorW` is understood [°C]: that of the rated consumption of IEC 62552:2007. */
export const COMPRESSOR_RATED_ROOM_C = 25;
/** Polyurethane foam between fresh and aged [W/(m K)]. Common practice: 0.020 to 0.030. */
export const FOAM_W_PER_MK = 0.025;
/** Gasket, feed-throughs and the machine's side, on top of the walls. Common practice: 20 to 50 % more. */
export const LEAK_ALLOWANCE = 1.35;
/** Wall thickness when neither a rated consumption nor an insulation is given [mm]. Common practice. */
export const DEFAULT_INSULATION_MM = 40;
/** Inside proportions of a portable box, length : width : height. Common practice. */
const PROPORTIONS = [1.5, 0.9, 1] as const;
/** Liner, evaporator and air beside the contents, per litre [Wh/(K L)]: about 1.5 kg of plastic to 20 L. */
const LINER_WH_PER_K_PER_L = 0.03;
/** Specific heat of water and ice, and heat of freezing [Wh/(kg K), Wh/kg]: 4.186, 2.1 kJ/(kg K), 334 kJ/kg. */
export const WATER_WH_PER_KG_K = 4.186 / 3.6;
export const ICE_WH_PER_KG_K = 2.1 / 3.6;
export const FREEZING_WH_PER_KG = 334 / 3.6;
/**
 * Contents, counted as water, freeze and thaw between these [°C]. Food freezes over a range: beef and fish begin near −2 °C
 * (Earle, Unit Operations in Food Processing, appendix 7), drinks near 0 °C.
 */
export const FREEZES_C = -1;
export const FROZEN_C = -2;

const KELVIN = 273.15;

/** One compartment of a fridge. */
export interface FridgeRoom {
  readonly setpointC: number;
  readonly volumeL: number;
  /** conductance of its walls, the cover taken off */
  readonly uaWPerK: number;
  /** what is inside, as water */
  readonly contentKg: number;
  /** liner, evaporator and air */
  readonly linerWhPerK: number;
}

/** A fridge as plain numbers, all fixed for a run: one or two rooms on one compressor. Powers in W, conductance in W/K. */
export interface FridgeModel {
  /** the fridge, then its second zone if it has one */
  readonly rooms: readonly FridgeRoom[];
  /** conductance of the whole box */
  readonly uaWPerK: number;
  /** serves the coldest room */
  readonly evaporatorC: number;
  /** electrical power while running, at COMPRESSOR_RATED_ROOM_C */
  readonly compressorW: number;
  readonly standbyW: number;
  /** how the conductance came about, for the reader */
  readonly uaFrom: 'rated consumption' | 'insulation';
  /** what makes the model meet each point of its data sheet: its coefficient of performance times this, by the room's air */
  readonly datasheet: readonly { readonly roomC: number; readonly copTimes: number }[];
}

/**
 * Coefficient of performance: CARNOT_FRACTION · Te / (Tc − Te), temperatures of evaporator and condenser in kelvin.
 * Source: Carnot. @throws RangeError unless the condenser is the warmer
 */
export function compressorCop(evaporatorC: number, condenserC: number): number {
  if (!(condenserC > evaporatorC)) throw new RangeError(`condenserC ${condenserC} must be above ${evaporatorC}`);
  return (CARNOT_FRACTION * (evaporatorC + KELVIN)) / (condenserC - evaporatorC);
}

/**
 * Conduction through the walls of a box with inside dimensions and even wall thickness:
 * k · (Σ A / L + 0.54 · Σ edges + 8 · 0.15 · L). Source: Incropera & DeWitt, table 4.1, from memory.
 * Accuracy: valid for inside dimensions above a fifth of the wall; surface films neglected (they take about 10 %).
 * @param insideM length, width, height [m]; @param wallM [m]; @returns [W/K]
 */
export function boxConductance(insideM: readonly [number, number, number], wallM: number, kWPerMK: number): number {
  if (!(wallM > 0)) throw new RangeError(`wallM must be above 0, got ${wallM}`);
  const [a, b, c] = insideM;
  const walls = (2 * (a * b + b * c + a * c)) / wallM;
  const edges = 0.54 * 4 * (a + b + c);
  const corners = 8 * 0.15 * wallM;
  return kWPerMK * (walls + edges + corners);
}

/** Heat leak of a portable fridge from its volume and insulation, LEAK_ALLOWANCE included [W/K]. */
export function heatLeakWPerK(volumeL: number, insulationMm: number): number {
  const [a, b, c] = PROPORTIONS;
  const unitM = Math.cbrt(volumeL / 1000 / (a * b * c));
  return LEAK_ALLOWANCE * boxConductance([a * unitM, b * unitM, c * unitM], insulationMm / 1000, FOAM_W_PER_MK);
}

/** Where consumption was measured: inside each room, and what of it went into heat pumping [W]. */
interface RatedState {
  readonly roomC: number;
  readonly evaporatorC: number;
  readonly pumpingW: number;
  /** Σ of (room − inside) of its rooms, each by its share of the box [K] */
  readonly acrossK: number;
}

/**
 * The fridge as numbers. The heat leak comes from the rated consumption if there is one (closed, empty, no openings, no
 * cover, with the inside at what it was rated at, whatever the set point now is), else from volume and insulation. It is
 * shared between two rooms by volume; one compressor serves both, with its evaporator for the colder.
 * Of several points of a data sheet the heat leak is their middle (geometric mean), and the coefficient of performance meets
 * each, straight between them and constant beyond.
 * @param path of the load in the user's file, for the error
 * @throws ConfigError if a rated consumption is no more than the electronics take, or its room no warmer than its inside
 */
export function fridgeModel(load: FridgeLoad, path = load.name): FridgeModel {
  const { secondZone, compressorW, standbyW, contentKg } = load;
  const zones = [{ volumeL: load.volumeL, setpointC: load.setpointC }, ...(secondZone ? [secondZone] : [])];
  const volumeL = zones.reduce((sum, zone) => sum + zone.volumeL, 0);
  const evaporatorC = Math.min(...zones.map(({ setpointC }) => setpointC)) - EVAPORATOR_BELOW_BOX_K;
  const rated = load.rated
    ? [load.rated, ...(load.rated.also ?? [])].map((point) =>
        ratedState(load, { ...load.rated!, ...point }, `${path}.rated`),
      )
    : [];
  const leaks = rated.map((point) => (point.pumpingW * copAt(point.evaporatorC, point.roomC)) / point.acrossK);
  const leak = load.rated
    ? Math.exp(leaks.reduce((sum, one) => sum + Math.log(one), 0) / leaks.length)
    : heatLeakWPerK(volumeL, load.insulationMm ?? DEFAULT_INSULATION_MM);
  const uaWPerK = leak * (1 - load.cover);
  return {
    rooms: zones.map((zone) => ({
      ...zone,
      uaWPerK: (uaWPerK * zone.volumeL) / volumeL,
      contentKg: (contentKg * zone.volumeL) / volumeL,
      linerWhPerK: LINER_WH_PER_K_PER_L * zone.volumeL,
    })),
    uaWPerK,
    evaporatorC,
    compressorW,
    standbyW,
    uaFrom: load.rated ? 'rated consumption' : 'insulation',
    datasheet:
      rated.length < 2
        ? []
        : rated.map(({ roomC }, k) => ({ roomC, copTimes: leak / leaks[k]! })).toSorted((a, b) => a.roomC - b.roomC),
  };
}

type RatedPoint = NonNullable<FridgeLoad['rated']>;

function ratedState(load: FridgeLoad, point: RatedPoint, path: string): RatedState {
  const { volumeL, secondZone, standbyW } = load;
  const { energyWhPerDay, ambientC, insideC, secondInsideC = insideC } = point;
  const fail = (message: string): never => {
    throw new ConfigError([{ code: 'out_of_range', path, message }]);
  };
  const pumpingW = energyWhPerDay / 24 - standbyW;
  if (!(pumpingW > 0)) fail(`${energyWhPerDay} Wh/day is no more than its electronics alone take (${standbyW} W)`);
  const secondShare = secondZone ? secondZone.volumeL / (volumeL + secondZone.volumeL) : 0;
  const acrossK = ambientC - insideC + secondShare * (insideC - secondInsideC);
  if (!(acrossK > 0)) fail(`was rated at ${ambientC} °C, which is not warmer than its inside was, ${insideC} °C`);
  const coldestC = secondZone ? Math.min(insideC, secondInsideC) : insideC;
  return { roomC: ambientC, evaporatorC: coldestC - EVAPORATOR_BELOW_BOX_K, pumpingW, acrossK };
}

/** What its compressor takes when it never stops, electronics included, in a room of this temperature [Wh/day]. */
export function mostWhPerDay(load: Pick<FridgeLoad, 'compressorW' | 'standbyW'>, roomC: number): number {
  return 24 * (compressorElectricW(load, roomC) + load.standbyW);
}

/** Electrical power while running, electronics not included; never below half of what it is at 25 °C [W]. */
export function compressorElectricW({ compressorW }: Pick<FridgeModel, 'compressorW'>, roomC: number): number {
  return compressorW * Math.max(0.5, 1 + POWER_PER_K * (roomC - COMPRESSOR_RATED_ROOM_C));
}

/**
 * Coefficient of performance in a room of this temperature. In rooms so cold that the condenser would come within 10 K
 * of the evaporator it is taken as if it stayed there.
 */
export function roomCop({ evaporatorC, datasheet }: FridgeModel, roomC: number): number {
  return copAt(evaporatorC, roomC) * copTimes(datasheet, roomC);
}

function copAt(evaporatorC: number, roomC: number): number {
  return compressorCop(evaporatorC, Math.max(roomC + CONDENSER_ABOVE_ROOM_K, evaporatorC + 10));
}

function copTimes(points: FridgeModel['datasheet'], roomC: number): number {
  if (points.length === 0) return 1;
  const above = points.findIndex((point) => point.roomC >= roomC);
  if (above < 0) return points.at(-1)!.copTimes;
  const [low, high] = [points[Math.max(0, above - 1)]!, points[above]!];
  if (low === high || high.roomC === low.roomC) return high.copTimes;
  return low.copTimes + ((high.copTimes - low.copTimes) * (roomC - low.roomC)) / (high.roomC - low.roomC);
}

/** Cooling capacity while running: power times coefficient of performance [W]. */
export function compressorCoolingW(model: FridgeModel, roomC: number): number {
  return compressorElectricW(model, roomC) * roomCop(model, roomC);
}

/** Both at once, for readers; the loop uses the two scalars. */
export function compressor(model: FridgeModel, roomC: number): { coolingW: number; electricW: number } {
  return { coolingW: compressorCoolingW(model, roomC), electricW: compressorElectricW(model, roomC) };
}
