import { type Calibration, calibrateAsync, fittedRigText } from '@stayput/core';
import { EXIT, InputError } from '../failure.js';
import type { Io } from '../io.js';
import { calibrateText, type ShownCalibration } from '../show/calibrate-text.js';
import { calibratePicture } from '../show/charts/calibrate-picture.js';
import { jsonText } from '../show/json.js';
import { calibratePage } from '../show/page/calibrate-page.js';
import { rigFindings } from '../words/finding-words.js';
import { shownLogNotes } from '../words/log-words.js';
import { claimOutputs } from './claim-outputs.js';
import { deliver, tellDangers } from './deliver.js';
import type { CalibrateCommandOptions } from './given.js';
import { type LogAndRigPaths, readLogAndRig } from './log-and-rig.js';
import { deliverPictures } from './pictures.js';

export async function runCalibrate(io: Io, paths: LogAndRigPaths, options: CalibrateCommandOptions): Promise<number> {
  const { quiet = false, fit, checkShare, rigOut } = options;
  if (options.ensembleOut !== undefined)
    throw new InputError('--ensemble-out goes with readings (a .yaml file), not with a log');
  if (rigOut !== undefined && options.set)
    throw new InputError(
      `--set ${options.set[0]} would not be in the rig file that --rig-out writes; put it into ${paths.rigPath} first`,
    );
  const { result, beside, isTaken } = await claimOutputs(
    io,
    options,
    { '--rig-out': rigOut, '--plot': options.plot, '--report': options.report },
    [paths.rigPath, paths.logPath, paths.tripPath, options.weather],
  );
  const { rig, rigText, log, logName, replay } = await readLogAndRig(io, paths, options);
  const calibration = await calibrateAsync(rig, log, {
    ...replay,
    ...(fit && { fit }),
    ...(checkShare !== undefined && { checkShare }),
  });
  const { warnings } = log.reading;
  const isAny = calibration.fitted.length > 0;
  const rigSink = beside['--rig-out'];
  if (rigSink && isAny)
    await io.write(rigSink, fittedRigText(rigText, calibration.fitted), { quiet, what: 'rig with the fitted values' });
  if (rigSink && !isAny) io.tell('stayput: nothing could be fitted, so no rig is written');
  const findings = rigFindings(calibration.rig);
  const shown: ShownCalibration = {
    rigName: rig.name,
    logName,
    calibration,
    warnings,
    findings,
    quiet,
    ...(rigOut !== undefined && { rigOut }),
  };
  await deliverPictures(io, beside, quiet, {
    plot: () => {
      const picture = calibratePicture(rig.name, calibration);
      if (!picture) throw new InputError('there is nothing to draw: no day was kept back to check the fit on');
      return picture;
    },
    page: () => calibratePage(shown),
  });
  if (!isTaken)
    await deliver(io, result, options, {
      json: () => jsonText(calibrateDocument(rig.name, logName, calibration, shownLogNotes(warnings))),
      text: (shownBy) => calibrateText(shown, shownBy),
    });
  if (options.json || isTaken || result !== 'stdout') tellDangers(io, findings);
  return isAny ? EXIT.done : EXIT.targetMissed;
}

function calibrateDocument(rig: string, log: string, { rig: _, ...told }: Calibration, warnings: unknown): unknown {
  return { command: 'calibrate', rig, log, warnings, ...told };
}
