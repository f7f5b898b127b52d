export { type HeatedColumns, heatCapacityWhPerK, heatedTemperature } from './heater.js';
export {
  capacityAtHoursAh,
  type KineticCoefficients,
  kineticCoefficients,
} from './kinetic.js';
export { chargeLimitA } from './limits.js';
export {
  acceptedA,
  type BatteryModel,
  batteryModel,
  dischargeSagV,
  KNEE_SHARE,
  ocvAt,
  seriesCells,
  storedWh,
  tableAt,
  type Wells,
} from './model.js';
export { type RainflowCycle, rainflow } from './rainflow.js';
export {
  batteryTemperature,
  capacityFactor,
  chargeFactor,
  resistanceFactor,
  selfDischargeFactor,
  wellsAt,
} from './temperature.js';
export { calendarYears, cycleLife, lifeIsPredictable, type Spread, type Wear, wear } from './wear.js';
