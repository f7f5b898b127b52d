export { cabinColumn } from './cabin.js';
export { clockMs, type DayInfo, type Span, windowSpans } from './day.js';
export {
  compileLoadExpression,
  type DrawColumn,
  drawColumn,
  drawnW,
  type ExpressionColumns,
  expressionColumn,
  type LoadExpression,
  peakDraw,
  usesSoc,
} from './draw.js';
export {
  DOOR_HUMID_FACTOR,
  doorAirWh,
  FOOD_COOLS_H,
  type FridgeColumns,
  foodHeatWh,
  fridgeColumns,
} from './fridge-columns.js';
export {
  boxConductance,
  CARNOT_FRACTION,
  COMPRESSOR_RATED_ROOM_C,
  CONDENSER_ABOVE_ROOM_K,
  compressor,
  compressorCoolingW,
  compressorCop,
  compressorElectricW,
  DEFAULT_INSULATION_MM,
  EVAPORATOR_BELOW_BOX_K,
  type FridgeModel,
  fridgeModel,
  heatLeakW,
  heatLeakWPerK,
  roomCop,
} from './fridge-model.js';
export {
  CHILLED_FOOD_C,
  FOOD_SAFE_SOURCE,
  FROZEN_FOOD_C,
  type FridgeFactors,
  type FridgeRun,
  type FridgeStep,
  foodSafeC,
  fridgeDuty,
  fridgeFactors,
  fridgeNextC,
  fridgeRun,
  fridgeStep,
  hoursWarmer,
  THERMOSTAT_BAND_K,
  thermostatOn,
  thermostatSwingK,
} from './fridge-step.js';
export {
  anyOnShare,
  type InverterColumns,
  inverterCoefficients,
  inverterInputColumns,
  inverterInputW,
} from './inverter.js';
export { demandedHours, type ScheduleColumns, type ScheduleOptions, scheduleColumns } from './schedule.js';
