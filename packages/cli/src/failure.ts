import type { ConfigError } from '@stayput/core';
import { callError } from './help/call-errors.js';
import { type HintedIssue, topicHint } from './help/topic-hint.js';
import { adviceWords, optionWord } from './words/option-words.js';

/** Exit codes of the command line; a closed pipe counts as done. */
export const EXIT = { done: 0, targetMissed: 1, wrongInput: 2, ourFault: 70, stopped: 130 } as const;

/** The call or a file is wrong: said in one line each, never with a stack. */
export class InputError extends Error {
  override readonly name = 'InputError';
}

const MAX_ISSUES_SHOWN = 20;

/** One thing that is wrong, as `--json` has it. */
interface Problem {
  /** short and stable: `call` for a call or a file that does not serve, `internal` for a fault of ours, else core's code */
  readonly code: string;
  readonly path?: string;
  /** the option of the call that it is about */
  readonly option?: string;
  readonly file?: string;
  readonly line?: number;
  readonly column?: number;
  readonly message: string;
  readonly hint?: string;
}

/** What was thrown as one document, for whoever asked for JSON. */
export function failureDocument(error: unknown, args: readonly string[], exitCode: number): object {
  const command = args.find((arg) => !arg.startsWith('-'));
  return { command: command ?? null, exitCode, errors: problemsOf(error) };
}

function problemsOf(error: unknown): readonly Problem[] {
  if (!(error instanceof Error)) return [{ code: 'internal', message: String(error) }];
  if (error.name === 'ConfigError' && 'issues' in error)
    return (error as ConfigError).issues.map(({ advice, option, ...issue }) => {
      const hint = advice ? adviceWords(advice) : (issue.hint ?? topicHint(issue));
      return {
        ...issue,
        ...(option && { option: optionWord(option) }),
        ...(option?.name === issue.path && { path: '' }),
        ...(hint !== undefined && { hint }),
      };
    });
  if (isCallError(error))
    return [
      {
        code: 'call',
        message: callError(error.message)
          .replace(/^error: /, '')
          .trim(),
      },
    ];
  return [{ code: error instanceof InputError ? 'call' : 'internal', message: error.message }];
}

/** Whether commander found the call wrong: it has printed its message by then. */
export function isCallError(error: unknown): error is Error & { readonly exitCode: number } {
  return (
    error instanceof Error && 'exitCode' in error && 'code' in error && String(error.code).startsWith('commander.')
  );
}

/** What to print and how to exit for anything thrown. */
export function describeFailure(error: unknown, debug: boolean): { lines: string[]; exitCode: number } {
  if (error instanceof InputError) return { lines: [`stayput: ${error.message}`], exitCode: EXIT.wrongInput };
  if (error instanceof Error && error.name === 'ConfigError')
    return { lines: issueLines((error as ConfigError).lines(optionWord), hintsOf(error)), exitCode: EXIT.wrongInput };
  if (error instanceof RangeError && /allocation failed|Invalid typed array length/i.test(error.message))
    return {
      lines: [
        'stayput: there is not enough memory for a run of so many steps; take fewer days, or longer steps with --step 1h',
      ],
      exitCode: EXIT.wrongInput,
    };
  const text = error instanceof Error ? `${error.name}: ${error.message.split('\n')[0]}` : String(error);
  const lines = [`stayput: a fault of ours, not of your files: ${text} (STAYPUT_DEBUG=1 shows where)`];
  if (debug && error instanceof Error && error.stack) lines.unshift(error.stack);
  return { lines, exitCode: EXIT.ourFault };
}

/** Where more is told, for each kind of issue once. */
function hintsOf(error: Error): string[] {
  const issues = 'issues' in error && Array.isArray(error.issues) ? (error.issues as HintedIssue[]) : [];
  return [...new Set(issues.map(topicHint).filter((hint) => hint !== undefined))];
}

/** The count first, so that the last line is an issue and stays in sight. */
function issueLines(issues: readonly string[], hints: readonly string[]): string[] {
  const more = hints.length > 0 ? ` (${hints.join('; ')})` : '';
  if (issues.length === 1) return more ? [`stayput: ${issues[0]}`, more.trim()] : [`stayput: ${issues[0]}`];
  const shown = issues.slice(0, MAX_ISSUES_SHOWN);
  const first = issues.length > shown.length ? `, the first ${shown.length} are` : '';
  return [`stayput: ${issues.length} things to correct${first}${more}:`, ...shown.map((issue) => `  ${issue}`)];
}
