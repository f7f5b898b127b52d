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

const KELVIN = 273.15;

/** What the hot loop needs: plain numbers, all fixed for a run. Powers in W, conductance in W/K, capacity in Wh/K. */
export interface FridgeModel {
  readonly setpointC: number;
  /** conductance of the whole box, the cover taken off */
  readonly uaWPerK: number;
  /** steady extra leak of a second zone that is colder (or warmer, then negative) than the first */
  readonly secondZoneW: number;
  /** thermal mass of contents and liner */
  readonly capacityWhPerK: number;
  readonly evaporatorC: number;
  /** electrical power while running, at COMPRESSOR_RATED_ROOM_C */
  readonly compressorW: number;
  readonly standbyW: number;
  readonly volumeL: number;
  /** how the conductance came about, for the reader */
  readonly uaFrom: 'rated consumption' | 'insulation';
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

/**
 * The fridge as numbers. The heat leak comes from the rated consumption if there is one (closed, empty, no openings,
 * no cover), else from volume and insulation. Two zones share one box, one thermal mass and one compressor whose
 * evaporator serves the colder; the leak is shared by volume. Their temperatures move together, so after many hours
 * without power the warmer zone is taken a few kelvin too warm.
 * Latent heat counts for food put in, not for contents that thaw.
 * @param path of the load in the user's file, for the error
 * @throws ConfigError if the rated consumption is more than the compressor can draw, or less than its electronics do
 */
export function fridgeModel(load: FridgeLoad, path = load.name): FridgeModel {
  const { setpointC, secondZone, compressorW, standbyW } = load;
  const volumeL = load.volumeL + (secondZone?.volumeL ?? 0);
  const evaporatorC = Math.min(setpointC, secondZone?.setpointC ?? setpointC) - EVAPORATOR_BELOW_BOX_K;
  const secondShare = (secondZone?.volumeL ?? 0) / volumeL;
  const colderK = secondZone ? secondShare * (setpointC - secondZone.setpointC) : 0;
  const bare: FridgeModel = {
    setpointC,
    uaWPerK: 0,
    secondZoneW: 0,
    capacityWhPerK:
      load.contentKg * (setpointC < -1 ? ICE_WH_PER_KG_K : WATER_WH_PER_KG_K) + LINER_WH_PER_K_PER_L * volumeL,
    evaporatorC,
    compressorW,
    standbyW,
    volumeL,
    uaFrom: load.rated ? 'rated consumption' : 'insulation',
  };
  const leak = load.rated
    ? fittedLeak(bare, load.rated.energyWhPerDay, load.rated.ambientC, colderK, path)
    : heatLeakWPerK(volumeL, load.insulationMm ?? DEFAULT_INSULATION_MM);
  const uaWPerK = leak * (1 - load.cover);
  return { ...bare, uaWPerK, secondZoneW: uaWPerK * colderK };
}

function fittedLeak(bare: FridgeModel, whPerDay: number, roomC: number, colderK: number, path: string): number {
  const fail = (message: string): never => {
    throw new ConfigError([{ code: 'out_of_range', path: `${path}.rated`, message }]);
  };
  const runW = compressorElectricW(bare, roomC);
  const meanW = whPerDay / 24 - bare.standbyW;
  if (!(meanW > 0)) fail(`${whPerDay} Wh/day is no more than its electronics alone take (${bare.standbyW} W)`);
  if (meanW > runW)
    fail(
      `${whPerDay} Wh/day is more than the compressor takes when it never stops (${Math.round((runW + bare.standbyW) * 24)} Wh/day)`,
    );
  const acrossK = roomC - bare.setpointC + colderK;
  if (!(acrossK > 0)) fail(`was rated at ${roomC} °C, which is not warmer than the set point ${bare.setpointC} °C`);
  return (meanW / runW) * (compressorCoolingW(bare, roomC) / acrossK);
}

/** Electrical power while running, electronics not included; never below half of what it is at 25 °C [W]. */
export function compressorElectricW(model: FridgeModel, roomC: number): number {
  return model.compressorW * Math.max(0.5, 1 + POWER_PER_K * (roomC - COMPRESSOR_RATED_ROOM_C));
}

/**
 * Coefficient of performance in a room of this temperature. In rooms so cold that the condenser would come within 10 K
 * of the evaporator it is taken as if it stayed there.
 */
export function roomCop(model: FridgeModel, roomC: number): number {
  return compressorCop(model.evaporatorC, Math.max(roomC + CONDENSER_ABOVE_ROOM_K, model.evaporatorC + 10));
}

/** Cooling capacity while running: power times coefficient of performance [W]. */
export function compressorCoolingW(model: FridgeModel, roomC: number): number {
  return compressorElectricW(model, roomC) * roomCop(model, roomC);
}

/** Both at once, for readers; the loop uses the two scalars. */
export function compressor(model: FridgeModel, roomC: number): { coolingW: number; electricW: number } {
  return { coolingW: compressorCoolingW(model, roomC), electricW: compressorElectricW(model, roomC) };
}

/** Heat that comes in through the walls, negative in a room colder than the box [W]. */
export function heatLeakW(model: FridgeModel, roomC: number, insideC: number): number {
  return model.uaWPerK * (roomC - insideC) + model.secondZoneW;
}
