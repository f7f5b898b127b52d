import type { FindingLine } from '../words/finding-words.js';
import { counted } from './number.js';
import { oneLine, type Style } from './style.js';
import { wrapped } from './table.js';

const ORDER = { danger: 0, caution: 1, note: 2 } as const;

/** Findings, the gravest first. */
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
  "Estimates, not an electrical design: local codes and the makers' instructions stand above them. Have it checked by a licensed person; fuse at the battery.";

/** How every answer about a rig ends: one line that points to what is grave in the rig itself, the caution, where to go from here. */
export function closingLines(findings: readonly FindingLine[], next: string, width: number, style: Style): string[] {
  return ['', ...rigLine(findings, width, style), ...wrapped(CAUTION, width).map(style.dim), ...wrapped(next, width)];
}

/** Findings stand whole in check and wires; everywhere else one line counts them and names where the dangers are. */
export function rigLine(findings: readonly FindingLine[], width: number, style: Style): string[] {
  const dangers = findings.filter(isDanger);
  const cautions = findings.filter(({ level }) => level === 'caution').length;
  if (dangers.length === 0 && cautions === 0) return [];
  const paths = [...new Set(dangers.map(({ path }) => path).filter(Boolean))];
  const where =
    paths.length > 0 ? ` (${paths.slice(0, MAX_PATHS).join(', ')}${paths.length > MAX_PATHS ? ' ...' : ''})` : '';
  const counts = [
    ...(dangers.length > 0 ? [`${counted(dangers.length, 'danger')}${where}`] : []),
    ...(cautions > 0 ? [counted(cautions, 'caution')] : []),
  ].join(', ');
  const text = oneLine(`The rig itself: ${counts}; stayput check says more.`);
  return wrapped(text, width).map(dangers.length > 0 ? style.red : style.yellow);
}

const MAX_PATHS = 3;
