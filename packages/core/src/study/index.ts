export { engineMinutesADay, MOST_ENGINE_MINUTES } from './engine-a-day.js';
export { type OpenLoop, openLoopOf } from './open-loop.js';
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
export {
  DEFAULT_WEATHER_YEARS,
  MOST_WEATHER_YEARS,
  type StudyStop,
  type WeatherCaseOptions,
  type WeatherCases,
  weatherCases,
} from './weather-cases.js';
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
