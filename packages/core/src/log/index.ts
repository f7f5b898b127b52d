export { type CivilDaySpan, civilDayAt } from './civil-days.js';
export { type Flows, flowsOf } from './flows.js';
export { createLogTable, type LogTable, readLogTable } from './log-table.js';
export { createLogReader, readLog } from './read-log.js';
export { tidyHeader, tidyLine } from './tidy-csv.js';
export { REASONS as LOG_REASONS } from './reasons.js';
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
