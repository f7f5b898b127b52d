export { type ChangePoint, changePoint } from './change-point.js';
export { cholesky, choleskySolve, forwardSolve } from './cholesky.js';
export {
  dayStream,
  normal,
  type RandomStream,
  TEXTURE_PER_DAY,
  TEXTURE_PER_HOUR,
  uniform,
  type WeatherDraw,
} from './day-draws.js';
export { fitWithin, halfWidth90, Z90 } from './fit-numbers.js';
export { latinHypercube, seededStream } from './latin-hypercube.js';
export { LEAP_MONTH_DAYS, MONTH_OF_DAY, monthlyCourse } from './monthly-course.js';
export { normalQuantile, normalShare } from './normal-distribution.js';
export { type Percentiles, percentile, percentilesOf } from './percentile.js';
export { robustSlope } from './robust-slope.js';
export { meanAndError, meanOf, meanOfPresent, sumOf } from './sums.js';
export { finish, finishInSlices, type StopSignal, type Task, type TaskOptions } from './task.js';
export { DAY_MS, HOUR_MS, MINUTE_MS, MONTH_NAMES } from './time.js';
