import { type Document, isAlias, isMap, isNode, isScalar, isSeq, LineCounter, parseDocument, visit } from 'yaml';
import { option } from '../message/index.js';
import { shown } from '../quantity/index.js';
import { ConfigError } from './config-error.js';
import { LARGEST_FILE } from './decode.js';
import { type Path, pathText } from './path.js';
import { applySetting, type Setting, settingsOf } from './set-path.js';
import type { Settings } from './settings.js';
import type { ConfigIssue } from './types.js';

/** Names that would reach into JavaScript objects. */
const FORBIDDEN_KEYS = new Set(['__proto__', 'constructor', 'prototype']);
const MAX_ALIASES = 50;
/** Beyond these nobody reads on, and finding the place of each would take for ever. */
export const MAX_FAULTS = 20;

/** A YAML (or JSON) text, read, with the way back from a path to its line. */
export class Source {
  private constructor(
    /** plain JavaScript values */
    readonly value: unknown,
    private readonly document: Document,
    private readonly lines: LineCounter,
    private readonly settings: readonly Setting[],
    readonly file: string | undefined,
  ) {}

  /**
   * @param set put into the document before its values are taken
   * @throws ConfigError with every fault of the YAML, or of the settings
   */
  static read(text: string, file?: string, set: Settings = []): Source {
    const fault = (code: string, message: string, hint?: string) =>
      new ConfigError([{ code, path: '', ...(file !== undefined && { file }), message, ...(hint && { hint }) }]);
    if (text.length > LARGEST_FILE)
      throw fault(
        'too_large',
        `the text has ${(text.length / 1e6).toFixed(1)} MB; at most ${LARGEST_FILE / 1e6} MB are read`,
      );
    const clean = text.startsWith('\uFEFF') ? text.slice(1) : text;
    const strange = unprintable(clean);
    if (strange !== undefined) throw fault('binary', `this is not text (it holds the character ${strange})`);
    if (clean.trim() === '') throw fault('empty', 'the file is empty');
    if (isTooDeep(clean)) throw fault('yaml', 'the file is nested too deeply');

    const lines = new LineCounter();
    const document = guarded(fault, () =>
      parseDocument(clean, {
        lineCounter: lines,
        prettyErrors: false,
        merge: false,
        logLevel: 'error',
        // The library compares each key with all before it; throwFaults looks for twins in one pass.
        uniqueKeys: false,
      }),
    );
    const settings = settingsOf(set);
    const source = new Source(undefined, document, lines, settings, file);
    source.throwFaults();
    for (const setting of settings) applySetting(document, setting);
    const value: unknown = guarded(fault, () => document.toJS({ maxAliasCount: MAX_ALIASES }));
    if (value === null || value === undefined) throw fault('empty', 'the file holds nothing but comments');
    return new Source(value, document, lines, settings, file);
  }

  private throwFaults(): void {
    const { document, file, lines } = this;
    const issues: ConfigIssue[] = [];
    const add = (code: string, [message, hint]: Said, offset?: number, path = '') => {
      const at = offset === undefined ? undefined : lines.linePos(offset);
      const place = { path, ...(file !== undefined && { file }), ...(at && { line: at.line, column: at.col }) };
      // a broken bracket is reported once, not once for each level
      if (!issues.some((one) => one.message === message && one.line === at?.line))
        issues.push({ code, ...place, message, ...(hint && { hint }) });
      return issues.length < MAX_FAULTS;
    };
    // What is written after a tab is read wrongly because of it.
    const tabs = document.errors.filter(({ code }) => code === 'TAB_AS_INDENT');
    const faults = tabs.length > 0 ? tabs : [...document.errors, ...document.warnings];
    for (const error of faults.slice(0, MAX_FAULTS)) add('yaml', yamlMessage(error.code, error.message), error.pos[0]);
    let aliases = 0;
    if (issues.length === 0)
      visit(document, {
        Alias: (_, alias, above) => {
          if (++aliases > MAX_ALIASES) {
            add('yaml', REPEATED);
            return visit.BREAK;
          }
          const target = alias.resolve(document);
          if (target && above.includes(target)) add('yaml', [`the alias *${alias.source} stands inside itself`]);
          return undefined;
        },
        Map: (_, map) => {
          const names = new Set<string>();
          for (const { key } of map.items) {
            const name = keyName(key);
            if (name !== undefined && names.has(name) && !add('yaml', TWICE, rangeStart(key), name)) break;
            if (name !== undefined) names.add(name);
          }
        },
        Pair: (_, { key }) => {
          const name = keyName(key);
          const at = rangeStart(key);
          let goesOn = true;
          if (name === undefined) goesOn = add('yaml', ['a key must be a plain word'], at);
          else if (FORBIDDEN_KEYS.has(name)) goesOn = add('unknown_key', [`unknown key ${shown(name)}`], at, name);
          else if (name === '<<')
            goesOn = add('yaml', ['merge keys (<<) are not read', 'write the keys out'], at, name);
          return goesOn ? undefined : visit.BREAK;
        },
      });
    if (issues.length > 0) throw new ConfigError(issues);
  }

  /** The line and column of what stands at a path, of its key when `ofKey`, or of the nearest thing above it. */
  where(path: Path, ofKey = false): Pick<ConfigIssue, 'file' | 'line' | 'column' | 'option'> {
    let node: unknown = this.document.contents;
    let start = rangeStart(node);
    for (const [depth, step] of path.entries()) {
      if (isAlias(node)) node = node.resolve(this.document);
      const pair = isMap(node)
        ? node.items.find((item) => String(isScalar(item.key) ? item.key.value : item.key) === String(step))
        : undefined;
      const next: unknown = isSeq(node) ? node.items[Number(step)] : pair?.value;
      if (next === undefined && !pair) break;
      // What was put in by a setting has no place in the text.
      const setting =
        isNode(next) && rangeStart(next) === undefined ? this.settingAt(path.slice(0, depth + 1)) : undefined;
      if (setting) return { option: option('set', setting.text) };
      const isLast = depth === path.length - 1;
      start =
        (isLast && ofKey ? rangeStart(pair?.key) : undefined) ?? rangeStart(next) ?? rangeStart(pair?.key) ?? start;
      node = next;
    }
    const at = start === undefined ? undefined : this.lines.linePos(start);
    return { ...(this.file !== undefined && { file: this.file }), ...(at && { line: at.line, column: at.col }) };
  }

  private settingAt(path: Path): Setting | undefined {
    return [...this.settings]
      .reverse()
      .find((setting) => startsWith(setting.path, path) || startsWith(path, setting.path));
  }

  /** Items of a list that have the name of an item before them. */
  duplicateNames(lists: readonly string[]): ConfigIssue[] {
    return lists.flatMap((list) => {
      const items = isGroup(this.value) ? this.value[list] : undefined;
      const names = Array.isArray(items)
        ? items.map((item: unknown) =>
            isGroup(item) && item.name !== undefined ? String(item.name).trim() : undefined,
          )
        : [];
      return names.flatMap((name, i) => {
        const first = names.indexOf(name);
        if (name === undefined || first === i) return [];
        return [
          this.issue(
            'duplicate',
            [list, i, 'name'],
            `the name ${shown(name)} is taken by ${list}[${first}]`,
            'each needs a name of its own',
          ),
        ];
      });
    });
  }

  issue(code: string, path: Path, message: string, hint?: string, ofKey = false): ConfigIssue {
    return { code, path: pathText(path), ...this.where(path, ofKey), message, ...(hint && { hint }) };
  }
}

const startsWith = (path: Path, head: Path) => head.every((step, i) => String(path[i]) === String(step));

/** What a key is called, or undefined when it is no plain word. */
function keyName(key: unknown): string | undefined {
  const value = isScalar(key) ? key.value : undefined;
  return typeof value === 'string' || typeof value === 'number' ? String(value) : undefined;
}

function rangeStart(node: unknown): number | undefined {
  return isNode(node) ? node.range?.[0] : undefined;
}

/** A message, and what would help. */
type Said = readonly [message: string, hint?: string];

const REPEATED: Said = [
  'the file repeats its parts (aliases) too often, or an alias points nowhere',
  'write the parts out',
];
const TWICE: Said = ['this key is written twice', 'keep one of them'];

/** Runs a step of the YAML library, whose own refusals (alias bombs, stack depth) are errors in the file. */
function guarded<T>(fault: (code: string, message: string, hint?: string) => ConfigError, run: () => T): T {
  try {
    return run();
  } catch (error) {
    if (error instanceof RangeError) throw fault('yaml', 'the file is nested too deeply');
    if (error instanceof ReferenceError) throw fault('yaml', ...REPEATED);
    throw fault('yaml', `this is not readable YAML: ${error instanceof Error ? error.message.split('\n')[0] : error}`);
  }
}

function yamlMessage(code: string, message: string): Said {
  const first = message.split('\n')[0]!.replace(/ at line \d+.*$/, '');
  switch (code) {
    case 'TAB_AS_INDENT':
      return ['a tab is used to indent', 'YAML is indented with spaces'];
    case 'MULTIPLE_DOCS':
      return ['the file holds more than one document (---)', 'write each to a file of its own'];
    case 'TAG_RESOLVE_FAILED':
      return [`${first}`, 'tags (!) are not used here'];
    default:
      if (/call stack/i.test(first)) return ['the file is nested too deeply'];
      return [/\t/.test(first) || /tab/i.test(first) ? `${first} (a tab?)` : `not readable as YAML: ${first}`];
  }
}

/** The first control character that no text file holds, written as U+0000. */
function unprintable(text: string): string | undefined {
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (
      (code < 32 && code !== 9 && code !== 10 && code !== 13) ||
      code === 0xfffd ||
      code === 0xfffe ||
      code === 0xffff
    )
      return `U+${code.toString(16).toUpperCase().padStart(4, '0')}`;
  }
  return undefined;
}

/** Whether brackets are nested beyond any real file: refused before the parser recurses into them. */
function isTooDeep(text: string): boolean {
  let depth = 0;
  let deepest = 0;
  for (const character of text) {
    if (character === '[' || character === '{') deepest = Math.max(deepest, ++depth);
    else if (character === ']' || character === '}') depth = Math.max(0, depth - 1);
  }
  return deepest > 100;
}

export function isGroup(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
