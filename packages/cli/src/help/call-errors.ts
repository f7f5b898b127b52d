import type { Command } from 'commander';

/** Each command says, after a wrong call, where its own options are told; a guess at what was meant stays last. */
export function wordCallErrors(above: Command, path: readonly string[] = []): void {
  const hint =
    path.length === 0
      ? '(stayput --help lists the commands, stayput help COMMAND tells the options of one)'
      : `(stayput help ${path.join(' ')} tells its arguments and options)`;
  above.configureOutput({
    outputError: (text, write) => write(text.includes('(Did you mean') ? text : `${callError(text)}${hint}`),
  });
  for (const command of above.commands) wordCallErrors(command, [...path, command.name()]);
}

/** "option '--days <n>' argument 'two' is invalid. Give …" as "--days two: give …". */
export function callError(text: string): string {
  const [, option, value, advice] =
    /^error: option '(?:-\w, )?(--[\w-]+)[^']*' argument '(.*)' is invalid\. (.+)$/s.exec(text) ?? [];
  if (option && advice) return `error: ${option} ${value}: ${advice.charAt(0).toLowerCase()}${advice.slice(1)}`;
  const [, wrong, name, choices] =
    /^error: command-argument value '(.*)' is invalid for argument '([\w-]+)'\. (.+)$/s.exec(text) ?? [];
  if (name && choices) return `error: ${name} ${wrong}: ${choices.charAt(0).toLowerCase()}${choices.slice(1)}`;
  return text;
}
