import type { DefaultTaken, Rig } from '@stayput/core';
import type { ShownFinding } from '../../words/finding-words.js';
import { partAndKeys } from '../../words/path-words.js';
import { checkPicture } from '../charts/check-picture.js';
import { counted } from '../number.js';
import { oneLine } from '../style.js';
import { cautionSection, dangerAnswers, rigSection } from './closing.js';
import { type Answer, type Block, chart, findingsBlock, type Page, tableBlock } from './page.js';

export interface Checked {
  readonly rig: Rig;
  readonly tripName?: string;
  readonly findings: readonly ShownFinding[];
  readonly defaults: readonly DefaultTaken[];
}

export function checkPage({ rig, tripName, findings, defaults }: Checked): Page {
  return {
    title: `${rig.name}: is it right and safe?`,
    about:
      tripName === undefined
        ? 'The rig as it is written down.'
        : `The rig as it is written down, with ${oneLine(tripName)}.`,
    answers: [checkAnswer(findings), ...dangerAnswers(rig, findings)],
    sections: [
      { id: 'findings', heading: 'What to look at', isOpen: true, blocks: [findingsBlock(rig, findings)] },
      { id: 'powers', heading: 'What the loads ask for', isOpen: true, blocks: [chart(checkPicture(rig))] },
      rigSection(rig),
      { id: 'defaults', heading: 'What was left open', blocks: [defaultsBlock(rig, defaults)] },
      cautionSection(rig),
    ],
  };
}

function checkAnswer(findings: readonly ShownFinding[]): Answer {
  const count = (level: string) => findings.filter((finding) => finding.level === level).length;
  const [dangers, cautions, notes] = [count('danger'), count('caution'), count('note')];
  const rest = [
    ...(cautions > 0 ? [counted(cautions, 'caution')] : []),
    ...(notes > 0 ? [counted(notes, 'note')] : []),
  ].join(' and ');
  if (dangers > 0)
    return { tone: 'bad', text: `Dangerous as it is: ${counted(dangers, 'danger')}${rest ? `, ${rest}` : ''}.` };
  return {
    tone: cautions > 0 ? 'low' : 'good',
    text: `Nothing dangerous is found${rest ? `; ${rest} to look at` : ''}.`,
  };
}

/** What the files leave open, what was taken for it, and why; a part is named once, at the first of its rows. */
export function defaultsBlock(rig: Rig, defaults: readonly DefaultTaken[]): Block | undefined {
  const byPart = new Map<string, { keys: string; taken: DefaultTaken }[]>();
  for (const taken of defaults) {
    const { part, keys } = partAndKeys(taken.path, rig);
    byPart.set(part, [...(byPart.get(part) ?? []), { keys, taken }]);
  }
  const rows = [...byPart].flatMap(([part, own]) =>
    own.map(({ keys, taken }, k) => ({ left: k === 0 ? `${part} ${keys}`.trim() : `… ${keys}`, taken })),
  );
  return tableBlock('Values that are not written down, and what was taken', rows, [
    { head: 'Left open', cell: ({ left }) => oneLine(left) },
    {
      head: 'taken as',
      cell: ({ taken: { text, why } }) => oneLine(`${text.replace(/[{}]/g, '').replaceAll(': ', ' ').trim()}: ${why}`),
      wrap: true,
    },
  ]);
}
