import type { Mount } from '../rig/index.js';

/**
 * Module temperature after Faiman:  T = Tair + G / (u0 + u1 · v).  Steady state; a module follows within about ten minutes.
 * Source: Faiman, Progress in Photovoltaics 16, 2008, p. 307; the form of IEC 61853-2.
 * @param poaWm2 irradiance on the module's plane [W/m²]
 * @param windMs at module height, not at 10 m [m/s]
 * @param u0 heat loss in still air [W/(m²K)]
 * @param u1 what wind adds [W·s/(m³K)]
 * @returns [°C]
 */
export function faimanC(poaWm2: number, airC: number, windMs: number, u0: number, u1: number): number {
  return airC + poaWm2 / (u0 + u1 * windMs);
}

/**
 * Back-of-module temperature after King:  T = Tair + G · exp(a + b · v).
 * Source: King, Boyson & Kratochvil, Photovoltaic array performance model, SAND2004-3535, 2004, eq. 11.
 * @param windMs at 10 m, as in the source [m/s]
 * @returns [°C]
 */
export function kingC(poaWm2: number, airC: number, windMs: number, a: number, b: number): number {
  return airC + poaWm2 * Math.exp(a + b * windMs);
}

/**
 * Wind at height h over wind at 10 m: neutral logarithmic profile, ln(h / z0) / ln(10 m / z0), with a roughness length
 * z0 of 0.1 m (low crops, scattered bushes: the upper end of "roughly open" in the Davenport classes; from memory).
 * Assumption: camps are more sheltered than an airfield; among trees the wind, and so the cooling, is less still.
 */
export function windFactor(heightM: number): number {
  const roughnessM = 0.1;
  return Math.log(heightM / roughnessM) / Math.log(10 / roughnessM);
}

/**
 * How a mount sheds heat, in one of the two published forms: Faiman's u0 [W/(m²·K)] and u1 [W/(m²·K) per m/s], where `wind`
 * multiplies the 10 m wind; or King's a and b [s/m].
 */
export type HeatLoss =
  | { readonly form: 'faiman'; readonly u0: number; readonly u1: number; readonly wind: number }
  | { readonly form: 'king'; readonly a: number; readonly b: number };

/** Faiman 2008, mean of seven module types on an open rack. */
const FAIMAN_U0 = 25;
const FAIMAN_U1 = 6.84;

/**
 * Ross coefficients [K·m²/W] of Skoplaki & Palyvos, Renewable Energy 34, 2009 (after Nordmann & Clavadetscher 2003;
 * from memory): free standing 0.021, flat on a roof well ventilated 0.026, not so well 0.0342, no gap 0.0563.
 * A panel over a gap sheds this much less heat than a free one.
 */
const GAP_OVER_FREE = 0.026 / 0.021;

/**
 * The four mounts.
 * - rack: open behind; Faiman, wind at 2 m above ground (a vehicle's roof is about there).
 * - ground: a portable panel on its stand, open behind; Faiman, wind at 0.5 m.
 * - gap: some centimetres of air under the panel; Faiman's loss divided by the ratio of Ross coefficients above; 32 K above
 *   air at full sun and 3 m/s, inside the 26 to 34 K of their two flat-roof classes.
 * - bonded: no air behind. King's table has an insulated back (−2.81, −0.0455) and a close roof mount
 *   (−2.98, −0.0471); a vehicle's roof, thin metal over a lined cabin, leaks more than the first and less than the
 *   second, so the mean is taken: 48 to 55 K above air at full sun from 3 m/s to still air. Skoplaki & Palyvos span
 *   34 to 56 K for the same case. King's cell-to-back difference (0 to 1 K here) is left out.
 */
export const MOUNT_HEAT_LOSS: Readonly<Record<Mount, HeatLoss>> = {
  rack: { form: 'faiman', u0: FAIMAN_U0, u1: FAIMAN_U1, wind: windFactor(2) },
  ground: { form: 'faiman', u0: FAIMAN_U0, u1: FAIMAN_U1, wind: windFactor(0.5) },
  gap: { form: 'faiman', u0: FAIMAN_U0 / GAP_OVER_FREE, u1: FAIMAN_U1 / GAP_OVER_FREE, wind: windFactor(2) },
  bonded: { form: 'king', a: (-2.81 - 2.98) / 2, b: (-0.0455 - 0.0471) / 2 },
};

/**
 * Cell temperature in steady sun. Night cooling below the air (about 2 to 5 K under a clear sky) is left out.
 * Accuracy: the sources scatter by 3 to 5 K on racks and more on roofs; 5 K is about 2 % of power.
 * @param poaWm2 irradiance on the plane, before reflection, ≥ 0 [W/m²]
 * @param windMs at 10 m, ≥ 0 [m/s]
 * @returns [°C]
 */
export function cellTemperatureC(mount: Mount, poaWm2: number, airC: number, windMs: number): number {
  const loss = MOUNT_HEAT_LOSS[mount];
  return loss.form === 'faiman'
    ? faimanC(poaWm2, airC, windMs * loss.wind, loss.u0, loss.u1)
    : kingC(poaWm2, airC, windMs, loss.a, loss.b);
}

/** `cellTemperatureC` for whole columns of one length. */
export function cellTemperatureColumn(
  mount: Mount,
  poaWm2: Float64Array,
  airC: Float64Array,
  windMs: Float64Array,
): Float64Array {
  const loss = MOUNT_HEAT_LOSS[mount];
  const cellC = new Float64Array(poaWm2.length);
  if (loss.form === 'faiman') {
    const { u0, u1, wind } = loss;
    for (let i = 0; i < cellC.length; i++) cellC[i] = airC[i]! + poaWm2[i]! / (u0 + u1 * wind * windMs[i]!);
  } else {
    const { a, b } = loss;
    for (let i = 0; i < cellC.length; i++) {
      const poa = poaWm2[i]!;
      cellC[i] = poa === 0 ? airC[i]! : airC[i]! + poa * Math.exp(a + b * windMs[i]!);
    }
  }
  return cellC;
}
