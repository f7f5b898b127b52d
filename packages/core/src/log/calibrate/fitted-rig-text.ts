import { writeValues } from '../../rig/index.js';
import type { FittedValue } from '../parts/calibrate-types.js';

/**
 * The text of the owner's rig file with fitted values put in: each under a comment that gives its interval and its days, all else
 * as it stood, to the last space. JSON stays JSON, without comments.
 * @param text of the file that the rig was read from
 * @throws ConfigError when a value stands where an alias or another file's part would have to be changed
 */
export function fittedRigText(text: string, fitted: readonly Pick<FittedValue, 'writes'>[]): string {
  return writeValues(
    text,
    fitted.flatMap(({ writes }) => writes),
  );
}
