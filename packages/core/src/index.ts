/**
 * @stayput/core: the energy model of a vehicle that stays put on 12 V. Pure: no file, console, clock or network; the same input
 * gives the same output. Every public name stands here, in the order in which the data flows; each heading (##) is a category of
 * the docs. Formulas, tables and the shapes inside of rigs and answers are in `@stayput/core/model`.
 * @module
 */

// ## Reading what people write
export { ConfigError, InternalError } from './rig/config-error.js';
export { decodeText } from './rig/decode.js';
export { jsonSchemas } from './rig/json-schema.js';
export { readParts } from './rig/read-parts.js';
export { type ReadOptions, readRig } from './rig/read-rig.js';
export { type ReadTripOptions, readTrip } from './rig/read-trip.js';
export { STARTER_LIMITS, type StarterOptions, starterRig } from './rig/starter.js';
export { starterTrip } from './rig/starter-trip.js';
export type { ConfigIssue, DefaultTaken, PartsList, Rig, Stop, Trip } from './rig/types.js';
export { type WithoutTrip, withoutTrip } from './rig/without-trip.js';
// ## Quantities
export { formatQuantity } from './quantity/format.js';
export { parseQuantity, QuantityError } from './quantity/quantity.js';
// ## Places and weather
export { allPlaces, climateAt, findPlace, nearestPlaces } from './place/places.js';
export type { ClimatePlace, Place } from './place/types.js';
export { type OwnWeather, weatherFromColumns } from './weather/read/weather-from-columns.js';
export { readWeatherFile, type WeatherFileOptions } from './weather/read/weather-file.js';
export type { WeatherSeries } from './weather/read/weather-series.js';
// ## Checking a rig
export { type Circuit, circuits, WIRE_CAUTIONS } from './wire/circuits.js';
export { checkRig } from './simulate/check/check.js';
export { controllerFindings } from './simulate/check/check-controller.js';
export { describeRig } from './simulate/check/describe.js';
export type { Finding, FindingArgs } from './simulate/check/finding.js';
// ## Following a rig through a trip
export { type ConditionOptions, conditionsFor, type WeatherText } from './simulate/inputs/conditions.js';
export type { LoadMoment, OwnLoad } from './simulate/inputs/own-loads.js';
export { traceHeader, traceRow } from './simulate/report/trace.js';
export { type SimulateOptions, simulate, simulateAsync, simulateUnder } from './simulate/run/simulate.js';
export type { ChargeReport, Conditions, DailyRow, FridgeReport, LoadRow } from './simulate/types.js';
export type { Run, Summary, Trace, Trouble, Warning, WarningArgs } from './simulate/types.js';
export { type Recovery, type RunRecovery, recoveryOf } from './study/run/recover.js';
export { type Remedies, type Remedy, remediesFor } from './study/remedies/remedies.js';
// ## How long can we stay?
export { DEFAULT_HORIZON_DAYS, stayStudy, stayStudyAsync } from './study/stay/stay.js';
export type { StayMonth, StayOptions, StayStudy, StayUnknown } from './study/stay/stay-types.js';
// ## What can we use tonight?
export { readTonight } from './study/tonight/read-tonight.js';
export { tonightStudy, tonightStudyAsync } from './study/tonight/tonight.js';
export type { TonightOptions, TonightStudy } from './study/tonight/tonight-types.js';
// ## What does the panel give?
export { type YieldOptions, yieldStudy, yieldStudyAsync } from './study/yield/yield.js';
export type { YieldMonth, YieldStudy } from './study/yield/yield-types.js';
// ## What would it take to stay longer?
export { sizeStudy, sizeStudyAsync } from './study/size/size.js';
export type { Bill, SizeChoice, SizeOptions, SizeResult } from './study/size/size-types.js';
// ## What if?
export type { Outcome } from './study/run/outcome.js';
export { openRuns, type Runs } from './study/sweep/open-runs.js';
export { isTripSetting, openSweep, type Sweep, type SweepRequest, type SweepRow } from './study/sweep/sweep.js';
export { SWEEP_FIGURES } from './study/sweep/sweep-figures.js';
export { type SweepPart, variantsOf } from './study/sweep/sweep-plan.js';
// ## What a monitor logged
export { calibrate, calibrateAsync } from './log/calibrate/calibrate.js';
export { fittedRigText } from './log/calibrate/fitted-rig-text.js';
export { type CompareOptions, compareLog, compareLogAsync } from './log/compare/compare.js';
export type { Comparison } from './log/compare/compare-types.js';
export type { LogFinding } from './log/judge/finding.js';
export type { CalibrateOptions, Calibration, FitName, FittedValue } from './log/parts/calibrate-types.js';
export { createLogTable, type LogTable, readLogTable } from './log/read/log-table.js';
export { readLoadProfile } from './log/read/load-profile.js';
export { logRows } from './log/read/log-rows.js';
export { createLogReader, isUnsorted, readLog } from './log/read/read-log.js';
export { tidyHeader, tidyLine } from './log/read/tidy-csv.js';
export type { FitErrors } from './log/replay/fit-errors.js';
export type { Log, ReplayOptions } from './log/replay/replay.js';
export { LOG_COLUMNS, type LogColumnName, type LogDay, type LogOptions, type LogReader } from './log/types.js';
export type { CellReason, LogReading, LogRow, LogShortfall, RowAccount } from './log/types.js';
