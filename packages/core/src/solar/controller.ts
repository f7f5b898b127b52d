/**
 * The loss of every converter of the project (MPPT, DC-DC, inverter, mains charger) as three terms:
 *   P_in = p0 + (1 + a) · P_out + b · P_out²
 * own use, drops proportional to power, and resistive loss.
 * Source: Schmidt & Sauer, Wechselrichter-Wirkungsgrade, Sonnenenergie 4, 1996 (the loss form).
 */
export interface ConverterCoefficients {
  readonly p0W: number;
  readonly a: number;
  readonly bPerW: number;
}

/** What is printed on a converter. */
export interface ConverterRating {
  /** at its best point, (0, 1] */
  readonly efficiency: number;
  /** of output [W] */
  readonly ratingW: number;
  /** own use with nothing to convert [W]; absent = a quarter of the loss at its best point */
  readonly standbyW?: number;
}

/** Share of the rating at which a converter is at its best. Common practice, no source: 0.2 to 0.6. */
const BEST_LOAD = 0.4;

/**
 * Coefficients such that efficiency peaks at the given value and falls towards low and full load. The curve peaks at
 * P* = √(p0/b), where 1/η = 1 + a + 2·p0/P*; P* is at 40 % of the rating, or higher where a large own use asks for it
 * (then a = 0).
 */
export function converterCoefficients(rating: ConverterRating): ConverterCoefficients {
  const { efficiency, ratingW } = rating;
  if (!(efficiency > 0 && efficiency <= 1))
    throw new RangeError(`efficiency must be above 0 and at most 1, got ${efficiency}`);
  if (!(ratingW > 0)) throw new RangeError(`ratingW must be more than 0, got ${ratingW}`);
  const loss = 1 / efficiency - 1;
  const p0W = rating.standbyW ?? (loss * BEST_LOAD * ratingW) / 4;
  if (!(p0W >= 0)) throw new RangeError(`standbyW must not be negative, got ${p0W}`);
  if (p0W === 0) return { p0W, a: loss, bPerW: 0 };
  // Without any loss left for it, own use cannot have a peak: the curve then only rises towards full load.
  if (loss === 0) return { p0W, a: 0, bPerW: 0 };
  const bestW = Math.max(BEST_LOAD * ratingW, (2 * p0W) / loss);
  return { p0W, a: Math.max(0, loss - (2 * p0W) / bestW), bPerW: p0W / bestW ** 2 };
}

/** Input power for an output, the converter being on [W]; p0W at no output. */
export function inputFromOutputW(c: ConverterCoefficients, outputW: number): number {
  return c.p0W + (1 + c.a) * outputW + c.bPerW * outputW * outputW;
}

/** Output power from an input [W]; 0 where the input does not cover the converter's own use. Inverse of `inputFromOutputW`. */
export function outputFromInputW(c: ConverterCoefficients, inputW: number): number {
  const beyondW = inputW - c.p0W;
  if (!(beyondW > 0)) return 0;
  const slope = 1 + c.a;
  return (2 * beyondW) / (slope + Math.sqrt(slope * slope + 4 * c.bPerW * beyondW));
}
