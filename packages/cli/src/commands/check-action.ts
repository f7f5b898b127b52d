import { describeRig } from '@stayput/core';
import { EXIT } from '../failure.js';
import type { Io } from '../io.js';
import { defaultsTabled } from '../show/defaults-table.js';
import { CAUTION, findingLines, isDanger } from '../show/findings.js';
import { jsonText } from '../show/json.js';
import { counted } from '../show/number.js';
import { oneLine } from '../show/style.js';
import { table, wrapped } from '../show/table.js';
import { rigFindings, type ShownFinding } from '../words/finding-words.js';
import { deliver } from './deliver.js';
import type { CheckOptions } from './given.js';
import { type LoadedRig, loadRig } from './load-rig.js';

export async function runCheck(
  io: Io,
  rigPath: string,
  tripPath: string | undefined,
  options: CheckOptions,
): Promise<number> {
  const sink = await io.claim(options.out ?? '-', {
    force: options.force ?? false,
    inputs: [rigPath, ...(tripPath ? [tripPath] : [])],
  });
  const loaded = await loadRig(io, rigPath, tripPath, options.set ?? []);
  const findings = rigFindings(loaded.rig, loaded.trip);
  await deliver(io, sink, options, {
    json: () =>
      jsonText({
        command: 'check',
        rig: loaded.rig.name,
        ...(loaded.trip && { trip: loaded.trip.name }),
        warnings: [],
        findings,
        defaults: [...loaded.defaults, ...loaded.tripDefaults],
      }),
    text: (shownBy) => checkText(loaded, findings, options, shownBy),
  });
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
