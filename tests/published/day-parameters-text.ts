import type { FittedParameters } from './real-years.js';

/** What each coefficient goes with, in the order of `PREDICTORS`. */
const TERMS = {
  spread: [
    'constant',
    'equatorial',
    'afternoons above 20 °C outside the equatorial belt [per K]',
    'frontal × summerClear',
  ],
  clearnessLag: ['constant', 'range of day and night outside the equatorial belt [per K]', 'frontal'],
  airSd: [
    'constant',
    'month’s temperature above −10 °C [per °C]',
    'range of day and night [per K]',
    'frontal',
    'inland',
    'frontal × season',
  ],
  airLag: ['constant', 'equatorial'],
  warmth: ['constant', 'frontal', 'frontal × season'],
} as const;

/** The file of parameters: each value with its standard error and the range of what it goes with. */
export function parametersText(fitted: FittedParameters): string {
  const blocks = Object.entries(fitted).map(([name, { coefficients, errors, ranges, residual, places }]) => {
    const terms = TERMS[name as keyof typeof TERMS];
    const rows = coefficients.map((value, i) => `    ${number(value)}, // ± ${error(errors[i]!)}: ${terms[i]}`);
    return `  // ${places} places; a place's mean lies within ${error(residual)} (one standard deviation)
  ${name}: {
    coefficients: [
${rows.join('\n')}
    ],
    ranges: [${ranges.map(([low, high]) => `[${number(low)}, ${number(high)}]`).join(', ')}],
  },`;
  });
  return `import type { DayParameters } from './day-statistics.js';

/**
 * How the days of a place lie about their months' means: coefficients of the regressions of \`day-statistics.ts\`, each with its
 * standard error, and the range of its predictor in the fit. Made by \`npm run fit-days\` from statistics of daily
 * records: 18 stations of 4 to 41 years and twelve more by their months (open DSSAT crop-model data set), seven typical years
 * (TMY3, SWERA) and one measured year. Weighted least squares with an error of each place's own, standard errors
 * clustered by place. Not to be changed by hand.
 */
export const DAY_PARAMETERS: DayParameters = {
${blocks.join('\n')}
};
`;
}

const number = (value: number) => String(Number(value.toPrecision(4)));
const error = (value: number) => String(Number(value.toPrecision(2)));
