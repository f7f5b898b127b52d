export { airMassOf, pressureRatio, refractionDeg, relativeAirMass } from './air-mass.js';
export {
  addDays,
  civilText,
  daysBetween,
  isZone,
  type OffsetSpan,
  offsetSpans,
  standardOffsetH,
  startOfDayMs,
  utcOffsetH,
} from './civil-time.js';
export {
  clearSkyColumns,
  haurwitzGhiWm2,
  type IneichenAir,
  ineichenAir,
  ineichenDniWm2,
  ineichenGhiWm2,
  monthlyTurbidity,
  type SkyColumns,
} from './clear-sky.js';
export { clearWeather } from './clear-weather.js';
export { type ClearnessCurve, clearnessAt, clearnessCurve } from './clearness-distribution.js';
export { type ClimateDraw, climateWeather } from './climate-weather.js';
export { type ColumnRole, clockOffsetOf, roleOf, wordsOf } from './column-wording.js';
export { COLUMN_OPTIONS as WEATHER_COLUMN_OPTIONS } from './csv-layout.js';
export { dayStream, uniform, type WeatherDraw } from './day-draws.js';
export {
  type BeamAndDiffuse,
  cleanAirBeamWm2,
  decomposeGhi,
  erbsDailyDiffuseFraction,
  erbsDiffuseFraction,
  erbsMonthlyDiffuseFraction,
} from './decomposition.js';
export { DULL_ONE_IN, dullClearness, dullWeather } from './dull-weather.js';
export {
  dailyExtraterrestrialKwhM2,
  dailyHorizontalKwhM2,
  extraterrestrialNormalWm2,
  SOLAR_CONSTANT_WM2,
  spencerDistanceFactor,
} from './extraterrestrial.js';
export { greatCircleKm } from './great-circle.js';
export { horizonElevationDeg, skyShare } from './horizon.js';
export { groundIncidenceDeg, groundModifier, incidenceModifier, skyIncidenceDeg, skyModifier } from './incidence.js';
export { type CivilDay, type Itinerary, isoLocal, itineraryFor, type Leg, STEP_MINUTES } from './itinerary.js';
export { extraterrestrialMonths, monthlyClearness } from './month-means.js';
export {
  allPlaces,
  type ClimateEstimate,
  climateAt,
  climateFrom,
  findPlace,
  nearestPlaces,
  placeFor,
  zoneAt,
} from './places.js';
export { createPlaneColumns, type Plane, type PlaneColumns, planeColumns } from './plane.js';
export { cosIncidenceOf, sunFromHourAngle, sunsetHourAngleDeg } from './solar-geometry.js';
export {
  type SunPosition,
  type SunTimes,
  sunColumns,
  sunPosition,
  sunTimes,
} from './sun.js';
export { declinationDeg, equationOfTimeMin } from './sun-angles.js';
export { type DateOrder, dateOrderOf, readStamp, readTimeOfDay, type Stamp } from './time-stamp.js';
export {
  groundReflectedWm2,
  groundView,
  PEREZ_1990,
  perezBin,
  perezClearness,
  perezF1,
  perezF2,
  type SkyModel,
  type SkyMoment,
  skyDiffuseWm2,
  skyView,
} from './transposition.js';
export { linkeTurbidity, type Turbidity } from './turbidity.js';
export type * from './types.js';
export { readWeatherFile, type WeatherFileOptions } from './weather-file.js';
export { type WeatherOnGrid, type WeatherSite, weatherOnGrid } from './weather-grid.js';
export type { WeatherSeries } from './weather-series.js';
