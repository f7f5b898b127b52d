export { checkRig } from './check/check.js';
export { controllerFindings } from './check/check-controller.js';
export { describeRig, type Paragraph } from './check/describe.js';
export type { AbsorptionArgs, CircuitFindingArgs, ColdVoltageArgs, Finding, FindingArgs } from './check/finding.js';
export { type Assembled, assemble, assembleTask, whenDriven } from './inputs/assemble.js';
export { type BatteryClimate, batteryClimate, batteryInput, joinedShare } from './inputs/assemble-battery.js';
export { compensation, type EngineLane } from './inputs/assemble-chargers.js';
export type { FridgeLane, HeavyLane, InverterLane, ScheduledLoadInput, SocDraw } from './inputs/assemble-loads.js';
export {
  arrayLane,
  controllerLane,
  facingDeg,
  groundAlbedo,
  lightReads,
  type PlaneOfArray,
  planeOfArray,
  type SolarLane,
  solarLane,
} from './inputs/assemble-solar.js';
export {
  type ConditionOptions,
  climateOf,
  conditionsFor,
  conditionsTask,
  DEFAULT_SEED,
  DEFAULT_STEP_H,
  type GivenWeather,
  type StopClimate,
  shadeColumn,
  type WeatherText,
  type WeatherYears,
  weatherName,
  weatherSeriesOf,
  weatherYears,
  weatherYearsTask,
  withEndlessFuel,
} from './inputs/conditions.js';
export { type Memo, partMemo } from './inputs/memo.js';
export { type Overload, overloads } from './inputs/overload.js';
export type { LoadMoment, OwnLoad } from './inputs/own-loads.js';
export {
  addLoadW,
  BATTERY_STEP_WIDTH,
  CHARGER_STEP_WIDTH,
  type ChargerColumns,
  fillBatteryRows,
  fillStepRows,
  scaleChargerDrive,
  scaleLoadRows,
  setChargerShare,
} from './inputs/step-rows.js';
export { engineInputW, mpptHarvestW } from './ledger/supply.js';
export {
  type BatteryRows,
  batteryRows,
  copyState,
  type LoopInput,
  type LoopOutput,
  type LoopState,
  layOutSteps,
  loopOutput,
  loopState,
} from './loop/loop.js';
export { warmUp } from './loop/warm-up.js';
export { dayBounds, FLOOR_TOLERANCE, FULL_SOC } from './report/summarise.js';
export { traceHeader, traceRow } from './report/trace.js';
export { OVERLOADS } from './report/troubles.js';
export { runSteps } from './run/run-steps.js';
export {
  runOf,
  runTask,
  type SimulateOptions,
  simulate,
  simulateAsync,
  simulateUnder,
  underTask,
} from './run/simulate.js';
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
  type OverloadArgs,
  type Run,
  type RunWear,
  type Summary,
  type Trace,
  type Trouble,
  type TroubleArgs,
  type Warning,
  type WarningArgs,
} from './types.js';
