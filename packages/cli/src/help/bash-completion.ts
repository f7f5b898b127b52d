import { allShapes, type CommandShape, type Fits } from './shape.js';

const key = (path: readonly string[]) => `'${path.join(' ')}'`;
/** A word list as one single-quoted string, a word a line. */
const list = (words: readonly string[]) => `'${words.join('\n').replaceAll("'", "'\\''")}'`;

/** Completion for bash 3.2 and later; a file for the completions folder, or to be sourced. */
export function bashCompletion(root: CommandShape, version: string): string {
  const shapes = allShapes(root);
  const name = 'stayput';
  const cases = (lines: readonly string[]) => lines.map((line) => `    ${line}`).join('\n');
  const subcommands = shapes
    .filter(({ subs }) => subs.length > 0)
    .map(({ path, subs }) => `${key(path)}) words=${list(subs.map((sub) => sub.path.at(-1)!))} ;;`);
  const options = shapes.map(
    ({ path, options: all }) =>
      `${key(path)}) words=${list(all.flatMap(({ short, long }) => [long, ...(short ? [short] : [])]))} ;;`,
  );
  const values = shapes.flatMap(({ path, options: all }) =>
    all.flatMap(({ long, fits }) => (fits ? [`'${[...path, long].join(' ')}') ${fitting(fits)} ;;`] : [])),
  );
  const args = shapes.flatMap(({ path, args: all }) =>
    all.map(({ fits, repeats }, k) => `'${path.join(' ')} '${repeats ? '*' : k}) ${fitting(fits)} ;;`),
  );
  return `# bash completion of ${name} ${version}, printed by: ${name} completion bash
# Source it, or save it as ~/.local/share/bash-completion/completions/${name}

# The words that may stand behind the command in $1.
_${name}_subcommands() {
  case $1 in
${cases(subcommands)}
    *) words= ;;
  esac
}

_${name}_options() {
  case $1 in
${cases(options)}
    *) words= ;;
  esac
}

# What the value of an option is: fails when it takes none. $1 is the command and the option.
_${name}_value() {
  case $1 in
${cases(values)}
    *) return 1 ;;
  esac
}

# What an argument is: $1 is the command and how many stand before.
_${name}_argument() {
  case $1 in
${cases(args)}
    *) return 1 ;;
  esac
}

# Offers those lines of $1 that begin like $2.
_${name}_offer() {
  local line
  while IFS= read -r line; do
    case $line in
      '') ;;
      "$2"*) COMPREPLY[\${#COMPREPLY[@]}]=$line ;;
    esac
  done <<< "$1"
}

_${name}() {
  local current=\${COMP_WORDS[COMP_CWORD]} before= path= count=0 ended= words= files= word quote= i line
  COMPREPLY=()
  # bash breaks --option=value at the sign
  if [ "$current" = = ]; then
    current=
    before=\${COMP_WORDS[COMP_CWORD-1]}
  elif [ "$COMP_CWORD" -gt 1 ] && [ "\${COMP_WORDS[COMP_CWORD-1]}" = = ]; then
    before=\${COMP_WORDS[COMP_CWORD-2]}
  else
    before=\${COMP_WORDS[COMP_CWORD-1]}
  fi

  for ((i = 1; i < COMP_CWORD; i++)); do
    word=\${COMP_WORDS[i]}
    if [ -z "$ended" ] && [ "$word" = -- ]; then ended=1; continue; fi
    case $word in
      =) i=$((i + 1)); continue ;;
      --*=*) continue ;;
      -?*)
        if [ -z "$ended" ]; then
          if _${name}_value "\${path:+$path }$word" && [ "\${COMP_WORDS[i+1]}" != = ]; then i=$((i + 1)); fi
          continue
        fi ;;
    esac
    _${name}_subcommands "$path"
    if [ "$count" = 0 ] && [ -n "$words" ]; then
      while IFS= read -r line; do
        if [ "$line" = "$word" ]; then path="\${path:+$path }$word"; continue 2; fi
      done <<< "$words"
    fi
    count=$((count + 1))
  done

  words= files=
  case $current in
    \\"*) quote='"' current=\${current#?} ;;
    \\'*) quote="'" current=\${current#?} ;;
  esac
  if [ -z "$ended" ] && _${name}_value "\${path:+$path }$before"; then
    :
  elif [ -z "$ended" ] && [ -z "$quote" ] && [ "\${current#-}" != "$current" ]; then
    _${name}_options "$path"
  else
    if ! _${name}_argument "$path $count"; then files=; words=; fi
    if [ "$count" = 0 ]; then
      line=$words
      _${name}_subcommands "$path"
      words="$line
$words"
    fi
  fi

  if [ -z "$quote" ]; then
    # the words as they are typed: San\\ Sebasti...
    line=
    while IFS= read -r word; do
      case $word in
        *[\\ \\(\\)\\']*) printf -v word '%q' "$word" ;;
      esac
      line="$line$word
"
    done <<< "$words"
    words=$line
  fi
  _${name}_offer "$words" "$current"
  if [ -n "$files" ]; then
    compopt -o filenames 2> /dev/null
    while IFS= read -r line; do
      [ -n "$line" ] && COMPREPLY[\${#COMPREPLY[@]}]=$line
    done <<< "$(compgen -f -- "$current")"
  fi
  return 0
}

complete -F _${name} ${name}
`;
}

function fitting({ words, files }: Fits): string {
  return `words=${words.length > 0 ? list(words) : ''} files=${files ? '1' : ''}`;
}
