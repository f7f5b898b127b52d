export { type Assembled, assemble, whenDriven } from './assemble.js';
export { type BatteryClimate, batteryClimate, batteryInput } from './assemble-battery.js';
export type { EngineLane } from './assemble-chargers.js';
export { compensation } from './assemble-chargers.js';
export type { FridgeLane, InverterLane, PlainLane } from './assemble-loads.js';
export {
  arrayLane,
  controllerLane,
  type LitPlane,
  lightReads,
  litPlane,
  type SolarLane,
  solarLane,
} from './assemble-solar.js';
export { checkRig } from './check.js';
export { controllerFindings } from './check-controller.js';
export {
  type ConditionOptions,
  climateOf,
  conditionsFor,
  DEFAULT_SEED,
  DEFAULT_STEP_H,
  placesOf,
  type StopClimate,
  type WeatherText,
  type WeatherYears,
  weatherYears,
} from './conditions.js';
export { CONDUCTOR_C } from './conductors.js';
export { describeRig, type Paragraph } from './describe.js';
export type { Finding } from './finding.js';
export {
  copyState,
  type LoopInput,
  type LoopOutput,
  type LoopState,
  layOutSteps,
  loopOutput,
  loopState,
} from './loop.js';
export { partMemory, type Remember } from './part-memory.js';
export { rehearse } from './rehearse.js';
export { runPart, setChargerShare } from './run-part.js';
export type { SocDraw } from './run-whole.js';
export { runOf, simulate, simulateUnder } from './simulate.js';
export {
  BATTERY_STEP_WIDTH,
  CHARGER_STEP_WIDTH,
  type ChargerColumns,
  fillBatteryRows,
  fillStepRows,
  scaleLoadRows,
} from './step-rows.js';
export { dayBounds, FULL_SOC } from './summarise.js';
export { traceHeader, traceRow } from './trace.js';
export {
  type BatteryUse,
  CHARGE_CAUSES,
  CHARGE_LIMITS,
  type ChargeCause,
  type ChargeLimit,
  type ChargeReport,
  type Conditions,
  type DailyRow,
  type FridgeMonth,
  type FridgeReport,
  type LoadRow,
  type Run,
  type RunWear,
  type Summary,
  type Trace,
  type Warning,
} from './types.js';
