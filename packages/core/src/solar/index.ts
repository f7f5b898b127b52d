export { arrayColumns, minMpptV } from './array.js';
export { type ArrayModule, arrayModule } from './array-module.js';
export {
  cellTemperatureC,
  cellTemperatureColumn,
  faimanC,
  type HeatLoss,
  kingC,
  MOUNT_HEAT_LOSS,
  windFactor,
} from './cell-temperature.js';
export {
  type ConverterCoefficients,
  type ConverterRating,
  converterCoefficients,
  inputFromOutputW,
  outputFromInputW,
} from './controller.js';
export { type FitTo, fitAtIdeality, fitModule, powerTempPerK, voltageTempPerK } from './fit-module.js';
export { genericDatasheet, genericModule } from './generic-module.js';
export { curveAt, type ModuleParameters } from './module.js';
export {
  arrayPowerForInputW,
  harvestFromOutputW,
  inputFromArrayW,
  mpptConverter,
  mpptMaxOutputW,
} from './mppt-output.js';
export type { PerformanceTable } from './performance-table.js';
export { type CurrentAtVoltage, PWM_DROP_V, pwmCurrentA } from './pwm.js';
export { currentAtVoltageA, type DiodeCurve, maximumPower, type OperatingPoint, openCircuitV } from './single-diode.js';
export { type StringOfModules, stringOpenV, stringsShortA, stringWorkingV } from './strings.js';
export type { ArrayColumns, ArrayInput, ArrayOptions } from './types.js';
