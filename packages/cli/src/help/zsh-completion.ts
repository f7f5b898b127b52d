import type { CommandShape, Fits, OptionShape } from './shape.js';

/** Completion for zsh: a file _stayput on the fpath, or to be sourced. */
export function zshCompletion(root: CommandShape, version: string): string {
  return `#compdef stayput
# zsh completion of stayput ${version}, printed by: stayput completion zsh
# Save it as _stayput in a folder of your fpath, or source it after compinit.

${functionsOf(root).join('\n')}
if [[ $funcstack[1] == _stayput ]]; then
  _stayput "$@"
else
  compdef _stayput stayput
fi
`;
}

const functionName = (path: readonly string[]) => ['_stayput', ...path].join('_');
const lastWord = ({ path }: CommandShape) => path.at(-1)!;

/** One function a command; a command with commands below it first looks whether one of them was typed. */
function functionsOf(shape: CommandShape): string[] {
  const { path, subs } = shape;
  const specs = [
    ...shape.options.flatMap(optionSpecs),
    ...shape.args.map(
      ({ text, fits, repeats }, k) =>
        `${repeats ? '*' : k + 1}:${escaped(text.replace(/[<>[\].]/g, ''))}:${action(fits)}`,
    ),
  ];
  const own = `_arguments -s ${specs.map((spec) => `\\\n    '${spec}'`).join(' ')}`;
  const described = subs.map((sub) => `'${escaped(lastWord(sub))}:${escaped(sub.summary)}'`);
  const lines =
    subs.length === 0
      ? [`  ${own}`]
      : [
          `  local -a below`,
          `  below=(${described.map((one) => `\n    ${one}`).join('')}\n  )`,
          '  if (( CURRENT > 2 )); then',
          '    case $words[2] in',
          ...subs.map(
            (sub) =>
              `      ${lastWord(sub)}) shift words; (( CURRENT-- )); ${functionName([...path, lastWord(sub)])}; return ;;`,
          ),
          '    esac',
          '  elif [[ $words[CURRENT] != -* ]]; then',
          "    _describe -t commands 'command' below",
          ...(shape.args.length === 0 ? ['    return'] : []),
          '  fi',
          `  ${own}`,
        ];
  return [`${functionName(path)}() {\n${lines.join('\n')}\n}\n`, ...subs.flatMap(functionsOf)];
}

function optionSpecs({ short, long, value, fits, says }: OptionShape): string[] {
  const rest = `[${escaped(says)}]${value && fits ? `:${escaped(value.replace(/[<>]/g, ''))}:${action(fits)}` : ''}`;
  // Each may be given again, as --set, --vary and --column are.
  return [`*${long}${value ? '=' : ''}${rest}`, ...(short ? [`*${short}${rest}`] : [])];
}

function action({ words, files }: Fits): string {
  if (words.length === 0) return files ? '_files' : ' ';
  const list = `(${words
    .map((word) =>
      escaped(
        word.replace(/[\s()\\"']/g, (sign) => `\\${sign}`),
        false,
      ),
    )
    .join(' ')})`;
  return files ? `{ _alternative "words\\:word\\:${list}" "files\\:file\\:_files" }` : list;
}

/** Within a single-quoted specification of _arguments or _describe. */
function escaped(text: string, all = true): string {
  return (all ? text.replace(/[[\]:\\]/g, (sign) => `\\${sign}`) : text).replaceAll("'", "'\\''");
}
