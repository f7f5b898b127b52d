import { type Circuit, controllerFindings, type Rig, WIRE_CAUTIONS } from '@stayput/core';
import { CRITICAL_DROP, ORDINARY_DROP } from '@stayput/core/model';
import type { Io } from '../io.js';
import { circuitText } from '../words/circuit-words.js';
import { type ShownFinding, shownFinding } from '../words/finding-words.js';
import { findingLines, isDanger } from './findings.js';
import { counted, fixed, significant } from './number.js';
import { oneLine, type Style } from './style.js';
import { type Tabled, table, wrapped } from './table.js';

export interface Wires {
  readonly rig: Rig;
  readonly circuits: readonly Circuit[];
  readonly air: { readonly cabinC: number; readonly engineC: number; readonly roofC: number };
  /** the target that was asked for and is not met, in words */
  readonly missed?: string;
  readonly quiet: boolean;
}

/** Circuits judged, for people: the answer, the table, what to do about it, and the cautions that always stand. */
export function wiresText(wires: Wires, { style, terminal: { width } }: Pick<Io, 'style' | 'terminal'>): string[] {
  const { circuits, missed, quiet } = wires;
  const worst = worstLevel(wires);
  const mark = worst === 'danger' ? style.red : worst === 'caution' ? style.yellow : style.green;
  const lines = wrapped(wiresVerdict(wires), width).map((line) => style.bold(mark(line)));
  if (missed) lines.push(...wrapped(`missed: ${missed}.`, width).map(style.red));
  const cautions = WIRE_CAUTIONS.flatMap((caution) => wrapped(`- ${caution}`, width, '  '));
  if (quiet) return [...lines, ...findingLines(wiresFindings(wires, ['danger']), width, style), ...cautions];

  lines.push(
    '',
    ...table(...circuitsTabled(circuits, style), width, style.bold),
    '',
    ...wrapped(underCircuits(wires), width).map(style.dim),
  );
  const graver = findingLines(wiresFindings(wires, ['danger', 'caution']), width, style);
  if (graver.length > 0) lines.push('', style.bold('What to do'), ...graver);
  const notes = findingLines(wiresNotes(wires), width, style);
  if (notes.length > 0) lines.push('', style.bold('To know'), ...notes);
  const open = circuits.filter((circuit) => !hasCable(circuit));
  if (open.length > 0)
    lines.push(
      '',
      ...wrapped('No cable given; of ordinary cable these would do, up to the length shown (one way)', width).map(
        style.bold,
      ),
      ...table(...openTabled(open), width, style.bold),
    );
  lines.push('', style.bold('Caution'), ...cautions);
  const settings = circuits.flatMap(setting);
  if (settings.length > 0)
    lines.push(
      '',
      ...wrapped(`Next: the same with what cables and fuses need, without editing:`, width),
      `  stayput wires RIG ${settings.map((one) => `--set "${one}"`).join(' \\\n    ')}`,
    );
  return lines;
}

export const hasCable = ({ lengthM }: Circuit) => lengthM !== null;
const isThin = ({ ok, sectionMm2, adviseMm2 }: Circuit) => ok === false && (adviseMm2 ?? Infinity) > sectionMm2!;
const names = (circuits: readonly Circuit[]) => circuits.map(({ name }) => oneLine(name)).join(', ');

/** Of circuits and controllers together. */
export function worstLevel(wires: Wires): Circuit['level'] {
  const levels: readonly string[] = [...wires.circuits, ...controllerFindings(wires.rig)].map(({ level }) => level);
  return (['danger', 'caution', 'note'] as const).find((level) => levels.includes(level)) ?? 'ok';
}

/** The answer in one sentence or two. */
export function wiresVerdict({ rig, circuits }: Wires): string {
  const judged = circuits.filter(hasCable);
  const thin = judged.filter(isThin);
  const other = judged.filter((circuit) => circuit.ok === false && !isThin(circuit));
  const open = circuits.length - judged.length;
  const of = `of ${counted(circuits.length, 'circuit')}`;
  const burning = judged.filter(({ level }) => level === 'danger');
  const parts: string[] = [];
  if (controllerFindings(rig).some(isDanger)) parts.push(DESTROYED);
  if (burning.length > 0) parts.push(`${names(burning)} can burn as ${burning.length === 1 ? 'it is' : 'they are'}`);
  if (thin.length > 0)
    parts.push(`${thin.length} ${of} ${thin.length === 1 ? 'needs' : 'need'} a thicker cable: ${names(thin)}`);
  if (other.length > 0)
    parts.push(
      `${other.length}${thin.length > 0 ? '' : ` ${of}`} ${other.length === 1 ? 'needs' : 'need'} another fuse: ${names(other)}`,
    );
  if (burning.length + thin.length + other.length === 0 && judged.length > 0)
    parts.push(
      open > 0
        ? `${judged.length} ${of} ${judged.length === 1 ? 'has a cable that does' : 'have cables that do'}`
        : `${judged.length === 1 ? 'the one circuit has' : `all ${circuits.length} circuits have`} a cable that does`,
    );
  if (open > 0)
    parts.push(
      judged.length === 0
        ? `no cable is given for any of ${counted(circuits.length, 'circuit')}`
        : `${counted(open, 'circuit')} ${open === 1 ? 'has' : 'have'} no cable given`,
    );
  return `${oneLine(rig.name)}: ${parts.join('; ')}.`;
}

const DESTROYED = 'in the cold the panels destroy their controller';

/** Why "every circuit has a cable that does, and every controller bears its panels" is missed; undefined when it is met. */
export function notOk({ rig, circuits }: Pick<Wires, 'rig' | 'circuits'>): string | undefined {
  const failing = circuits.filter(({ ok }) => ok === false);
  const open = circuits.filter(({ ok }) => ok === null);
  const why = [
    ...(controllerFindings(rig).some(isDanger) ? [DESTROYED] : []),
    ...(failing.length > 0 ? [`${names(failing)} must be changed`] : []),
    ...(open.length > 0 ? [`no cable is given for ${names(open)}`] : []),
  ];
  return why.length > 0 ? `all ok: ${why.join('; ')}` : undefined;
}

export function circuitsTabled(circuits: readonly Circuit[], style: Style): Tabled<Circuit> {
  const marks = { danger: style.red, caution: style.yellow, note: (text: string) => text, ok: style.green };
  const right = 'right' as const;
  const whole = (value: number | null) => (value === null ? '-' : significant(value, value < 10 ? 2 : 3));
  return [
    circuits,
    [
      { head: 'Circuit', cell: ({ name }) => oneLine(name) },
      {
        head: 'm',
        cell: ({ lengthM }) => (lengthM === null ? '-' : String(Number(lengthM.toFixed(1)))),
        align: right,
        drop: 4,
      },
      { head: 'size', cell: sizeText, align: right },
      { head: 'A', cell: ({ currentA }) => whole(currentA), align: right },
      { head: 'V lost', cell: (circuit) => (hasCable(circuit) ? fixed(circuit.dropV, 2) : '-'), align: right, drop: 5 },
      {
        head: '%',
        cell: (circuit) => (hasCable(circuit) ? fixed(circuit.dropPercent, 1) : '-'),
        align: right,
        drop: 2,
      },
      {
        head: 'V left',
        cell: (circuit) => (hasCable(circuit) ? fixed(circuit.arrivesV, 1) : '-'),
        align: right,
        drop: 1,
      },
      { head: 'A max', cell: ({ ampacityA }) => whole(ampacityA), align: right, drop: 3 },
      { head: 'fuse A', cell: ({ fuseA }) => (fuseA === null ? '-' : String(fuseA)), align: right },
      { head: 'verdict', cell: verdictText, mark: ({ level, ok }, text) => (ok ? style.green : marks[level])(text) },
    ],
  ];
}

const mm2 = (sectionMm2: number) => `${Number(sectionMm2.toPrecision(3))} mm²`;

function sizeText({ sectionMm2, gaugeAwg }: Circuit): string {
  if (sectionMm2 === null) return '-';
  return gaugeAwg === undefined ? mm2(sectionMm2) : `${gaugeAwg} AWG`;
}

export function verdictText(circuit: Circuit): string {
  const { ok, level, adviseMm2, adviseAwg, fuseA } = circuit;
  if (ok === null) return 'no cable';
  if (ok) return 'ok';
  const start = level === 'danger' ? 'danger: ' : '';
  if (isThin(circuit)) {
    if (adviseMm2 === null) return `${start}none does`;
    return `${start}${adviseAwg === undefined ? mm2(adviseMm2) : `${adviseAwg} AWG`}`;
  }
  return `${start}${fuseA === null ? 'fuse' : `fuse ${fuseA} A`}`;
}

export function underCircuits({ rig, circuits, air }: Wires): string {
  const busV = rig.battery.nominalV * rig.battery.series;
  const usual = [CRITICAL_DROP, ORDINARY_DROP].map((share) => 100 * share);
  const met = usual.filter((limit) => circuits.some(({ limitPercent }) => limitPercent === limit));
  const own = circuits.filter(({ limitPercent }) => !usual.includes(limitPercent));
  const limits = [
    `${met.map((limit) => `${limit} %`).join(' and ')}${met.length > 1 ? ' (what must not fail, and the rest)' : ''}`,
    ...own.map(({ name, limitPercent }) => `${significant(limitPercent, 2)} % for ${oneLine(name)}`),
  ];
  return `At a battery of ${busV} V (chargers at their charging voltage), with the most each draws for long. Lengths are one way; the way back is counted. A max: what the cable may carry in air of ${Number(air.cabinC.toFixed(1))} °C, ${Number(air.engineC.toFixed(1))} °C in engine spaces, ${Number(air.roofC.toFixed(1))} °C on the roof. Limits of the drop: ${limits.join(', ')}. Fuse: the smallest that lasts and, where the cable allows, withstands the start.`;
}

/** What is to be said of controllers and circuits at these levels. */
export function wiresFindings({ rig, circuits }: Wires, levels: readonly Circuit['level'][]): ShownFinding[] {
  const said = circuits.filter(({ level }) => levels.includes(level)).map(shownCircuit);
  return [
    ...controllerFindings(rig)
      .filter(({ level }) => levels.includes(level))
      .map(shownFinding),
    ...said.filter(({ text }) => text !== ''),
  ];
}

/** A circuit as a finding under its own name: the code is that of its gravest fault, or of what is to be known of it. */
function shownCircuit(circuit: Circuit): ShownFinding {
  const { name, level, faults, remark } = circuit;
  const { code, args } = faults.find((fault) => fault.level === level) ?? remark ?? { code: 'no_remark', args: {} };
  return { level: level === 'ok' ? 'note' : level, path: name, code, args, text: circuitText(circuit) };
}

/** What else is to know of the controllers, and of the circuits that have a cable. */
export function wiresNotes({ rig, circuits }: Wires): ShownFinding[] {
  const notes = circuits
    .filter((circuit) => hasCable(circuit) && (circuit.level === 'note' || circuit.level === 'ok'))
    .map((circuit) => ({ ...shownCircuit(circuit), text: withStart(circuit) }));
  return [
    ...controllerFindings(rig)
      .filter(({ level }) => level === 'note')
      .map(shownFinding),
    ...notes.filter(({ text }) => text !== ''),
  ];
}

/** What arrives at the start, where that is well, before what else is to be said; where it is not, the fault itself says so. */
function withStart(circuit: Circuit): string {
  const { surgeArrivesV, surgeA } = circuit;
  const text = circuitText(circuit);
  if (surgeArrivesV === undefined || surgeA === undefined) return text;
  const start = `${fixed(surgeArrivesV, 1)} V arrive when it starts with ${Number(surgeA.toPrecision(3))} A`;
  return text === '' ? start : `${start}; ${text}`;
}

export function openTabled(circuits: readonly Circuit[]): Tabled<Circuit> {
  const reach = ({ wouldDo = [] }: Circuit) =>
    wouldDo.length === 0
      ? 'none does: split the circuit'
      : wouldDo.map(({ sectionMm2, upToM }) => `${mm2(sectionMm2)} to ${metres(upToM)}`).join(', ');
  return [
    circuits,
    [
      { head: 'Circuit', cell: ({ name }) => oneLine(name) },
      { head: 'A', cell: ({ currentA }) => significant(currentA, currentA < 10 ? 2 : 3), align: 'right' },
      { head: 'fuse A', cell: ({ wouldDo }) => String(wouldDo?.[0]?.fuseA ?? '-'), align: 'right' },
      { head: 'cable', cell: reach, wrap: true },
    ],
  ];
}

/** Rounded down, so that the length shown still does. */
const metres = (lengthM: number) => `${lengthM < 10 ? Math.floor(lengthM * 10) / 10 : Math.floor(lengthM)} m`;

/** The advice as a setting of the rig's file; none where there is nothing to set. */
function setting(circuit: Circuit): string[] {
  const { ok, path, sectionMm2, adviseMm2, adviseAwg, fuseA, fittedFuseA } = circuit;
  if (ok !== false) return [];
  const settings: string[] = [];
  if (isThin(circuit) && adviseMm2 !== null)
    settings.push(adviseAwg === undefined ? `${path}.section=${adviseMm2} mm2` : `${path}.gauge=${adviseAwg} AWG`);
  if (fittedFuseA !== undefined && fuseA !== null && sectionMm2 === adviseMm2) settings.push(`${path}.fuse=${fuseA} A`);
  return settings;
}
