/** The part of core's issues that a hint is chosen by. */
export interface HintedIssue {
  readonly code: string;
  readonly path: string;
  readonly hint?: string;
}

/** Which help tells more about an issue that says no guess at what was meant. */
export function topicHint({ code, path, hint = '' }: HintedIssue): string | undefined {
  if (/^did you mean/.test(hint)) return undefined;
  switch (code) {
    case 'bare_number':
    case 'wrong_unit':
    case 'unknown_unit':
    case 'not_a_quantity':
      return 'stayput help units tells how quantities are written';
    case 'unknown_place':
      return 'stayput help places lists them';
    case 'unknown_key':
    case 'wrong_choice':
    case 'missing':
      return `stayput help ${fileOf(path)} tells its keys`;
    default:
      if (/^weather_(header|csv|column|no_|ambiguous|stamp)/.test(code))
        return 'stayput help weather tells which files are read';
      return /^log_(no_|column|ambiguous|not_table)/.test(code)
        ? 'stayput help logs tells how logs are read'
        : undefined;
  }
}

function fileOf(path: string): string {
  const part = /^\w*/.exec(path)![0];
  if (part === 'stops' || part === 'startSoc' || part === 'weather') return 'trip';
  return ['batteries', 'panels', 'chargers', 'limits', 'target'].includes(part) ? 'parts' : 'rig';
}
