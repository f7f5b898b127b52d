import type { Style } from '../show/style.js';
import { textWidth, wrapped } from '../show/table.js';

/** A piece of a help topic. */
export type Block =
  | { readonly heading: string }
  | { readonly text: string }
  /** words, and what each means */
  | { readonly entries: readonly (readonly [name: string, says: string])[] }
  /** shown as it stands */
  | { readonly code: string };

const INDENT = '  ';
/** A name longer than this has its meaning on the next line. */
const MAX_NAME = 18;

/** A topic as lines that fit the width, headings apart. */
export function blockLines(blocks: readonly Block[], width: number, style: Style): string[] {
  return blocks.flatMap((block, k) => {
    const apart = k > 0 && ('heading' in block || !('heading' in blocks[k - 1]!)) ? [''] : [];
    return [...apart, ...linesOf(block, width, style)];
  });
}

function linesOf(block: Block, width: number, style: Style): string[] {
  if ('heading' in block) return wrapped(block.heading, width, INDENT).map(style.bold);
  if ('text' in block) return wrapped(block.text, width, INDENT, INDENT).map(trimmedEnd);
  if ('code' in block) return block.code.split('\n').flatMap((line) => codeLines(line, width));
  const named = Math.min(MAX_NAME, Math.max(...block.entries.map(([name]) => textWidth(name))));
  const indent = ' '.repeat(INDENT.length + named + 2);
  return block.entries.flatMap(([name, says]) => {
    const space = ' '.repeat(Math.max(0, named - textWidth(name)));
    if (textWidth(name) > named) return [INDENT + style.bold(name), ...wrapped(says, width, indent, indent)];
    const [first, ...rest] = wrapped(says, width, indent, indent);
    return [`${INDENT}${style.bold(name)}${space}  ${first!.slice(indent.length)}`, ...rest];
  });
}

/** A line of YAML; a comment that does not fit behind it stands above it. */
function codeLines(line: string, width: number): string[] {
  const whole = trimmedEnd(INDENT + line);
  const found = /^( *)(\S.*?) +# (.*)$/.exec(whole);
  if (whole.length <= width || !found) return [whole];
  const [, indent = '', yaml, comment = ''] = found;
  return [...wrapped(comment, width, `${indent}# `, `${indent}# `), indent + yaml];
}

const trimmedEnd = (line: string) => line.trimEnd();
