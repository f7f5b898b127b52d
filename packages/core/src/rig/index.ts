export { ConfigError, InternalError, issueText } from './config-error.js';
export { decodeText } from './decode.js';
export type * from './types.js';
