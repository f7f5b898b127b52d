export { cabinColumn, type HeaterSupply } from './cabin.js';
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
  FOOD_AT_0C,
  FOOD_COOLS_H,
  FOOD_PIECES_C,
  FOOD_SLOPES,
  type FridgeColumns,
  foodHeatWh,
  foodPiece,
  fridgeColumns,
  heatInW,
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
  FREEZES_C,
  FROZEN_C,
  type FridgeModel,
  type FridgeRoom,
  fridgeModel,
  heatLeakWPerK,
  mostWhPerDay,
  roomCop,
} from './fridge-model.js';
export {
  anyOnShare,
  type InverterColumns,
  inverterCoefficients,
  inverterInputColumns,
  inverterInputW,
} from './inverter.js';
export { demandedHours, type ScheduleColumns, type ScheduleOptions, scheduleColumns } from './schedule.js';
export {
  CHILLED_FOOD_C,
  FOOD_SAFE_SOURCE,
  FROZEN_FOOD_C,
  foodSafeC,
  THERMOSTAT_BAND_K,
  thermostatSwingK,
} from './thermostat.js';
