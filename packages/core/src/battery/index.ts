export { type HeatedColumns, heatCapacityWhPerK, heatedTemperature } from './heater.js';
export {
  capacityAtHoursAh,
  type KineticCoefficients,
  kineticCoefficients,
} from './kinetic.js';
export { chargeLimitA } from './limits.js';
export { type BatteryModel, batteryModel, ocvAt, seriesCells, storedWh, tableAt, type Wells } from './model.js';
export { type RainflowCycle, rainflow } from './rainflow.js';
export { batteryTemperature, capacityFactor, resistanceFactor, selfDischargeFactor } from './temperature.js';
export { calendarYears, cycleLife, lifeIsPredictable, type Spread, type Wear, wear } from './wear.js';
