import { allShapes, type CommandShape, type Fits } from './shape.js';

/** Completion for fish: a file stayput.fish in its completions folder, or to be sourced. */
export function fishCompletion(root: CommandShape, version: string): string {
  const lines = allShapes(root).flatMap((shape) => linesOf(shape));
  return `# fish completion of stayput ${version}, printed by: stayput completion fish
# Save it as ~/.config/fish/completions/stayput.fish

complete -c stayput -f
${lines.join('\n')}
`;
}

const quoted = (text: string) => `'${text.replace(/[\\']/g, (sign) => `\\${sign}`)}'`;

function linesOf({ path, subs, options, args }: CommandShape): string[] {
  const line = (rest: string, here = conditionOf(path, [])) => `complete -c stayput -n ${quoted(here)} ${rest}`;
  const commands = subs.map((sub) =>
    line(
      `-a ${quoted(sub.path.at(-1)!)} -d ${quoted(sub.summary)}`,
      conditionOf(
        path,
        subs.map((one) => one.path.at(-1)!),
      ),
    ),
  );
  const switches = options.map(({ short, long, fits, says }) =>
    line(
      `-l ${long.replace(/^--/, '')}${short ? ` -s ${short.replace(/^-/, '')}` : ''}${fits ? ` -r${fitting(fits)}` : ''} -d ${quoted(says)}`,
    ),
  );
  const fits = args.map((arg) => arg.fits);
  const words = fits.flatMap((one) => one.words);
  const own = [
    ...(words.length > 0 ? [line(`-a ${wordList(words)}`)] : []),
    ...(fits.some(({ files }) => files) ? [line('-F')] : []),
  ];
  return [...commands, ...switches, ...own];
}

/** Holds when all words of the path were typed, and none of those below. */
function conditionOf(path: readonly string[], below: readonly string[]): string {
  const seen = path.map((word) => `__fish_seen_subcommand_from ${word}`);
  const first = path.length === 0 && below.length > 0 ? ['__fish_use_subcommand'] : [];
  const none = path.length === 0 || below.length === 0 ? [] : [`not __fish_seen_subcommand_from ${below.join(' ')}`];
  return [...first, ...seen, ...none].join('; and ') || 'true';
}

function fitting({ words, files }: Fits): string {
  return `${files ? ' -F' : words.length > 0 ? ' -f' : ' -f'}${words.length > 0 ? ` -a ${wordList(words)}` : ''}`;
}

/** fish splits the text of -a at blanks, and takes what is escaped in it as one word. */
function wordList(words: readonly string[]): string {
  return quoted(words.map((word) => word.replace(/[\s'()\\"]/g, (sign) => `\\${sign}`)).join(' '));
}
