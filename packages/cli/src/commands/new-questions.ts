import { input, search, select } from '@inquirer/prompts';
import { allPlaces } from '@stayput/core';
import type { Chemistry } from '@stayput/core/model';
import type { Io } from '../io.js';
import { type STARTER_VALUES, starterValue } from './starter-values.js';

export interface Answers {
  readonly chemistry: Chemistry;
  readonly capacityAh: number;
  readonly solarW: number;
  readonly fridgeL: number;
  readonly place?: string;
}

/** Asks a person for what a starter rig needs; undefined when they break off. */
export async function askForRig(dialogue: NonNullable<Io['dialogue']>): Promise<Answers | undefined> {
  try {
    return await ask(dialogue);
  } catch (error) {
    // Ctrl-C, or the end of the input.
    if (error instanceof Error && /^(Exit|Abort)PromptError$/.test(error.name)) return undefined;
    throw error;
  }
}

async function ask(context: NonNullable<Io['dialogue']>): Promise<Answers> {
  const chemistry = await select<Chemistry>(
    {
      message: 'What is the battery made of?',
      choices: [
        { value: 'LFP', name: 'LFP (lithium iron phosphate)' },
        { value: 'AGM', name: 'AGM (lead-acid, absorbed in mats)' },
        { value: 'gel', name: 'gel (lead-acid)' },
        { value: 'flooded', name: 'flooded (lead-acid, with caps for water)' },
      ],
    },
    context,
  );
  const value = async (name: keyof typeof STARTER_VALUES, message: string, usual: string): Promise<number> => {
    const text = await input(
      {
        message,
        default: usual,
        validate: (typed) => {
          const read = starterValue(name, typed, true);
          return typeof read === 'number' || read;
        },
      },
      context,
    );
    return starterValue(name, text, true) as number;
  };
  const capacityAh = await value('capacity', 'How large is it?', '100 Ah');
  const solarW = await value('solar', 'How much do all solar panels have together, or none?', '150 W');
  const fridgeL = await value('fridge', 'How large is the fridge inside, or none?', '40 L');
  const places = allPlaces().map(({ name, country }) => ({
    value: `${name}, ${country}`,
    name: `${name}, ${country}`,
  }));
  const place = await search<string>(
    {
      message: 'Near which of these places will you stay first? (type to find it)',
      source: (typed = '') => {
        const found = places.filter(({ name }) => folded(name).includes(folded(typed)));
        return typed === '' ? [NOWHERE, ...found] : [...found, NOWHERE];
      },
    },
    context,
  );
  return { chemistry, capacityAh, solarW, fridgeL, ...(place !== '' && { place }) };
}

const NOWHERE = { value: '', name: 'none of these, or not known yet' };

const folded = (text: string) => text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase().trim();
