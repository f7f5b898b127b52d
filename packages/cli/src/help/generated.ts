import { allPlaces, SWEEP_FIGURES } from '@stayput/core';
import type { Command } from 'commander';
import { monthNames } from '../show/number.js';
import { bashCompletion } from './bash-completion.js';
import { fishCompletion } from './fish-completion.js';
import { subjects } from './help.js';
import { manualPage } from './roff.js';
import { type CommandShape, type KnownWords, shapeOf } from './shape.js';
import { zshCompletion } from './zsh-completion.js';

const SCRIPTS = { bash: bashCompletion, zsh: zshCompletion, fish: fishCompletion } as const;

export function completionScript(program: Command, shell: keyof typeof SCRIPTS, version: string): string {
  return SCRIPTS[shell](programShape(program), version);
}

export function manual(program: Command, version: string): string {
  return manualPage(programShape(program), version);
}

function programShape(program: Command): CommandShape {
  const months = monthNames.map((name) => name.slice(0, 3).toLowerCase());
  const known: KnownWords = {
    place: [...new Set(allPlaces().map(({ name }) => name))].sort(),
    weather: ['climate', 'clear', 'dull'],
    month: months,
    months,
    answer: [...SWEEP_FIGURES.map(([name]) => name), 'overloads'],
    subject: subjects(program),
  };
  return shapeOf(program, known);
}
