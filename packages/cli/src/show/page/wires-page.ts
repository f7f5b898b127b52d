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
import { type Answer, chart, findingsBlock, heading, type Page, type Section, tableBlock, text } from './page.js';

const PLAIN = styleFor(false);

export function wiresPage(wires: Wires): Page {
  const { rig, missed } = wires;
  return {
    title: `${rig.name}: cables and fuses`,
    about: underCircuits(wires),
    answers: [wiresAnswer(wires), ...(missed ? [{ tone: 'bad', text: `Target missed: ${missed}.` } as const] : [])],
    sections: [
      wiresSection(wires),
      { id: 'basis', heading: 'What the figures rest on', blocks: [text(underCircuits(wires))] },
      cautionSection(rig),
    ],
  };
}

export function wiresAnswer(wires: Wires): Answer {
  const worst = worstLevel(wires);
  return { tone: worst === 'danger' ? 'bad' : worst === 'caution' ? 'low' : 'good', text: wiresVerdict(wires) };
}

/** @param under whether what the figures rest on stands elsewhere on the page already */
export function wiresSection(wires: Wires, under?: 'told above'): Section {
  const { circuits } = wires;
  const open = circuits.filter((circuit) => !hasCable(circuit));
  const graver = wiresFindings(wires, ['danger', 'caution']);
  const notes = wiresNotes(wires);
  return {
    id: 'wires',
    isOpen: true,
    heading: 'Cables and fuses',
    blocks: [
      chart(wiresPicture(wires)),
      tableBlock('Circuits that have a cable', ...circuitsTabled(circuits.filter(hasCable), PLAIN)),
      ...(graver.length > 0 ? [heading('What to do'), findingsBlock(wires.rig, graver)] : []),
      ...(notes.length > 0 ? [heading('To know of the circuits'), findingsBlock(wires.rig, notes)] : []),
      tableBlock(
        'No cable given: of ordinary cable these would do, up to the length shown (one way)',
        ...openTabled(open),
      ),
      ...(under ? [] : [text(underCircuits(wires))]),
    ],
  };
}
