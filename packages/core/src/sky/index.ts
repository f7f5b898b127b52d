export { airMassOf, pressureRatio, refractionDeg, relativeAirMass } from './air-mass.js';
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
export {
  type BeamAndDiffuse,
  cleanAirBeamWm2,
  decomposeGhi,
  erbsDailyDiffuseFraction,
  erbsDiffuseFraction,
  erbsMonthlyDiffuseFraction,
} from './decomposition.js';
export {
  dailyExtraterrestrialKwhM2,
  dailyHorizontalKwhM2,
  extraterrestrialNormalWm2,
  SOLAR_CONSTANT_WM2,
  spencerDistanceFactor,
} from './extraterrestrial.js';
export { horizonElevationDeg, skyShare } from './horizon.js';
export { groundIncidenceDeg, groundModifier, incidenceModifier, skyIncidenceDeg, skyModifier } from './incidence.js';
export { extraterrestrialMonths, monthlyClearness } from './month-clearness.js';
export { createPlaneColumns, type Plane, type PlaneColumns, planeColumns } from './plane.js';
export { sunFromHourAngle, sunsetHourAngleDeg } from './solar-geometry.js';
export { type SunPosition, type SunTimes, sunColumns, sunPosition, sunTimes } from './sun.js';
export { declinationDeg, equationOfTimeMin } from './sun-angles.js';
export {
  groundView,
  PEREZ_1990,
  perezBin,
  perezClearness,
  perezF1,
  perezF2,
  type SkyModel,
  skyView,
} from './transposition.js';
export { linkeTurbidity, type Turbidity } from './turbidity.js';
export type { Grid, SunColumns, WeatherColumns } from './types.js';
