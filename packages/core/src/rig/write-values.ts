import {
  Document,
  isAlias,
  isCollection,
  isMap,
  isNode,
  isPair,
  isScalar,
  isSeq,
  type Node,
  parseDocument,
} from 'yaml';
import { ConfigError } from './config-error.js';
import { type Path, pathText } from './path.js';

/** A value that goes into a rig or trip file. */
export interface WrittenValue {
  /** keys and indexes from the top; an index one past the end of a list adds an item */
  readonly path: Path;
  /** text, number, or an object of them */
  readonly value?: unknown;
  /** stands in lines of its own above; a JSON file has no comments */
  readonly comment?: string;
  /** leaves what stands there */
  readonly unlessThere?: boolean;
  /** takes out what stands there, with its key, instead of writing a value */
  readonly isRemoved?: boolean;
}

/** Longest line of a comment. */
const WIDTH = 110;

interface Edit {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

/**
 * Puts values into the text of a file, and leaves every other character as it stands: comments, order, alignment, line ends.
 * Keys and lists that are not there yet are added where their group ends. JSON stays JSON.
 * @throws ConfigError when the text cannot be read as YAML, or a path leads through a value or an alias
 */
export function writeValues(text: string, values: readonly WrittenValue[]): string {
  const isJson = canBeJson(text);
  const eol = text.includes('\r\n') ? '\r\n' : '\n';
  let written = text.startsWith('\uFEFF') ? text.slice(1) : text;
  const mark = text.slice(0, text.length - written.length);
  for (const value of values) {
    const edit = editFor(written, value, isJson, eol);
    if (!edit) continue;
    written = written.slice(0, edit.from) + edit.text + written.slice(edit.to);
    if (value.comment === undefined || isJson) continue;
    const at = lineStart(written, edit.text.startsWith(eol) ? edit.from + eol.length : edit.from);
    const indent = /^ */.exec(written.slice(at))![0];
    const lines = commentLines(value.comment, WIDTH - indent.length - 2).map((line) => `${indent}# ${line}${eol}`);
    written = written.slice(0, at) + lines.join('') + written.slice(at);
  }
  return mark + written;
}

/** So many times may aliases be written out: more is a file made to fill the memory. */
const MAX_ALIASES = 100;

/** What the text of a file holds, as plain data, unchecked and without defaults. @throws ConfigError when it is no YAML */
export function fileValues(text: string): unknown {
  const document = parseDocument(text, { logLevel: 'silent', merge: false });
  if (document.errors.length > 0) throw refused([], 'this file cannot be read as YAML');
  return document.toJS({ maxAliasCount: MAX_ALIASES });
}

function editFor(
  text: string,
  { path, value, unlessThere, isRemoved }: WrittenValue,
  isJson: boolean,
  eol: string,
): Edit | undefined {
  const document = parseDocument(text, { logLevel: 'silent', merge: false });
  if (document.errors.length > 0) throw refused(path, 'this file cannot be read as YAML');
  let node: unknown = document.contents;
  let within: unknown;
  let depth = 0;
  while (depth < path.length && isCollection(node)) {
    const next: unknown = node.get(path[depth], true);
    if (next === undefined) break;
    within = node;
    node = next;
    depth++;
  }
  if (isRemoved) return depth === path.length ? removal(text, within, path) : undefined;
  if (depth === path.length) {
    if (unlessThere) return undefined;
    const [from, to] = rangeOf(node, path);
    return { from, to, text: (from === to ? ' ' : '') + source(value, isJson) };
  }
  const rest = path.slice(depth + 1);
  const key = path[depth]!;
  const inner = rest.reduceRight<unknown>(
    (within, part) => (typeof part === 'number' ? [within] : { [part]: within }),
    value,
  );
  if (isAlias(node)) throw refused(path, `${pathText(path.slice(0, depth))} is an alias; write its parts out`);
  if (isScalar(node) && node.value === null) {
    const [from] = rangeOf(node, path);
    return { from, to: from, text: ` ${source(typeof key === 'number' ? [inner] : { [key]: inner }, isJson)}` };
  }
  if (!isMap(node) && !isSeq(node)) throw refused(path, `${pathText(path.slice(0, depth))} has no parts`);
  const keyText = isJson ? JSON.stringify(key) : String(key);
  const entry = isSeq(node) ? source(inner, isJson) : `${keyText}: ${source(inner, isJson)}`;
  const [start, end] = rangeOf(node, path);
  if (node.items.length === 0)
    return { from: start, to: end, text: isSeq(node) ? `[${entry}]` : isJson ? `{${entry}}` : `{ ${entry} }` };
  if (node.flow) {
    const at = endOf(node.items.at(-1), text);
    return { from: at, to: at, text: `, ${entry}` };
  }
  const at = lineEnd(text, endOf(node, text));
  const first = startOf(node.items[0]);
  const column = isSeq(node) ? text.lastIndexOf('-', first) - lineStart(text, first) : first - lineStart(text, first);
  return { from: at, to: at, text: `${eol}${' '.repeat(column)}${isSeq(node) ? '- ' : ''}${entry}` };
}

/** What takes an item out of its group: its lines, or its place between commas. The last one leaves an empty group. */
function removal(text: string, group: unknown, path: Path): Edit {
  const key = path.at(-1)!;
  if (!isMap(group) && !isSeq(group)) throw refused(path, `${pathText(path)} cannot be taken out`);
  const items = group.items as unknown[];
  const at = isSeq(group)
    ? Number(key)
    : items.findIndex((item) => isPair(item) && (isScalar(item.key) ? item.key.value : item.key) === key);
  const [item, next, before] = [items[at], items[at + 1], items[at - 1]];
  if (item === undefined) throw refused(path, `${pathText(path)} cannot be taken out`);
  if (items.length === 1) {
    const [from, to] = rangeOf(group, path);
    return { from, to: group.flow ? to : endOf(item, text), text: isSeq(group) ? '[]' : '{}' };
  }
  if (group.flow)
    return next
      ? { from: startOf(item), to: startOf(next), text: '' }
      : { from: endOf(before, text), to: endOf(item, text), text: '' };
  const start = startOf(item);
  const from = lineStart(text, isSeq(group) ? text.lastIndexOf('-', start) : start);
  const isAfterDash = /\S/.test(text.slice(from, start)) && !isSeq(group);
  // the first key of a list's item shares its line with the dash: what follows takes its place
  if (isAfterDash) return { from: start, to: startOf(next), text: '' };
  const end = text.indexOf('\n', endOf(item, text));
  return { from, to: end < 0 ? text.length : end + 1, text: '' };
}

function rangeOf(node: unknown, path: Path): readonly [number, number] {
  const range = isNode(node) ? node.range : undefined;
  if (!range) throw refused(path, `${pathText(path)} cannot be set`);
  return [range[0], range[1]];
}

function startOf(item: unknown): number {
  return isPair(item) ? (item.key as Node).range![0] : (item as Node).range![0];
}

/** Where the last of a node's text ends: a group in lines claims the blank lines and comments after it too. */
function endOf(item: unknown, text: string): number {
  if (isPair(item)) {
    const value = item.value as Node | null;
    const hasText = value && !(isScalar(value) && value.range![0] === value.range![1]);
    return hasText ? endOf(value, text) : text.indexOf(':', (item.key as Node).range![1]) + 1;
  }
  if (isCollection(item) && !item.flow) return endOf(item.items.at(-1), text);
  const end = (item as Node).range![1];
  return text[end - 1] === '\n' ? end - (text[end - 2] === '\r' ? 2 : 1) : end;
}

function source(value: unknown, isJson: boolean): string {
  if (isJson) return JSON.stringify(value);
  return new Document(value).toString({ collectionStyle: 'flow', lineWidth: 0 }).trim();
}

function canBeJson(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}

const lineStart = (text: string, at: number) => text.lastIndexOf('\n', at - 1) + 1;

function lineEnd(text: string, at: number): number {
  const end = text.indexOf('\n', at);
  if (end < 0) return text.length;
  return text[end - 1] === '\r' ? end - 1 : end;
}

function commentLines(comment: string, width: number): string[] {
  const lines: string[] = [''];
  for (const word of comment.split(/\s+/)) {
    const line = lines.at(-1)!;
    if (line !== '' && line.length + 1 + word.length > width) lines.push(word);
    else lines[lines.length - 1] = line === '' ? word : `${line} ${word}`;
  }
  return lines;
}

function refused(path: Path, message: string): ConfigError {
  return new ConfigError([{ code: 'set', path: pathText(path), message }]);
}
