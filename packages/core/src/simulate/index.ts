export { checkRig, type Finding } from './check.js';
export { type ConditionOptions, conditionsFor, DEFAULT_STEP_H, placesOf, type WeatherText } from './conditions.js';
export { describeRig, type Paragraph } from './describe.js';
export { simulate, simulateUnder } from './simulate.js';
export { traceHeader, traceRow } from './trace.js';
export {
  CHARGE_LIMITS,
  type ChargeLimit,
  type Conditions,
  type DailyRow,
  type LoadRow,
  type Run,
  type Summary,
  type Trace,
  type Warning,
} from './types.js';
