export { engineMinutesADay, MOST_ENGINE_MINUTES } from './engine-a-day.js';
export { dayStarts, type OpenLoop, openLoopOf } from './open-loop.js';
export {
  END_CAUSES,
  type End,
  type EndCause,
  follower,
  type Outcome,
  type OutcomeOptions,
  outcomeOf,
} from './outcome.js';
export { percentile } from './percentile.js';
export { engineMinutesToRecover, type RecoverOptions, type Recovery, type RunRecovery, recoveryOf } from './recover.js';
export { sizeStudy } from './size.js';
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
} from './size-types.js';
export { partsText } from './size-words.js';
export { DEFAULT_HORIZON_DAYS, stayStudy } from './stay.js';
export { type Lengths, type StayRunOptions, stayLengths } from './stay-runs.js';
export type { OneMore, StayLengths, StayMonth, StayOptions, StayStudy, StayUnknown } from './stay-types.js';
export { isTripSetting, type NamedText, openSweep, type Sweep, type SweepRequest, type SweepRow } from './sweep.js';
export { SWEEP_FIGURES, type SweepColumn, type SweepFigure } from './sweep-figures.js';
export { MOST_VARIANTS, planSweep, type SweepPart, type SweepPlan, variantsOf } from './sweep-plan.js';
export { parseVary, type Vary } from './sweep-vary.js';
export {
  DEFAULT_WEATHER_YEARS,
  MOST_WEATHER_YEARS,
  type StudyStop,
  type WeatherCaseOptions,
  type WeatherCases,
  weatherCases,
} from './weather-cases.js';
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
} from './worksheet.js';
export { yieldStudy } from './yield.js';
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
} from './yield-types.js';
