import { compareLogAsync } from '@stayput/core';
import { EXIT, InputError } from '../failure.js';
import type { Io } from '../io.js';
import { comparePicture } from '../show/charts/compare-picture.js';
import { type Compared, compareText } from '../show/compare-text.js';
import { jsonText } from '../show/json.js';
import { comparePage } from '../show/page/compare-page.js';
import { rigFindings } from '../words/finding-words.js';
import { wordedLogFinding } from '../words/log-finding-words.js';
import { shownLogNotes } from '../words/log-words.js';
import { claimOutputs } from './claim-outputs.js';
import { deliver, tellDangers } from './deliver.js';
import type { CompareOptions } from './given.js';
import { type LogAndRigPaths, readLogAndRig } from './log-and-rig.js';
import { deliverPictures } from './pictures.js';

export async function runCompare(io: Io, paths: LogAndRigPaths, options: CompareOptions): Promise<number> {
  const { quiet = false } = options;
  const { result, beside, isTaken } = await claimOutputs(
    io,
    options,
    { '--plot': options.plot, '--report': options.report },
    [paths.rigPath, paths.logPath, paths.tripPath, options.weather],
  );
  const { rig, log, logName, replay } = await readLogAndRig(io, paths, options);
  const comparison = await compareLogAsync(rig, log, replay);
  const compared: Compared = {
    rig,
    logName,
    comparison,
    warnings: log.reading.warnings,
    findings: rigFindings(rig),
    quiet,
  };
  await deliverPictures(io, beside, quiet, {
    plot: () => {
      const picture = comparePicture(rig.name, comparison);
      if (!picture) throw new InputError('there is nothing to draw: the log has neither state of charge nor harvest');
      return picture;
    },
    page: () => comparePage(compared),
  });
  if (!isTaken)
    await deliver(io, result, options, {
      json: () => jsonText(compareDocument(compared)),
      text: (shownBy) => compareText(compared, shownBy),
    });
  if (options.json || isTaken || result !== 'stdout')
    tellDangers(io, [...comparison.findings.map(wordedLogFinding), ...compared.findings]);
  return EXIT.done;
}

function compareDocument({ rig, logName, comparison, warnings }: Compared): unknown {
  const { traces: _, findings, ...told } = comparison;
  return {
    command: 'compare',
    rig: rig.name,
    log: logName,
    warnings: shownLogNotes(warnings),
    ...told,
    findings: findings.map(wordedLogFinding),
  };
}
