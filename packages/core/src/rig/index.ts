export { ConfigError, InternalError, issueText } from './config-error.js';
export { decodeText, LARGEST_FILE } from './decode.js';
export { jsonSchemas } from './json-schema.js';
export { readParts } from './read-parts.js';
export { type ReadOptions, readRig } from './read-rig.js';
export { type ReadTripOptions, readTrip } from './read-trip.js';
export { type StarterOptions, starterRig } from './starter.js';
export type * from './types.js';
export { type WithoutTrip, withoutTrip } from './without-trip.js';
