import type { DayParameters } from './day-statistics.js';

/**
 * How the days of a place lie about their months' means: coefficients of the regressions of `day-statistics.ts`, each with its
 * standard error, and the range of its predictor in the fit. Made by `npm run fit-days` from statistics of daily
 * records: 18 stations of 4 to 41 years and five more by the year (open DSSAT crop-model data set), seven typical years
 * (TMY3, SWERA) and one measured year (Golden 2012). Weighted least squares, errors clustered by place. Not to be changed by hand.
 */
export const DAY_PARAMETERS: DayParameters = {
  // 35 places; a place's mean lies within 0.11 (one standard deviation)
  spread: {
    coefficients: [
      -0.6472, // ± 0.029: constant
      -0.6429, // ± 0.044: equatorial
      -0.0261, // ± 0.005: afternoons above 20 °C outside the equatorial belt [per K]
      -1.662, // ± 0.47: frontal × summerClear
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
      -1.069, // ± 0.29: constant
      -0.02991, // ± 0.0041: month’s temperature above −10 °C [per °C]
      0.03937, // ± 0.012: range of day and night [per K]
      0.4227, // ± 0.079: frontal
      0.474, // ± 0.091: inland
    ],
    ranges: [
      [1, 1],
      [-10, 33.1],
      [2.5, 17.88],
      [0, 1],
      [2.905, 4.43],
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
  // 26 places; a place's mean lies within 0.2 (one standard deviation)
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
