export { type RunSpread, spreadOf } from './ensemble/run-spread.js';
export { engineMinutesADay, MAX_ENGINE_MINUTES } from './run/engine-a-day.js';
export { dayStarts, type OpenLoop, openLoopOf } from './run/open-loop.js';
export {
  END_CAUSES,
  type End,
  type EndCause,
  follower,
  type Outcome,
  type OutcomeOptions,
  outcomeOf,
} from './run/outcome.js';
export {
  engineMinutesToRecover,
  type RecoverOptions,
  type Recovery,
  type RunRecovery,
  recoveryOf,
} from './run/recover.js';
export {
  DEFAULT_WEATHER_YEARS,
  MAX_WEATHER_YEARS,
  requireStop,
  type StudyStop,
  stopTrip,
  type WeatherCaseOptions,
  type WeatherCases,
  weatherCases,
} from './run/weather-cases.js';
export { sizeStudy } from './size/size.js';
export {
  type Bill,
  type BindingLimit,
  type ChosenPart,
  type LostChoice,
  SIZE_MARKS,
  type SizeCase,
  type SizeChoice,
  type SizeMargin,
  type SizeMark,
  type SizeOptions,
  type SizeProgress,
  type SizeResult,
} from './size/size-types.js';
export { partsText } from './size/size-words.js';
export {
  ARRAY_DERATE,
  ARRAY_TO_LOAD,
  arrayCurrentA,
  arrayW,
  autonomyDays,
  BATTERY_EFFICIENCY,
  correctedDailyAh,
  dailyYieldWh,
  modulesFor,
  storageDays,
  storageFor,
  WIRE_EFFICIENCY,
  type Worksheet,
  type WorksheetInput,
  type WorksheetLine,
  worksheet,
} from './size/worksheet.js';
export { DEFAULT_HORIZON_DAYS, stayStudy } from './stay/stay.js';
export { type Lengths, type StayRunOptions, stayLengths } from './stay/stay-runs.js';
export type { OneMore, StayLengths, StayMonth, StayOptions, StayStudy, StayUnknown } from './stay/stay-types.js';
export {
  isTripSetting,
  type NamedText,
  openSweep,
  type Sweep,
  type SweepRequest,
  type SweepRow,
} from './sweep/sweep.js';
export { SWEEP_FIGURES, type SweepColumn, type SweepFigure } from './sweep/sweep-figures.js';
export { MAX_VARIANTS, planSweep, type SweepPart, type SweepPlan, variantsOf } from './sweep/sweep-plan.js';
export { parseVary, type Vary } from './sweep/sweep-vary.js';
export { type BatteryReading, chargeAfter } from './tonight/battery-reading.js';
export { readTonight, type TonightPlan, type TonightText } from './tonight/read-tonight.js';
export { parseSky, SKY_WORDS, type SkyDay, type SkyWord } from './tonight/sky-days.js';
export { tonightStudy } from './tonight/tonight.js';
export type { TonightFinding, TonightFindingArgs, TonightOptions, TonightStudy } from './tonight/tonight-types.js';
export { yieldStudy } from './yield/yield.js';
export {
  type ArrayMonth,
  type ArrayYield,
  type Waterfall,
  type WaterfallStep,
  YIELD_LOSSES,
  type YieldLoss,
  type YieldMonth,
  type YieldRange,
  type YieldSetup,
  type YieldStudy,
} from './yield/yield-types.js';
