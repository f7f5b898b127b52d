/**
 * @stayput/core/model: the formulas that the library runs on, each with its source, and the shapes inside of rigs and answers, for
 * those who want to check a number or build on one. Every name stands here by the subject it belongs to; each heading (##) is a
 * category of the docs. These follow the model: they may change with any minor version.
 * @module
 */

// ## Parts of a rig and of a trip
export { CHEMISTRY_NAMES, isLead } from './rig/chemistry.js';
export { LARGEST_FILE } from './rig/decode.js';
export type {
  Air,
  Alternator,
  AlternatorCharger,
  Battery,
  BatteryPart,
  Cabin,
  CabinHeater,
  Cable,
  ChargeProfile,
  RelaySensing,
} from './rig/types.js';
export type {
  ChargerPart,
  Chemistry,
  Datasheet,
  Draw,
  FridgeLoad,
  Heater,
  HorizonPoint,
  Inverter,
} from './rig/types.js';
export type {
  Limit,
  Load,
  LoadCommon,
  MainsCharger,
  MonthlyClimate,
  Mount,
  PanelPart,
  PanelTechnology,
} from './rig/types.js';
export type {
  Part,
  Range,
  RatedConsumption,
  ScheduledLoad,
  ShadeWindow,
  Snow,
  SolarArray,
  SolarController,
  WeatherChoice,
} from './rig/types.js';
export type { Path } from './rig/path.js';
export { fileValues, type WrittenValue, writeValues } from './rig/write-values.js';
export type { Settings } from './rig/settings.js';
export type { StarterTripOptions } from './rig/starter-trip.js';
// ## Quantities, clock times and expressions
export { type ClockPoint, type DayWindow, formatClock, formatWindows, parseClock } from './quantity/clock.js';
export { parseWindows, windowHours } from './quantity/clock.js';
export { closest } from './quantity/closest.js';
export { DIMENSIONS, type Dimension, type DimensionSpec } from './quantity/dimension.js';
export { type CompiledExpression, compileExpression, EXPRESSION_FUNCTIONS } from './quantity/expression.js';
export { EXPRESSION_VARIABLES, ExpressionError, type Scope } from './quantity/expression.js';
export { awgSectionMm2, readGauge } from './quantity/gauge.js';
export type { QuantityFault } from './quantity/quantity.js';
// ## Arithmetic
export { percentile } from './math/percentile.js';
export { meanAndError, meanOf } from './math/sums.js';
export { DAY_MS, HOUR_MS, MINUTE_MS, MONTH_NAMES } from './math/time.js';
// ## Sun and sky
export { airMassOf, pressureRatio, refractionDeg, relativeAirMass } from './sky/air-mass.js';
export { clearSkyColumns, haurwitzGhiWm2, type IneichenAir, ineichenAir } from './sky/clear-sky.js';
export { ineichenDniWm2, ineichenGhiWm2, monthlyTurbidity, type SkyColumns } from './sky/clear-sky.js';
export { type BeamAndDiffuse, cleanAirBeamWm2, decomposeGhi, erbsDailyDiffuseFraction } from './sky/decomposition.js';
export { erbsDiffuseFraction, erbsMonthlyDiffuseFraction } from './sky/decomposition.js';
export { dailyExtraterrestrialKwhM2, dailyHorizontalKwhM2 } from './sky/extraterrestrial.js';
export { extraterrestrialNormalWm2, SOLAR_CONSTANT_WM2, spencerDistanceFactor } from './sky/extraterrestrial.js';
export { horizonElevationDeg, skyShare } from './sky/horizon.js';
export { groundIncidenceDeg, groundModifier, incidenceModifier } from './sky/incidence.js';
export { skyIncidenceDeg, skyModifier } from './sky/incidence.js';
export { type Plane, type PlaneColumns, planeColumns } from './sky/plane.js';
export { sunFromHourAngle, sunsetHourAngleDeg } from './sky/solar-geometry.js';
export { type SunPosition, type SunTimes, sunColumns, sunPosition, sunTimes } from './sky/sun.js';
export { declinationDeg, equationOfTimeMin } from './sky/sun-angles.js';
export { groundView, PEREZ_1990, perezBin, perezClearness } from './sky/transposition.js';
export { perezF1, perezF2, type SkyModel, skyView } from './sky/transposition.js';
export { linkeTurbidity, type Turbidity } from './sky/turbidity.js';
export type { Grid, SunColumns, WeatherColumns } from './sky/types.js';
// ## Places and made weather
export {
  addDays,
  civilText,
  daysBetween,
  isZone,
  type OffsetSpan,
  startOfDayMs,
  utcOffsetH,
} from './place/civil-time.js';
export { greatCircleKm } from './place/great-circle.js';
export { type CivilDay, type Itinerary, isoLocal, itineraryFor, type Leg } from './place/itinerary.js';
export { type ClimateEstimate, climateFrom, placeFor, zoneAt } from './place/places.js';
export { type WeatherOnGrid, type WeatherSite, weatherOnGrid } from './weather/grid/weather-grid.js';
export { clearWeather } from './weather/made/clear-weather.js';
export {
  type ClearnessCurve,
  type ClearnessShape,
  clearnessAt,
  clearnessCurve,
} from './weather/made/clearness-distribution.js';
export { type ClimateDraw, climateWeather } from './weather/made/climate-weather.js';
export type { KnownClearness } from './weather/made/daily-weather.js';
export { dullClearness, dullWeather } from './weather/made/dull-weather.js';
export type { WeatherNote } from './weather/read/note.js';
// ## Panels and their controllers
export { arrayColumns } from './solar/array.js';
export { type ArrayModule, arrayModule } from './solar/array-module.js';
export { cellTemperatureC, faimanC, type HeatLoss, kingC, MOUNT_HEAT_LOSS } from './solar/cell-temperature.js';
export { type ConverterCoefficients, type ConverterRating, converterCoefficients } from './solar/controller.js';
export { inputFromOutputW, outputFromInputW } from './solar/controller.js';
export { type FitTo, fitModule, powerTempPerK, voltageTempPerK } from './solar/fit-module.js';
export { type GenericModule, genericDatasheet, genericModule } from './solar/generic-module.js';
export { curveAt, type ModuleParameters } from './solar/module.js';
export { mpptConverter } from './solar/mppt-output.js';
export type { PerformanceTable } from './solar/performance-table.js';
export { type CurrentAtVoltage, PWM_DROP_V, pwmCurrentA } from './solar/pwm.js';
export { currentAtVoltageA, type DiodeCurve, maximumPower, type OperatingPoint } from './solar/single-diode.js';
export { openCircuitV } from './solar/single-diode.js';
export type { ArrayColumns, ArrayInput, ArrayOptions } from './solar/types.js';
// ## Charging
export { dcdcInputA, dcdcMaxInputA } from './charge/dcdc.js';
export { mainsInputW } from './charge/mains.js';
export { chargeVoltage, nextStage } from './charge/stages.js';
// ## Battery
export { capacityAtHoursAh, type KineticCoefficients, kineticCoefficients } from './battery/kinetic.js';
export { chargeLimitA } from './battery/limits.js';
export { type BatteryModel, batteryModel, ocvAt, seriesCells, storedWh, type Wells } from './battery/model.js';
export { type RainflowCycle, rainflow } from './battery/rainflow.js';
export { batteryTemperature, capacityFactor, resistanceFactor, selfDischargeFactor } from './battery/temperature.js';
export { calendarYears, cycleLife, lifeIsPredictable, type Spread, type Wear, wear } from './battery/wear.js';
// ## Fridges and other loads
export { cabinColumn, type HeaterSupply } from './load/cabin.js';
export { boxConductance, COMPRESSOR_RATED_ROOM_C, compressor, compressorCoolingW } from './load/fridge-model.js';
export { compressorCop, compressorElectricW, type FridgeModel, fridgeModel } from './load/fridge-model.js';
export { type FridgeRoom, heatLeakWPerK, roomCop } from './load/fridge-model.js';
export { FOOD_SAFE_SOURCE, foodSafeC } from './load/thermostat.js';
export { inverterCoefficients, inverterInputW } from './load/inverter.js';
// ## Wires
export { adviseSection, type CableFit, type CableReach, type CircuitDemand, CRITICAL_DROP } from './wire/advise.js';
export { cableFit, cableReaches, currentForPowerA, ORDINARY_DROP } from './wire/advise.js';
export { AMPACITY_A, ambientFactor, ampacityA, bundleFactor, conductorC } from './wire/ampacity.js';
export type {
  ConductorSize,
  CircuitFault,
  CircuitFaultArgs,
  CircuitRemark,
  CircuitRemarkArgs,
} from './wire/circuit-findings.js';
export type { CircuitLevel } from './wire/circuits.js';
export { CLASS5_OHM_PER_KM, COPPER_OHM_MM2_PER_M, cableLoopOhm, circuitLoopOhm } from './wire/conductor.js';
export { class5OhmPerKm, copperFactor, solidOhmPerKm, STRANDING_FACTOR, TERMINAL_OHM } from './wire/conductor.js';
export { CABIN_WIRE_C, ENGINE_WIRE_C, ROOF_WIRE_C, type WireAir } from './wire/demands.js';
export { FUSE_MARGIN, FUSE_RATINGS_A, type FuseChoice, fuseFor } from './wire/fuse.js';
// ## Sizing by hand
export { ARRAY_DERATE, ARRAY_TO_LOAD, arrayCurrentA, arrayW, autonomyDays } from './study/size/worksheet.js';
export { BATTERY_EFFICIENCY, correctedDailyAh, dailyYieldWh, modulesFor, storageDays } from './study/size/worksheet.js';
export {
  storageFor,
  WIRE_EFFICIENCY,
  type Worksheet,
  type WorksheetInput,
  type WorksheetLine,
  worksheet,
} from './study/size/worksheet.js';
// ## Inside the answers
export type { GivenWeather } from './simulate/inputs/conditions.js';
export { snowOnPanel } from './simulate/inputs/assemble-solar.js';
export { fullPowers, type Overload, overloads } from './simulate/inputs/overload.js';
export type { StopSignal, TaskOptions } from './math/task.js';
export type { SweepRowOptions } from './study/sweep/sweep.js';
export { REASONS as LOG_REASONS } from './log/read/reasons.js';
export { COLUMN_OPTIONS as WEATHER_COLUMN_OPTIONS } from './weather/read/csv-layout.js';
export {
  type Advice,
  adviceText,
  type OptionName,
  type OptionNamed,
  optionText,
} from './message/advice.js';
export type { Coded, NoArgs } from './message/coded.js';
export type { AbsorptionArgs, CircuitFindingArgs, ColdVoltageArgs } from './simulate/check/finding.js';
export type { Paragraph } from './simulate/check/describe.js';
export { CHARGE_CAUSES, CHARGE_LIMITS, type ChargeCause, type ChargeLimit } from './simulate/types.js';
export type { BatteryUse, CutOuts, FridgeMonth, OverloadArgs, RunWear, TroubleArgs } from './simulate/types.js';
export { MAX_REMEDY_DAYS, type RemedyArgs } from './study/remedies/remedies.js';
export { MAX_ENGINE_MINUTES } from './study/run/engine-a-day.js';
export { END_CAUSES, type End, type EndCause } from './study/run/outcome.js';
export type { StudyStop, WeatherCaseOptions } from './study/run/weather-cases.js';
export {
  type BindingLimit,
  type ChosenPart,
  type LostChoice,
  SIZE_MARKS,
  type SizeCase,
} from './study/size/size-types.js';
export type { SizeMargin, SizeMark, SizeProgress, SizeSpread } from './study/size/size-types.js';
export type { OneMore, StayLengths } from './study/stay/stay-types.js';
export { type GlanceOptions, openStays, type StayGlance, type Stays } from './study/stay/open-stays.js';
export { ensembleText, readEnsemble } from './rig/ensemble-file.js';
export { type RunSpread, spreadOf } from './study/ensemble/run-spread.js';
export { readReadings } from './rig/readings-file.js';
export type { DayRead, EnergyRead, MomentRead, Readings, TotalRead } from './rig/readings-types.js';
export { calibrateReadings, calibrateReadingsAsync } from './log/readings/calibrate-readings.js';
export { rigWithEnsembleText } from './log/readings/rig-with-ensemble.js';
export type {
  NextReading,
  ReadingsCalibration,
  ReadingsOptions,
  Told,
  TwiceTheBattery,
} from './log/readings/calibrate-readings.js';
export type { Percentiles } from './math/percentile.js';
export { AS_WRITTEN, middleVehicle, VEHICLE_KEYS, vehicleOf } from './rig/vehicle.js';
export type { VehicleDraw } from './rig/types.js';
export type { BatteryReading } from './study/tonight/battery-reading.js';
export type { TonightPlan, TonightText } from './study/tonight/read-tonight.js';
export { parseSky, SKY_WORDS, type SkyDay, type SkyWord } from './study/tonight/sky-days.js';
export type {
  DriveNeeded,
  ExtraUse,
  LoadCost,
  PlannedSpan,
  SkyTaken,
  SwitchOff,
  TonightFinding,
  TonightFindingArgs,
} from './study/tonight/tonight-types.js';
export type { NamedText } from './study/sweep/sweep.js';
export type { SweepColumn, SweepFigure } from './study/sweep/sweep-figures.js';
export { MAX_VARIANTS, type SweepPlan } from './study/sweep/sweep-plan.js';
export { parseVary, type Vary } from './study/sweep/sweep-vary.js';
export type { ArrayMonth, ArrayYield, Waterfall, WaterfallStep } from './study/yield/yield-types.js';
export { YIELD_LOSSES, type YieldLoss, type YieldRange, type YieldSetup } from './study/yield/yield-types.js';
export type { CompareDay, CompareHour, PanelShare, SideBySide } from './log/compare/compare-types.js';
export type { FindingSize, LogFindingCode } from './log/judge/finding.js';
export { FIT_NAMES, type NotIdentifiable } from './log/parts/calibrate-types.js';
export type { PanelHour } from './log/replay/panel-hours.js';
export type { LogNote, LogNoteArgs, UnitEvidence } from './log/note.js';
export type { RowStamps } from './log/clock/row-stamps.js';
export type { HarvestSide } from './log/replay/harvest-side.js';
export type { RowEvidence } from './log/replay/replay.js';
export type { SunShift } from './log/replay/sun-shift.js';
export type { ZeroOffset } from './log/replay/zero-offset.js';
export type { ColumnFound, LogGap, LogPicture, LogReason, ReasonCode, SignFound, Stamps } from './log/types.js';
export { TIDY_HEADINGS } from './log/types.js';
export { type ColumnRole, roleOf } from './table/column-wording.js';
export type { DateOrder } from './table/time-stamp.js';
