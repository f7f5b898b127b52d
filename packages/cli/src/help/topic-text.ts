import { closest } from '@stayput/core/model';
import { InputError } from '../failure.js';
import type { Io } from '../io.js';
import { type Block, blockLines } from './blocks.js';

/** What to say when neither a command nor a topic is called so. */
export function noSubject(subject: string, known: readonly string[]): InputError {
  const near = closest(subject, known);
  return new InputError(
    `there is no help for "${subject}"${near ? ` (did you mean ${near}?)` : `; there is for ${known.join(', ')}`}`,
  );
}

/**
 * A topic, or the sections of it whose heading begins with what else was asked for: `rig battery`.
 * @throws InputError when no section begins so
 */
export function topicText(
  [topic, ...parts]: readonly string[],
  blocks: readonly Block[],
  { style, terminal }: Pick<Io, 'style' | 'terminal'>,
): string {
  const wanted = parts.join(' ').toLowerCase();
  const shown = wanted === '' ? blocks : sectionsOf(blocks, wanted);
  if (shown.length === 0) {
    const names = [...new Set(headings(blocks).map(nameOf))];
    const near = closest(wanted, names);
    throw new InputError(
      `help ${topic} has nothing under "${wanted}"${near ? ` (did you mean ${near}?)` : `; it has ${names.join(', ')}`}`,
    );
  }
  return `${blockLines(shown, terminal.width, style).join('\n')}\n`;
}

function headings(blocks: readonly Block[]): string[] {
  return blocks.flatMap((block) => ('heading' in block ? [block.heading] : []));
}

/** "battery.charge: set points …" -> "battery.charge" */
const nameOf = (heading: string) =>
  heading
    .replace(/[:([].*/, '')
    .trim()
    .toLowerCase();

function sectionsOf(blocks: readonly Block[], wanted: string): Block[] {
  let inside = false;
  return blocks.filter((block) => {
    if ('heading' in block) {
      const name = nameOf(block.heading);
      inside = name === wanted || name.startsWith(`${wanted}.`) || name.startsWith(`${wanted} `);
    }
    return inside;
  });
}
