export { CHEMISTRY_NAMES, isLead } from './chemistry.js';
export { ConfigError, InternalError, issueText } from './config-error.js';
export { decodeText, LARGEST_FILE } from './decode.js';
export { ensembleText, readEnsemble, vehicleColumns } from './ensemble-file.js';
export { jsonSchemas } from './json-schema.js';
export { MAX_LOAD_W } from './max-load.js';
export { LARGE_PANEL_CELLS, LARGE_PANEL_W, PANEL_CELLS } from './panel-cells.js';
export type { Path } from './path.js';
export { readParts } from './read-parts.js';
export { type ReadOptions, readRig } from './read-rig.js';
export { type ReadTripOptions, readTrip } from './read-trip.js';
export { readReadings } from './readings-file.js';
export type { DayRead, EnergyRead, MomentRead, Readings, TotalRead } from './readings-types.js';
export { requireSound, requireText } from './sound.js';
export { STARTER_LIMITS, type StarterOptions, starterRig } from './starter.js';
export { type StarterTripOptions, starterTrip } from './starter-trip.js';
export type * from './types.js';
export {
  AS_WRITTEN,
  leaking,
  lit,
  middleOf,
  middleVehicle,
  shaded,
  someVehicles,
  VEHICLE_KEYS,
  vehicleOf,
} from './vehicle.js';
export { type WithoutTrip, withoutTrip } from './without-trip.js';
export { fileValues, type WrittenValue, writeValues } from './write-values.js';
