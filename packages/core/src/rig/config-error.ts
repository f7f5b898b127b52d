import type { ConfigIssue } from './types.js';

/** What the user gave is wrong: a file, an option, a weather file. Carries every issue found, never only the first. */
export class ConfigError extends Error {
  override readonly name = 'ConfigError';
  readonly issues: readonly ConfigIssue[];

  constructor(issues: readonly ConfigIssue[]) {
    super(issues.map(issueText).join('\n'));
    this.issues = issues;
  }
}

/** One issue on one line: `rig.yaml:12:5 loads[1].power: message (hint)`. */
export function issueText(issue: ConfigIssue): string {
  const at = [issue.file, issue.line, issue.column].filter((part) => part !== undefined).join(':');
  const where = [at, issue.path].filter((part) => part !== '').join(' ');
  return `${where ? `${where}: ` : ''}${issue.message}${issue.hint ? ` (${issue.hint})` : ''}`;
}

/** Our own invariant broke, such as a ledger that does not close: a fault of ours, never of the user. */
export class InternalError extends Error {
  override readonly name = 'InternalError';
}
