import type * as z from 'zod';
import { closest, shown } from '../quantity/index.js';
import { found } from './field.js';
import { fridgePart } from './fridge-part.js';
import { MAX_FAULTS, type Source } from './source.js';
import type { ConfigIssue } from './types.js';

/** What the schema found, with lines, guesses, and what stood there. */
export function issuesOf(error: z.ZodError, source: Source): ConfigIssue[] {
  const issues = error.issues.flatMap((issue): ConfigIssue[] => {
    const path = issue.path.map((step) => (typeof step === 'symbol' ? String(step) : step));
    const one = (code: string, message: string, hint?: string) => source.issue(code, path, message, hint);
    switch (issue.code) {
      case 'custom': {
        const { code, hint } = (issue.params ?? {}) as { code?: string; hint?: string };
        return [one(code ?? 'invalid', issue.message, hint)];
      }
      case 'unrecognized_keys':
        return issue.keys
          .slice(0, MAX_FAULTS)
          .map((key) => unknownKey(source, [...path, key], key, issue.message.split(' ')));
      case 'invalid_type': {
        const wanted = WANTED[issue.expected] ?? issue.expected;
        const value = at(source.value, path);
        const hint = issue.expected === 'array' && value !== null ? 'put "- " before each item' : undefined;
        return [
          value === undefined
            ? one('missing', `is missing: ${wanted} is needed`)
            : one('wrong_type', `found ${found(value)} where ${wanted} is needed`, hint),
        ];
      }
      case 'invalid_union': {
        const key = issue.path.at(-1) === 'kind' ? path : [...path, 'kind'];
        const value = at(source.value, key);
        if (value === undefined) return [source.issue('missing', key, `is missing: ${issue.message}`)];
        const near =
          typeof value === 'string'
            ? closest(
                value,
                KINDS.filter((kind) => issue.message.includes(kind)),
              )
            : undefined;
        return [
          source.issue('wrong_choice', key, `found ${found(value)}: ${issue.message}`, near && `did you mean ${near}?`),
        ];
      }
      default:
        return [one('invalid', issue.message)];
    }
  });
  // A misspelt key is one mistake, though the right key is then missing.
  const meant = new Set(issues.filter((issue) => issue.code === 'unknown_key').map((issue) => meantPath(issue)));
  return issues.filter((issue) => issue.code !== 'missing' || !meant.has(issue.path));
}

/** The path that the writer of an unknown key seems to have meant. */
function meantPath(issue: ConfigIssue): string | undefined {
  const near = /^did you mean (\w+)\?$/.exec(issue.hint ?? '')?.[1];
  return near && issue.path.replace(/[^.]*$/, near);
}

/** In the order of the lines. */
export function inOrder(issues: readonly ConfigIssue[]): ConfigIssue[] {
  return [...issues].sort((a, b) => (a.line ?? 0) - (b.line ?? 0) || (a.column ?? 0) - (b.column ?? 0));
}

const KINDS = ['fridge', 'scheduled', 'dcdc', 'relay'];

const WANTED: Readonly<Record<string, string>> = {
  object: 'a group of keys',
  array: 'a list',
  record: 'a group of keys',
};

/** Keys of earlier versions, by what they are called now. */
const RENAMED: Readonly<Record<string, string>> = {
  absorptionTime: 'holdFor',
  tailCurrent: 'fullBelow',
  rebulk: 'restartBelow',
  compensation: 'perDegree',
  startAbove: 'startMargin',
};

function unknownKey(source: Source, path: (string | number)[], key: string, known: readonly string[]): ConfigIssue {
  const now = RENAMED[key];
  if (now !== undefined && known.includes(now))
    return source.issue('unknown_key', path, `${key} has another name now`, `write ${now}`, true);
  const near = closest(key, known);
  const isOfFridge = path[0] === 'loads' && path.length === 3 && Object.hasOwn(fridgePart.shape, key);
  return source.issue(
    'unknown_key',
    path,
    `unknown key ${shown(key)}`,
    near ? `did you mean ${near}?` : isOfFridge ? 'add kind: fridge' : `known here: ${known.join(', ')}`,
    true,
  );
}

function at(value: unknown, path: readonly (string | number)[]): unknown {
  return path.reduce<unknown>(
    (inside, step) =>
      typeof inside === 'object' && inside !== null ? (inside as Record<string | number, unknown>)[step] : undefined,
    value,
  );
}
