/** What a stream can show. Colour is judged for each stream; width and signs for the results. */
export interface Terminal {
  readonly colour: boolean;
  /** columns to fill, 20..200 */
  readonly width: number;
  /** whether signs beyond ASCII can be shown */
  readonly unicode: boolean;
}

type Env = Readonly<Record<string, string | undefined>>;

export function terminalFor(
  stream: { isTTY?: boolean; columns?: number },
  env: Env,
  platform: string,
  colourWanted: boolean,
): Terminal {
  const asked = Number(env.COLUMNS);
  // A terminal that does not know its width says 0.
  const columns = stream.columns || (Number.isInteger(asked) && asked > 0 ? asked : 80);
  return {
    colour: colourWanted && stream.isTTY === true && !env.NO_COLOR && env.TERM !== 'dumb',
    width: Math.min(200, Math.max(20, columns)),
    unicode: isUnicode(env, platform),
  };
}

/** POSIX: the first set of LC_ALL, LC_CTYPE and LANG decides. The Linux console's fonts lack the chart's dots. */
function isUnicode(env: Env, platform: string): boolean {
  if (env.TERM === 'linux' || env.TERM === 'dumb') return false;
  const locale = env.LC_ALL || env.LC_CTYPE || env.LANG;
  if (locale) return /utf-?8/i.test(locale);
  return platform === 'win32' || platform === 'darwin';
}
