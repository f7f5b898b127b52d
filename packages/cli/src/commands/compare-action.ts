import { type Comparison, checkRig, compareLog } from '@stayput/core';
import { EXIT } from '../failure.js';
import type { Io } from '../io.js';
import { compareText } from '../show/compare-text.js';
import { isDanger } from '../show/findings.js';
import { jsonText } from '../show/json.js';
import { oneLine } from '../show/style.js';
import type { CompareOptions } from './compare.js';
import { deliver } from './deliver.js';
import { type LogAndRigPaths, readLogAndRig } from './log-and-rig.js';

export async function runCompare(io: Io, paths: LogAndRigPaths, options: CompareOptions): Promise<number> {
  const { quiet = false, out = '-', force = false } = options;
  const result = await io.claim(out, { force, inputs: [paths.rigPath, paths.logPath] });
  const { rig, log, logName, replay } = await readLogAndRig(io, paths, options);
  const comparison = compareLog(rig, log, replay);
  const { warnings } = log.reading;
  await deliver(io, result, options, {
    json: () => jsonText(compareDocument(rig.name, logName, comparison, warnings)),
    text: (shownBy) =>
      compareText({ rigName: rig.name, logName, comparison, warnings, findings: checkRig(rig), quiet }, shownBy),
  });
  if (options.json || result !== 'stdout')
    for (const { path, text } of comparison.findings.filter(isDanger))
      io.tell(`${io.errStyle.red('danger')}: ${oneLine(`${path}: ${text}`)}`);
  return EXIT.done;
}

function compareDocument(rig: string, log: string, { traces, ...comparison }: Comparison, warnings: unknown): unknown {
  return { command: 'compare', rig, log, warnings, ...comparison };
}
