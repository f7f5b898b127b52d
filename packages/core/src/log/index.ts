export { calibrate } from './calibrate/calibrate.js';
export { fittedRigText } from './calibrate/fitted-rig-text.js';
export { type CivilDaySpan, civilDayAt } from './clock/civil-days.js';
export { isClockZone, zoneOffsetH } from './clock/zone-clock.js';
export { compareLog } from './compare/compare.js';
export type {
  CompareDay,
  CompareHour,
  Comparison,
  PanelShare,
  SideBySide,
} from './compare/compare-types.js';
export type { FindingSize, LogFinding, LogFindingCode } from './judge/finding.js';
export {
  type CalibrateOptions,
  type Calibration,
  FIT_NAMES,
  type FitName,
  type FittedValue,
  type NotIdentifiable,
} from './parts/calibrate-types.js';
export { type Flows, flowsOf } from './read/flows.js';
export { readLoadProfile } from './read/load-profile.js';
export { logRows } from './read/log-rows.js';
export { createLogTable, type LogTable, readLogTable } from './read/log-table.js';
export { createLogReader, isUnsorted, readLog } from './read/read-log.js';
export { REASONS as LOG_REASONS } from './read/reasons.js';
export { tidyHeader, tidyLine } from './read/tidy-csv.js';
export { comparedLoads, type FitErrors, fitErrors, nightSteps } from './replay/fit-errors.js';
export type { LogLight } from './replay/log-light.js';
export { type LogSteps, logSteps } from './replay/log-steps.js';
export { type PanelHour, type PanelHours, panelHours, type Ratio, type ShadedBlock } from './replay/panel-hours.js';
export { type Log, type Replay, type ReplayOptions, type RowEvidence, replayTask } from './replay/replay.js';
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
  type Stamps,
  TIDY_HEADINGS,
} from './types.js';
