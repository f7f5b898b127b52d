import { type Document, isCollection, isMap, isScalar, isSeq, parse } from 'yaml';
import { option } from '../message/index.js';
import { closest, shown } from '../quantity/index.js';
import { ConfigError } from './config-error.js';
import { type Path, pathText } from './path.js';
import type { Settings } from './settings.js';

/** One `path=value` that is put into a file's document before it is checked. */
export interface Setting {
  readonly text: string;
  /** names of list items are turned into their indexes when it is applied */
  path: Path;
  readonly value: unknown;
}

const LONGEST_SETTING = 5000;

/** @throws ConfigError if one of them is not `path=value`, or its path leads nowhere */
export function settingsOf(set: Settings): Setting[] {
  if (Array.isArray(set)) return set.map((text: string) => parseSetting(text));
  return Object.entries(set).map(([path, value]) => ({
    ...parseSetting(`${path}=${typeof value === 'object' ? JSON.stringify(value) : String(value)}`),
    value,
  }));
}

/** @throws ConfigError if the text is not `path=value` */
export function parseSetting(text: string): Setting {
  if (text.length > LONGEST_SETTING)
    throw new ConfigError([
      {
        code: 'set',
        path: '',
        option: option('set', `${text.slice(0, 40)}...`),
        message: `is longer than ${LONGEST_SETTING} characters`,
      },
    ]);
  const { parts, rest } = pathOf(text);
  const setting: Setting = { text, path: parts, value: settingValue(rest.slice(1).trim()) };
  if (parts.length === 0 || !rest.startsWith('='))
    throw wrong(setting, `${shown(text)} cannot be set`, 'write path=value, such as battery.capacity=200 Ah');
  const forbidden = parts.find((part) => part === '__proto__' || part === 'constructor' || part === 'prototype');
  if (forbidden !== undefined) throw wrong(setting, `unknown key ${shown(String(forbidden))}`);
  return setting;
}

/** A key, a name in quotes, or an index in brackets; a name may stand in brackets too. */
const STEP = /^(?:"([^"]*)"|'([^']*)'|([^.[\]"'=]+)|\[\s*(?:(\d+)|"([^"]*)"|'([^']*)'|([^\]"'=]+))\s*\])/;

/** Reads keys and indexes up to what no longer is one: loads."always on".power, loads["always on"], solar[0].count */
function pathOf(text: string): { parts: (string | number)[]; rest: string } {
  const parts: (string | number)[] = [];
  let rest = text.trimStart();
  for (;;) {
    const dot = /^\s*\.\s*/.exec(rest);
    const isBracket = rest.startsWith('[');
    if (parts.length > 0 ? !dot && !isBracket : dot || isBracket) break;
    const step = STEP.exec(rest.slice(dot?.[0].length ?? 0));
    if (!step) break;
    const [whole, double, single, bare, index, ...named] = step;
    const name = double ?? single ?? bare?.trim() ?? named.find((one) => one !== undefined)?.trim();
    if (index === undefined && !name) break;
    parts.push(index === undefined ? name! : Number(index));
    rest = rest.slice((dot?.[0].length ?? 0) + whole.length);
  }
  return { parts, rest: rest.trimStart() };
}

function settingValue(text: string): unknown {
  try {
    const value: unknown = parse(text, { logLevel: 'silent' });
    return typeof value === 'object' && value !== null && !/^[[{]/.test(text) ? text : value;
  } catch {
    return text;
  }
}

/**
 * Puts the value at the path. A list item is found by its `name` or its index; a key that is not there yet is added, and
 * it is for the checking that follows to know whether that key exists.
 * @throws ConfigError if the path leads nowhere
 */
export function applySetting(document: Document, setting: Setting): void {
  const path: (string | number)[] = [];
  let node: unknown = document.contents;
  for (const [depth, part] of setting.path.entries()) {
    if (isSeq(node)) {
      const names = node.items.map((item) => (isMap(item) ? String(item.get('name') ?? '') : ''));
      const index = typeof part === 'number' ? part : names.indexOf(part);
      if (index < 0 || index >= names.length) {
        const near = typeof part === 'string' ? closest(part, names) : undefined;
        const known = `in ${pathText(path)} there are ${names.map((name, i) => name || `[${i}]`).join(', ') || 'no items'}`;
        throw wrong(
          setting,
          `${pathText([...path, part])} is not there`,
          near ? `did you mean ${pathText([...path])}.${near}?` : known,
        );
      }
      path.push(index);
    } else path.push(part);
    const isLast = depth === setting.path.length - 1;
    node = isCollection(node) ? node.get(path.at(-1), true) : undefined;
    if (!isLast && isScalar(node) && node.value !== null)
      throw wrong(setting, `${pathText(path)} is ${shown(String(node.value))}, which has no parts`);
    if (!isLast && isScalar(node)) document.setIn(path, document.createNode({}));
    if (!isLast && isScalar(node)) node = document.getIn(path, true);
  }
  setting.path = path;
  try {
    document.setIn(path, document.createNode(setting.value));
  } catch {
    throw wrong(setting, `${pathText(path)} cannot be set`);
  }
}

function wrong(setting: Setting, message: string, hint?: string): ConfigError {
  return new ConfigError([
    { code: 'set', path: pathText(setting.path), option: option('set', setting.text), message, ...(hint && { hint }) },
  ]);
}
