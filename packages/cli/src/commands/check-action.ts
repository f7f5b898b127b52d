import { describeRig } from '@stayput/core';
import { EXIT, InputError } from '../failure.js';
import type { Io } from '../io.js';
import { checkPicture } from '../show/charts/check-picture.js';
import { defaultsTabled } from '../show/defaults-table.js';
import { CAUTION, findingLines, isDanger } from '../show/findings.js';
import { jsonText } from '../show/json.js';
import { counted } from '../show/number.js';
import { checkPage } from '../show/page/check-page.js';
import { oneLine } from '../show/style.js';
import { table, wrapped } from '../show/table.js';
import { rigFindings, type ShownFinding } from '../words/finding-words.js';
import { claimOutputs } from './claim-outputs.js';
import { deliver, tellDangers } from './deliver.js';
import type { CheckOptions } from './given.js';
import { type LoadedRig, loadRig } from './load-rig.js';
import { deliverPictures } from './pictures.js';

export async function runCheck(
  io: Io,
  rigPath: string,
  tripPath: string | undefined,
  options: CheckOptions,
): Promise<number> {
  const { json = false, quiet = false } = options;
  const { result, beside, isTaken } = await claimOutputs(
    io,
    options,
    { '--plot': options.plot, '--report': options.report },
    [rigPath, tripPath],
  );
  const loaded = await loadRig(io, rigPath, tripPath, options.set ?? []);
  const findings = rigFindings(loaded.rig, loaded.trip);
  const { rig, trip } = loaded;
  const defaults = [...loaded.defaults, ...loaded.tripDefaults];
  const picture = options.plot === undefined ? undefined : checkPicture(rig);
  if (options.plot !== undefined && picture === undefined)
    throw new InputError('--plot draws what the loads ask for, and this rig has none');
  await deliverPictures(io, beside, quiet, {
    plot: () => picture!,
    page: () => checkPage({ rig, ...(trip && { tripName: trip.name }), findings, defaults }),
  });
  if (!isTaken)
    await deliver(io, result, options, {
      json: () =>
        jsonText({
          command: 'check',
          rig: loaded.rig.name,
          ...(loaded.trip && { trip: loaded.trip.name }),
          warnings: [],
          findings,
          defaults,
        }),
      text: (shownBy) => checkText(loaded, findings, options, shownBy),
    });
  // Where standard output holds no text for people, what can burn must still be seen.
  if (json || isTaken || result !== 'stdout') tellDangers(io, findings);
  return EXIT.done;
}

function checkText(
  { rig, trip, defaults, tripDefaults }: LoadedRig,
  findings: readonly ShownFinding[],
  { quiet = false, defaults: isEach = false }: Pick<CheckOptions, 'quiet' | 'defaults'>,
  { style, terminal: { width } }: Pick<Io, 'style' | 'terminal'>,
): string[] {
  const count = (level: string) => findings.filter((finding) => finding.level === level).length;
  const [dangers, cautions, notes] = [count('danger'), count('caution'), count('note')];
  const good = dangers + cautions === 0;
  const found = `${counted(dangers, 'danger')}, ${counted(cautions, 'caution')}, ${counted(notes, 'note')}`;
  const answer = `${oneLine(rig.name)} is read without mistakes${trip ? `, and so is ${oneLine(trip.name)}` : ''}: ${findings.length ? found : 'nothing to remark'}.`;
  const mark = dangers > 0 ? style.red : good ? style.green : style.yellow;
  const lines = wrapped(answer, width).map((line) => style.bold(mark(line)));
  if (quiet) return [...lines, ...findingLines(findings.filter(isDanger), width, style)];

  lines.push(...findingLines(findings, width, style), '');
  for (const { heading, lines: said } of describeRig(rig)) {
    const text = `${oneLine(heading)}: ${said.map(oneLine).join('; ')}`;
    const [first, ...rest] = wrapped(text, width, '  ');
    lines.push(style.bold(first!.slice(0, heading.length + 1)) + first!.slice(heading.length + 1), ...rest);
  }
  const taken = [...defaults, ...tripDefaults];
  if (isEach && taken.length > 0) lines.push('', ...table(...defaultsTabled(taken), width, style.bold));
  lines.push('', ...wrapped(CAUTION, width).map(style.dim));
  const each = isEach || taken.length === 0 ? '' : `--defaults lists the ${counted(taken.length, 'default')} taken; `;
  lines.push(...wrapped(`Next: ${each}stayput simulate RIG --place NAME shows how it fares.`, width));
  return lines;
}
