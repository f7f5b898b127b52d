import { describeRig, type Rig } from '@stayput/core';
import type { FindingLine } from '../../words/finding-words.js';
import { cautionsFor } from '../cautions.js';
import { type Answer, type Block, findingsBlock, heading, list, placed, type Section, text } from './page.js';
import { plainRemarks } from './plain.js';

/** What the rig is, what to look at in it, and the cautions that always stand: how every page about a rig ends. */
export function closingSections(rig: Rig, findings: readonly FindingLine[], remarks: readonly string[]): Section[] {
  return [
    { id: 'findings', heading: 'What to look at in the rig', blocks: [findingsBlock(rig, findings)] },
    rigSection(rig),
    { id: 'assumptions', heading: 'Assumptions and ranges', blocks: [list(plainRemarks(remarks))] },
    cautionSection(rig),
  ];
}

export function rigSection(rig: Rig): Section {
  const blocks = describeRig(rig).flatMap(({ heading: about, lines }): (Block | undefined)[] => [
    heading(about),
    lines.length === 1 ? text(lines[0]!) : list(lines),
  ]);
  return { id: 'rig', heading: 'The rig in words', blocks };
}

export function cautionSection(rig: Rig): Section {
  return { id: 'cautions', heading: 'Cautions', isOpen: true, blocks: [list(cautionsFor(rig))] };
}

/** What can burn stands beside the answer. */
export function dangerAnswers(rig: Rig, findings: readonly FindingLine[]): Answer[] {
  return findings
    .filter(({ level }) => level === 'danger')
    .map(({ path, text: said }) => ({ tone: 'bad', text: `Danger: ${placed(rig, path, said)}` }));
}
