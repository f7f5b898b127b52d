export { ConfigError, InternalError, issueText } from './config-error.js';
export { decodeText } from './decode.js';
export { type ReadOptions, readRig } from './read-rig.js';
export { readTrip, type WithoutTrip, withoutTrip } from './read-trip.js';
export type * from './types.js';
