import { withoutTrip } from '@stayput/core';
import { calibrateReadingsAsync, ensembleText, readReadings } from '@stayput/core/model';
import { EXIT, InputError } from '../failure.js';
import { readText } from '../files/read-text.js';
import type { Io } from '../io.js';
import { jsonText } from '../show/json.js';
import { readingsText } from '../show/readings-text.js';
import { rigFindings } from '../words/finding-words.js';
import { claimOutputs } from './claim-outputs.js';
import { deliver, tellDangers } from './deliver.js';
import type { CalibrateCommandOptions } from './given.js';
import { loadRig } from './load-rig.js';
import type { LogAndRigPaths } from './log-and-rig.js';
import { refuseNowhere } from './where.js';

/** Options of a log, which mean nothing for a few readings. */
const OF_A_LOG = ['fit', 'checkShare', 'rigOut', 'plot', 'report', 'weather', 'from', 'to'] as const;

export async function runCalibrateReadings(
  io: Io,
  { rigPath, logPath, tripPath }: LogAndRigPaths,
  options: CalibrateCommandOptions,
): Promise<number> {
  const { at, place, quiet = false, json, ensembleOut } = options;
  if (tripPath !== undefined)
    throw new InputError('readings are of a parked vehicle: say where with --at or --place, not with a trip');
  const wrong = OF_A_LOG.find((one) => options[one] !== undefined);
  if (wrong)
    throw new InputError(
      `--${wrong.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)} goes with a log, not with readings`,
    );
  refuseNowhere(undefined, { ...(at !== undefined && { at }), ...(place !== undefined && { place }) });
  const { rig } = await loadRig(io, rigPath, undefined, options.set ?? []);
  const { text, file } = await readText(io, logPath, 'readings');
  const readings = readReadings(text, { ...(file !== undefined && { file }) });
  const { result, beside, isTaken } = await claimOutputs(io, options, { '--ensemble-out': ensembleOut }, [
    rigPath,
    logPath,
  ]);
  const [stop] = withoutTrip({
    ...(at !== undefined && { at }),
    ...(place !== undefined && { place }),
    from: io.today(),
    days: 1,
  }).stops;
  const calibration = await calibrateReadingsAsync(rig, readings, stop!);
  const sink = beside['--ensemble-out'];
  if (sink)
    await io.write(sink, ensembleText(rig.name, calibration.ensemble), {
      quiet,
      what: `${calibration.ensemble.length} vehicles`,
    });
  const findings = rigFindings(rig);
  const { ensemble: _, ...told } = calibration;
  if (!isTaken)
    await deliver(io, result, options, {
      json: () => jsonText({ command: 'calibrate', rig: rig.name, warnings: [], ...told }),
      text: (shownBy) => readingsText(rig, calibration, { quiet, findings }, shownBy),
    });
  if (json || isTaken || result !== 'stdout') tellDangers(io, findings);
  return calibration.unexplained.length > 0 ? EXIT.targetMissed : EXIT.done;
}
