import type { Circuit } from '@stayput/core';
import { fixed, significant } from '../number.js';
import { oneLine } from '../style.js';
import { verdictText, type Wires, wiresVerdict } from '../wires-text.js';
import type { Chart, ChartSize } from './chart.js';
import { limitBarsPicture } from './limit-bars.js';

/** What the cable of each circuit loses, with its limit. Undefined where no circuit has a cable. */
export function wiresPicture(wires: Wires): Chart | undefined {
  const shown = wires.circuits.filter(({ lengthM }) => lengthM !== null);
  if (shown.length === 0) return undefined;
  const words = (circuit: Circuit, size: ChartSize = 'wide') => {
    const verdict = circuit.ok ? [] : [`use ${verdictText(circuit)}`];
    const left = `, ${fixed(circuit.arrivesV, 1)} V left`;
    // on a phone there is room for one of the two
    return [`${fixed(circuit.dropPercent, 1)} %${size === 'narrow' && !circuit.ok ? '' : left}`, ...verdict].join('; ');
  };
  return limitBarsPicture({
    id: 'wires',
    title: `${oneLine(wires.rig.name)}: what the cables lose`,
    subtitle: 'drop of voltage on the way out and back, in % of what is at the near end',
    description: `${wiresVerdict(wires)} ${shown.map((circuit) => `${oneLine(circuit.name)}: ${words(circuit)}, at most ${significant(circuit.limitPercent, 2)} %`).join('; ')}.`,
    foot: 'An estimate by stayput, not an electrical design; have it checked by a licensed person.',
    keys: { within: 'does', over: 'must change', limit: 'most it should lose' },
    axisWords: (value) => `${fixed(value, 0)} %`,
    bars: shown.map((circuit) => ({
      name: circuit.name,
      words: (size) => words(circuit, size),
      value: circuit.dropPercent,
      limit: circuit.limitPercent,
      isOver: circuit.ok === false,
    })),
  });
}
