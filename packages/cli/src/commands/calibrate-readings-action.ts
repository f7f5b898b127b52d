import { withoutTrip } from '@stayput/core';
import { calibrateReadingsAsync, ensembleText, readReadings, rigWithEnsembleText } from '@stayput/core/model';
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
const OF_A_LOG = ['fit', 'checkShare', 'plot', 'report', 'weather', 'from', 'to'] as const;

export async function runCalibrateReadings(
  io: Io,
  { rigPath, logPath, tripPath }: LogAndRigPaths,
  options: CalibrateCommandOptions,
): Promise<number> {
  const { at, place, quiet = false, json, ensembleOut, rigOut, set } = options;
  if (tripPath !== undefined)
    throw new InputError('readings are of a parked vehicle: say where with --at or --place, not with a trip');
  const wrong = OF_A_LOG.find((one) => options[one] !== undefined);
  if (wrong)
    throw new InputError(
      `--${wrong.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)} goes with a log, not with readings`,
    );
  refuseNowhere(undefined, { ...(at !== undefined && { at }), ...(place !== undefined && { place }) });
  if (rigOut !== undefined && set)
    throw new InputError(
      `--set ${set[0]} would not be in the rig file that --rig-out writes; put it into ${rigPath} first`,
    );
  const { rig, rigText } = await loadRig(io, rigPath, undefined, set ?? []);
  const { text, file } = await readText(io, logPath, 'readings');
  const readings = readReadings(text, { ...(file !== undefined && { file }) });
  const { result, beside, isTaken } = await claimOutputs(
    io,
    options,
    { '--ensemble-out': ensembleOut, '--rig-out': rigOut },
    [rigPath, logPath],
  );
  const [stop] = withoutTrip({
    ...(at !== undefined && { at }),
    ...(place !== undefined && { place }),
    from: io.today(),
    days: 1,
  }).stops;
  const calibration = await calibrateReadingsAsync(rig, readings, stop!);
  const sink = beside['--ensemble-out'];
  if (sink)
    await io.write(sink, ensembleText(calibration.ensemble), {
      quiet,
      what: `${calibration.ensemble.length} vehicles`,
    });
  const rigSink = beside['--rig-out'];
  if (rigSink)
    await io.write(rigSink, rigWithEnsembleText(rigText, calibration), { quiet, what: 'a rig with its ensemble' });
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
