import type { Io, Sink } from '../io.js';
import { isDanger } from '../show/findings.js';
import { narrowed } from '../show/narrow.js';
import { oneLine, styleFor } from '../show/style.js';
import type { FindingLine } from '../words/finding-words.js';
import type { CommonOptions } from './options.js';

/** Prints a result, or writes it to its file, as text for people or as JSON. A file is UTF-8, 80 columns, uncoloured. */
export async function deliver(
  io: Io,
  sink: Sink,
  { json, quiet = false }: Pick<CommonOptions, 'json' | 'quiet'>,
  result: { json: () => string; text: (shownBy: Pick<Io, 'style' | 'terminal'>) => string[] },
): Promise<void> {
  if (json) return io.write(sink, result.json(), { quiet });
  if (sink === 'stdout') return io.print(`${narrowed(result.text(io), io.terminal.width).join('\n')}\n`);
  const page = { style: styleFor(false), terminal: { colour: false, unicode: true, width: 80 } };
  return io.write(sink, `${result.text(page).join('\n')}\n`, { quiet });
}

/** What can burn is told aside wherever standard output holds no text for people; --quiet does not hide it. */
export function tellDangers(io: Io, findings: readonly FindingLine[]): void {
  for (const { path, text } of findings.filter(isDanger))
    io.tell(`${io.errStyle.red('danger')}: ${oneLine(`${path}: ${text}`)}`);
}
