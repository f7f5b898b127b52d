import type { DayParameters } from './day-statistics.js';

/**
 * How the days of a place lie about their months' means: coefficients of the regressions of `day-statistics.ts`, each with its
 * standard error, and the range of its predictor in the fit. Made by `npm run fit-days` from statistics of daily
 * records: 18 stations of 4 to 41 years and twelve more by their months (open DSSAT crop-model data set), seven typical years
 * (TMY3, SWERA) and one measured year. Weighted least squares with an error of each place's own, standard errors
 * clustered by place. Not to be changed by hand.
 */
export const DAY_PARAMETERS: DayParameters = {
  // 38 places; a place's mean lies within 0.1 (one standard deviation)
  spread: {
    coefficients: [
      -0.6427, // ± 0.027: constant
      -0.6466, // ± 0.044: equatorial
      -0.02696, // ± 0.0024: afternoons above 20 °C outside the equatorial belt [per K]
      -1.687, // ± 0.45: frontal × summerClear
    ],
    ranges: [
      [1, 1],
      [1.15e-23, 1],
      [0, 20.3],
      [-0.06669, 0.09466],
    ],
  },
  // 31 places; a place's mean lies within 0.078 (one standard deviation)
  clearnessLag: {
    coefficients: [
      0.1999, // ± 0.021: constant
      0.03154, // ± 0.0023: range of day and night outside the equatorial belt [per K]
      -0.1921, // ± 0.025: frontal
    ],
    ranges: [
      [1, 1],
      [0.0001484, 14.02],
      [0, 1],
    ],
  },
  // 26 places; a place's mean lies within 0.13 (one standard deviation)
  airSd: {
    coefficients: [
      -1.201, // ± 0.35: constant
      -0.02489, // ± 0.0051: month’s temperature above −10 °C [per °C]
      0.05042, // ± 0.013: range of day and night [per K]
      0.4782, // ± 0.074: frontal
      0.4441, // ± 0.096: inland
      -0.09503, // ± 0.08: frontal × season
    ],
    ranges: [
      [1, 1],
      [-10, 33.1],
      [2.5, 17.88],
      [0, 1],
      [2.905, 4.43],
      [-0.9659, 0.9659],
    ],
  },
  // 18 places; a place's mean lies within 0.1 (one standard deviation)
  airLag: {
    coefficients: [
      0.9281, // ± 0.028: constant
      -0.4548, // ± 0.071: equatorial
    ],
    ranges: [
      [1, 1],
      [3.844e-18, 1],
    ],
  },
  // 26 places; a place's mean lies within 0.19 (one standard deviation)
  warmth: {
    coefficients: [
      0.2705, // ± 0.087: constant
      -0.2848, // ± 0.097: frontal
      0.2462, // ± 0.056: frontal × season
    ],
    ranges: [
      [1, 1],
      [0, 1],
      [-0.8797, 0.8797],
    ],
  },
};
