import { someVehicles, vehicleColumns, writeValues } from '../../rig/index.js';
import type { ReadingsCalibration } from './calibrate-readings.js';

/** So many vehicles are written into a rig file: as many as studies follow, several times. */
const MOST = 120;

/**
 * The text of the owner's rig file with the vehicles that it may be in it, under a comment that says by which readings; all else as it
 * stood. JSON stays JSON, without comments.
 * @throws ConfigError when the text cannot be read as YAML
 */
export function rigWithEnsembleText(
  text: string,
  { ensemble, readings, days, from }: Pick<ReadingsCalibration, 'ensemble' | 'readings' | 'days' | 'from'>,
): string {
  const comment = `vehicles that this may be, each as likely as the others, by ${readings} readings over ${days} days from ${from}: what differs is times what stands above (shade: a share), a column each`;
  return writeValues(text, [{ path: ['ensemble'], value: vehicleColumns(someVehicles(ensemble, MOST)), comment }]);
}
