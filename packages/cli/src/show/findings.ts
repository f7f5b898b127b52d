import type { FindingLine } from '../words/finding-words.js';
import { oneLine, type Style } from './style.js';
import { wrapped } from './table.js';

const ORDER = { note: 0, caution: 1, danger: 2 } as const;

/** Findings, the gravest last so that it stays in sight. */
export function findingLines(findings: readonly FindingLine[], width: number, style: Style): string[] {
  const mark = { note: style.dim, caution: style.yellow, danger: style.red };
  return [...findings]
    .sort((a, b) => ORDER[a.level] - ORDER[b.level])
    .flatMap(({ level, path, text }) => {
      const [first, ...rest] = wrapped(oneLine(`${path ? `${path}: ` : ''}${text}`), width - INDENT.length);
      return [`${mark[level](level.padEnd(INDENT.length))}${first}`, ...rest.map((line) => INDENT + line)];
    });
}

const INDENT = ' '.repeat('caution '.length);

export const isDanger = ({ level }: Pick<FindingLine, 'level'>) => level === 'danger';

/** Stands under every result: a battery and its cables can burn a vehicle down. */
export const CAUTION =
  "Estimates, not an electrical design: local codes and the makers' instructions stand above them. Have the installation checked by a licensed person, with a fuse at the battery.";

/** How every answer about a rig ends: what is grave in the rig itself, the caution, and where to go from here. */
export function closingLines(findings: readonly FindingLine[], next: string, width: number, style: Style): string[] {
  const graver = findings.filter(({ level }) => level !== 'note');
  const lines =
    graver.length > 0
      ? ['', style.bold('The rig itself (stayput check says more)'), ...findingLines(graver, width, style)]
      : [];
  return [...lines, '', ...wrapped(CAUTION, width).map(style.dim), ...wrapped(next, width)];
}
