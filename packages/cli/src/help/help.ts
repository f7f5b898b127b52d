import type { Command } from 'commander';
import type { Io } from '../io.js';
import { wrapped } from '../show/table.js';
import { helpWidth } from './examples.js';
import { TOPICS } from './topics.js';

/** `help` for commands and topics, in the place of commander's own, which knows commands only. */
export function addHelp(program: Command, io: Io): void {
  program.helpCommand(false);
  program.addHelpText('after', () => `\n${topicList(helpWidth(program)).join('\n')}`);
  program
    .command('help')
    .summary('help for a command or a topic')
    .description('Prints the help of a command, or tells about a topic.')
    .argument('[subject...]', 'a command, such as simulate or sweep merge, or a topic')
    .addHelpText('after', () => `\n${topicList(helpWidth(program)).join('\n')}`)
    .action(async (words: readonly string[]) => {
      if (words.length === 0) return program.outputHelp();
      const command = commandAt(program, words);
      if (command) return command.outputHelp();
      const topic = TOPICS.find(({ name }) => name === words[0]!.toLowerCase());
      const { noSubject, topicText } = await import('./topic-text.js');
      if (!topic) throw noSubject(words.join(' '), subjects(program));
      await io.print(topicText(words, await topic.load(), io));
    });
}

function commandAt(program: Command, words: readonly string[]): Command | undefined {
  return words.reduce<Command | undefined>(
    (command, word) => command?.commands.find((one) => one.name() === word || one.aliases().includes(word)),
    program,
  );
}

/** All that there is help for. */
export const subjects = (program: Command): string[] => [
  ...program.commands.map((command) => command.name()),
  ...TOPICS.map(({ name }) => name),
];

function topicList(width: number): string[] {
  const most = Math.max(...TOPICS.map(({ name }) => name.length));
  return [
    'Topics of help:',
    ...TOPICS.flatMap(({ name, summary }) => wrapped(summary, width, ' '.repeat(most + 4), `  ${name.padEnd(most)}  `)),
  ];
}
