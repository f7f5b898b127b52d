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
      return `stayput help ${fileOf(path, hint)} tells its keys`;
    default:
      if (/^weather_(header|csv|column|no_|ambiguous|stamp)/.test(code))
        return 'stayput help weather tells which files are read';
      return /^log_(no_|column|ambiguous|not_table)/.test(code)
        ? 'stayput help logs tells how logs are read'
        : undefined;
  }
}

/** Which kind of file a path stands in; of a key that no file has, the keys known beside it tell. */
function fileOf(path: string, hint: string): string {
  const first = /^\w*/.exec(path)![0];
  const words = [first, ...(/^known here: (.*)$/.exec(hint)?.[1]?.split(', ') ?? [])];
  const isOneOf = (...known: string[]) => (path === first ? words : [first]).some((word) => known.includes(word));
  if (isOneOf('stops', 'startSoc', 'start', 'weather')) return 'trip';
  return isOneOf('batteries', 'panels', 'chargers', 'limits', 'target') ? 'parts' : 'rig';
}
