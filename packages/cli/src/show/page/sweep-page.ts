import type { Vary } from '@stayput/core/model';
import { sweepPicture } from '../charts/sweep-picture.js';
import { counted, fixed } from '../number.js';
import { oneLine } from '../style.js';
import {
  answerOf,
  isDrawn,
  type Answer as SweepAnswer,
  type SweepDrawn,
  shownKeys,
  varyText,
} from '../sweep-answers.js';
import type { Column } from '../table.js';
import { closingSections, dangerAnswers } from './closing.js';
import { type Answer, chart, type Page, type Section, tableBlock, text } from './page.js';

/** More rows would not be read; the file of rows holds all. */
const MAX_ROWS = 100;

export function sweepPage(drawn: SweepDrawn): Page {
  const { rig, trip, sweep, findings } = drawn;
  const stops = [...new Set(trip.stops.map(({ name, place }) => oneLine(name ?? place ?? '')))].filter(Boolean);
  const nights = trip.stops.reduce((sum, stop) => sum + stop.nights, 0);
  return {
    title: `${rig.name}: what if`,
    about: [
      stops.join(', '),
      `${counted(nights, 'night')} from ${trip.stops[0]!.from}`,
      counted(sweep.plan.variants, 'variant'),
      ...(sweep.years > 1 ? [`${sweep.years} weather years each`] : []),
    ]
      .filter(Boolean)
      .join('; '),
    answers: [extremes(drawn), ...dangerAnswers(rig, findings)],
    sections: [
      {
        id: 'map',
        heading: sentenceCase(answerOf(drawn.key).name),
        isOpen: true,
        blocks: [
          isDrawn(sweep.plan)
            ? chart(sweepPicture(drawn))
            : text('More than two things vary: no picture shows them all.'),
        ],
      },
      rowsSection(drawn),
      ...closingSections(rig, findings, []),
    ],
  };
}

const sentenceCase = (words: string) => words.charAt(0).toUpperCase() + words.slice(1);

/** The best and the worst of the variants, each with what it is. */
function extremes({ rig, sweep, answers, key }: SweepDrawn): Answer {
  const about = answerOf(key);
  const values = answers.get(key)!;
  let [low, high] = [-1, -1];
  values.forEach((value, i) => {
    if (Number.isNaN(value)) return;
    if (low < 0 || value < values[low]!) low = i;
    if (high < 0 || value > values[high]!) high = i;
  });
  const name = sentenceCase(about.name);
  if (low < 0) return { tone: 'bad', text: 'None of these can be: their values contradict each other.' };
  if (about.words(values[low]!) === about.words(values[high]!))
    return { tone: toneOf(about, values[low]!), text: `${name}: ${about.words(values[low]!)}, whichever of them.` };
  const [best, worst] = about.isLess ? [low, high] : [high, low];
  return {
    tone: toneOf(about, values[best]!),
    text: `${name}: ${about.words(values[best]!)} with ${variantWords(rig, sweep, best)}; ${about.words(values[worst]!)} with ${variantWords(rig, sweep, worst)}.`,
  };
}

/** Time without power is no good answer, however short beside the others. */
const toneOf = ({ isLess }: SweepAnswer, best: number): Answer['tone'] => (isLess && best > 0 ? 'low' : 'good');

function variantWords(rig: SweepDrawn['rig'], sweep: SweepDrawn['sweep'], variant: number): string {
  return sweep.plan
    .indexes(variant)
    .map(
      (index, k) =>
        `${varyText({ ...sweep.plan.varied[k]!, unit: '' } as Vary, rig)} ${valueWords(sweep.plan.varied[k]!, index)}`,
    )
    .join(', ');
}

const valueWords = (vary: Vary, index: number) => oneLine(`${vary.cellAt(index)}${vary.unit ? ` ${vary.unit}` : ''}`);

function rowsSection({ rig, sweep, answers }: SweepDrawn): Section {
  const shown = Array.from({ length: Math.min(MAX_ROWS, sweep.plan.variants) }, (_, variant) => variant);
  const more = sweep.plan.variants - shown.length;
  const columns: Column<number>[] = [
    ...sweep.plan.varied.map(
      (vary, k): Column<number> => ({
        head: varyText({ ...vary, unit: '' } as Vary, rig),
        cell: (variant) => valueWords(vary, sweep.plan.indexes(variant)[k]!),
      }),
    ),
    ...shownKeys(sweep.years).map((key): Column<number> => {
      const { name, words } = answerOf(key);
      const values = answers.get(key)!;
      return {
        head: name,
        cell: (variant) => (Number.isNaN(values[variant]!) ? '-' : words(values[variant]!)),
        align: 'right',
      };
    }),
  ];
  return {
    id: 'rows',
    heading: 'Each of them',
    blocks: [tableBlock('What each gives', shown, columns), more > 0 ? text(`and ${fixed(more, 0)} more`) : undefined],
  };
}
