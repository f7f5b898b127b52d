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
      -0.6611, // ± 0.028: constant
      -0.6284, // ± 0.044: equatorial
      -0.02664, // ± 0.0049: month above 15 °C outside the equatorial belt [per K]
      -1.688, // ± 0.49: frontal × summerClear
    ],
    ranges: [
      [1, 1],
      [1.15e-23, 1],
      [0, 18.45],
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
  // 26 places; a place's mean lies within 0.15 (one standard deviation)
  airSd: {
    coefficients: [
      0.3785, // ± 0.15: constant
      -0.03078, // ± 0.0047: month’s temperature [per °C]
      0.04447, // ± 0.013: range of day and night [per K]
      0.9015, // ± 0.13: frontal
      -2.691, // ± 0.8: summerClear
    ],
    ranges: [
      [1, 1],
      [-19.3, 33.1],
      [2.5, 17.88],
      [0, 1],
      [-0.1175, 0.09466],
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
