import { adviceText, type OptionNamed, optionText } from '../message/index.js';
import type { ConfigIssue } from './types.js';

/** What the user gave is wrong: a file, an option, a weather file. Carries every issue found, never only the first. */
export class ConfigError extends Error {
  override readonly name = 'ConfigError';
  readonly issues: readonly ConfigIssue[];

  constructor(issues: readonly ConfigIssue[]) {
    super(issues.map((issue) => issueText(issue)).join('\n'));
    this.issues = issues;
  }

  /** One line an issue, with options as the caller writes them. */
  lines(named: (option: OptionNamed) => string): string[] {
    return this.issues.map((issue) => issueText(issue, named));
  }
}

/** One issue on one line: `rig.yaml:12:5 loads[1].power: message (hint)`. */
export function issueText(issue: ConfigIssue, named: (option: OptionNamed) => string = optionText): string {
  const hint = issue.advice ? adviceText(issue.advice, named) : issue.hint;
  const at = [issue.option ? named(issue.option) : issue.file, issue.line, issue.column]
    .filter((part) => part !== undefined)
    .join(':');
  const where = [at, issue.option?.name === issue.path ? '' : issue.path].filter((part) => part !== '').join(' ');
  return `${where ? `${where}: ` : ''}${issue.message}${hint ? ` (${hint})` : ''}`;
}

/** Our own invariant broke, such as a ledger that does not close: a fault of ours, never of the user. */
export class InternalError extends Error {
  override readonly name = 'InternalError';
}
