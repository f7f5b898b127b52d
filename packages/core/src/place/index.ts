export {
  addDays,
  civilMs,
  civilText,
  daysBetween,
  isZone,
  type OffsetSpan,
  offsetSpans,
  standardOffsetH,
  startOfDayMs,
  utcOffsetH,
  zonedDate,
} from './civil-time.js';
export { greatCircleKm } from './great-circle.js';
export {
  begunAt,
  type CivilDay,
  type Itinerary,
  isoLocal,
  itineraryFor,
  type Leg,
  STEP_MINUTES,
  startStep,
  stopPlace,
  wholeDays,
} from './itinerary.js';
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
export type { ClimatePlace, Place } from './types.js';
