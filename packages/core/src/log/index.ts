export { calibrate } from './calibrate.js';
export {
  type CalibrateOptions,
  type Calibration,
  FIT_NAMES,
  type FitName,
  type FittedValue,
  type UntoldValue,
} from './calibrate-types.js';
export { type CivilDaySpan, civilDayAt } from './civil-days.js';
export { compareLog } from './compare.js';
export type {
  CompareDay,
  CompareHour,
  Comparison,
  LogFinding,
  LogFindingCode,
  PanelShare,
  SideBySide,
} from './compare-types.js';
export { comparedLoads, type FitErrors, fitErrors, nightSteps } from './fit-errors.js';
export { fittedRigText } from './fitted-rig-text.js';
export { type Flows, flowsOf } from './flows.js';
export { type LevelStep, levelStep } from './level-step.js';
export type { LogLight } from './log-light.js';
export { type LogSteps, logSteps } from './log-steps.js';
export { createLogTable, type LogTable, readLogTable } from './log-table.js';
export { type PanelHour, type PanelHours, panelHours, type Ratio, type ShadedBlock } from './panel-hours.js';
export { createLogReader, readLog } from './read-log.js';
export { REASONS as LOG_REASONS } from './reasons.js';
export { type Log, type Replay, type ReplayOptions, replayOf } from './replay.js';
export { tidyHeader, tidyLine } from './tidy-csv.js';
export {
  type ColumnFound,
  LOG_COLUMNS,
  type LogColumnName,
  type LogDay,
  type LogGap,
  type LogOptions,
  type LogPicture,
  type LogReader,
  type LogReading,
  type LogReason,
  type LogRow,
  type ReasonCode,
  type RowAccount,
  type SignFound,
  TIDY_HEADINGS,
} from './types.js';
export { isClockZone, zoneOffsetH } from './zone-clock.js';
