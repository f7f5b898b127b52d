import { wiresPicture } from '../charts/wires-picture.js';
import { styleFor } from '../style.js';
import {
  circuitsTabled,
  hasCable,
  openTabled,
  underCircuits,
  type Wires,
  wiresFindings,
  wiresNotes,
  wiresVerdict,
  worstLevel,
} from '../wires-text.js';
import { cautionSection } from './closing.js';
import { type Answer, chart, findingsBlock, type Page, type Section, tableBlock, text } from './page.js';

const PLAIN = styleFor(false);

export function wiresPage(wires: Wires): Page {
  const { rig, missed } = wires;
  return {
    title: `${rig.name}: cables and fuses`,
    about: `Of the way out and back, at a battery of ${rig.battery.nominalV * rig.battery.series} V.`,
    answers: [wiresAnswer(wires), ...(missed ? [{ tone: 'bad', text: `Target missed: ${missed}.` } as const] : [])],
    sections: [...wiresSections(wires), cautionSection(rig)],
  };
}

export function wiresAnswer(wires: Wires): Answer {
  const worst = worstLevel(wires);
  return { tone: worst === 'danger' ? 'bad' : worst === 'caution' ? 'low' : 'good', text: wiresVerdict(wires) };
}

export function wiresSections(wires: Wires): readonly Section[] {
  const { circuits } = wires;
  const open = circuits.filter((circuit) => !hasCable(circuit));
  const graver = wiresFindings(wires, ['danger', 'caution']);
  return [
    { id: 'todo', heading: 'What to do', isOpen: true, blocks: [findingsBlock(wires.rig, graver)] },
    { id: 'wires', heading: 'What the cables lose', isOpen: true, blocks: [chart(wiresPicture(wires))] },
    {
      id: 'circuits',
      heading: 'Each circuit',
      blocks: [
        tableBlock('Circuits that have a cable', ...circuitsTabled(circuits.filter(hasCable), PLAIN)),
        tableBlock(
          'No cable given: of ordinary cable these would do, up to the length shown (one way)',
          ...openTabled(open),
        ),
        text(underCircuits(wires)),
        findingsBlock(wires.rig, wiresNotes(wires)),
      ],
    },
  ];
}
