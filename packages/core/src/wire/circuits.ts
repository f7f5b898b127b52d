import type { Cable, Rig } from '../rig/index.js';
import { adviseSection, type CableFit, type CableReach, cableFit, cableReaches, lastingA } from './advise.js';
import { TERMINAL_OHM } from './conductor.js';
import { type RigCircuit, rigCircuits, type WireAir } from './demands.js';
import { amps, largestFuseA } from './fuse.js';

/** How much a circuit's findings matter. */
export type CircuitLevel = 'ok' | 'note' | 'caution' | 'danger';

/** One circuit, judged. Without a cable its length, section, ampacity and fuse are unknown: null. */
export interface Circuit {
  readonly name: string;
  /** where in the rig its cable stands: loads[0].cable */
  readonly path: string;
  /** one way [m] */
  readonly lengthM: number | null;
  readonly sectionMm2: number | null;
  readonly gaugeAwg?: string;
  readonly sourceV: number;
  /** the most it carries for long [A] */
  readonly currentA: number;
  readonly surgeA?: number;
  readonly dropV: number;
  /** of the voltage at its near end */
  readonly dropPercent: number;
  readonly limitPercent: number;
  readonly arrivesV: number;
  readonly surgeArrivesV?: number;
  readonly lossW: number;
  readonly ampacityA: number | null;
  /** the standard fuse for this cable and load; null where none protects the one and carries the other */
  readonly fuseA: number | null;
  /** the fuse the owner named */
  readonly fittedFuseA?: number;
  /** null = without a cable there is nothing to judge */
  readonly ok: boolean | null;
  /** section that does; the present one where it is ok; null where unknown or none does */
  readonly adviseMm2: number | null;
  readonly adviseAwg?: string;
  /** without a cable: the thinnest sections that would do, and how far each may run */
  readonly wouldDo?: readonly CableReach[];
  readonly level: CircuitLevel;
  /** what to know and to do, in sentences */
  readonly text: string;
}

/** To be shown wherever wires or fuses are advised. */
export const WIRE_CAUTIONS: readonly string[] = [
  'These are estimates, not an electrical design: local codes and the maker’s instructions stand above them.',
  'Have the installation checked by a licensed person before it is switched on.',
  'Fuse every circuit at the battery end: an unfused cable can burn the vehicle down.',
];

/**
 * Every circuit of the rig with its drop, what arrives, what its cable may carry and the fuse that suits it.
 * Drop limits are 3 % for charging, the battery, the inverter and critical loads, 10 % for the rest (common practice).
 * Currents are those of a battery at its nominal voltage; ampacity at 40 °C air, 50 °C in engine spaces unless given.
 * @throws RangeError for air outside −40 to 60 °C
 * @example
 * ```ts
 * import { circuits, readRig, WIRE_CAUTIONS } from '@stayput/core';
 *
 * const { rig } = readRig(`
 * battery: { chemistry: LFP, capacity: 100 Ah }
 * loads: [{ name: fridge, kind: fridge, volume: 45 L, setpoint: 4 degC, cable: { length: 8 m, section: 1 mm2 } }]
 * `);
 * for (const { name, dropPercent, ok, adviseMm2, text } of circuits(rig))
 *   console.log(name, dropPercent.toFixed(1), ok, adviseMm2, text);
 * console.log(WIRE_CAUTIONS.join('\n'));
 * ```
 */
export function circuits(rig: Rig, air: WireAir = {}): Circuit[] {
  return rigCircuits(rig, air).map(judge);
}

function judge(circuit: RigCircuit): Circuit {
  const { cable, sourceV, surgeA } = circuit;
  const common = {
    name: circuit.name,
    path: circuit.path,
    sourceV,
    limitPercent: 100 * circuit.dropLimit,
    ...(surgeA !== undefined && { surgeA }),
  };
  if (cable === undefined) {
    const currentA = lastingA(circuit, TERMINAL_OHM);
    const dropV = currentA * TERMINAL_OHM;
    return {
      ...common,
      currentA,
      lengthM: null,
      sectionMm2: null,
      dropV,
      dropPercent: (100 * dropV) / sourceV,
      arrivesV: sourceV - dropV,
      lossW: currentA * dropV,
      ampacityA: null,
      fuseA: null,
      ok: null,
      adviseMm2: null,
      wouldDo: cableReaches(circuit),
      level: 'note',
      text: sentences(['no cable is given, so only its terminals are counted', circuit.remark]),
    };
  }
  const fit = cableFit(cable, circuit);
  const faults = faultsOf(circuit, cable, fit);
  const ok = faults.every((fault) => fault.level === 'note');
  const advised = ok ? cable : adviseSection(cable, circuit);
  const better = advised && advised.sectionMm2 <= cable.sectionMm2 ? cable : advised;
  const level = (['danger', 'caution', 'note'] as const).find((grade) => faults.some((f) => f.level === grade)) ?? 'ok';
  return {
    ...common,
    currentA: fit.currentA,
    lengthM: cable.lengthM,
    sectionMm2: cable.sectionMm2,
    ...(cable.gaugeAwg !== undefined && { gaugeAwg: cable.gaugeAwg }),
    dropV: fit.dropV,
    dropPercent: (100 * fit.dropV) / sourceV,
    arrivesV: fit.arrivesV,
    ...(fit.surgeArrivesV !== undefined && { surgeArrivesV: fit.surgeArrivesV }),
    lossW: fit.currentA * fit.dropV,
    ampacityA: fit.ampacityA,
    fuseA: fit.fuse.fuseA,
    ...(cable.fuseA !== undefined && { fittedFuseA: cable.fuseA }),
    ok,
    adviseMm2: better?.sectionMm2 ?? null,
    ...(better?.gaugeAwg !== undefined && { adviseAwg: better.gaugeAwg }),
    level,
    text: sentences([
      ...faults.map((fault) => fault.text),
      ok ? undefined : wayOut(circuit, cable, better),
      circuit.remark,
    ]),
  };
}

interface Fault {
  readonly level: 'note' | 'caution' | 'danger';
  readonly text: string;
}

function faultsOf(circuit: RigCircuit, cable: Cable, fit: CableFit): Fault[] {
  const faults: Fault[] = [];
  const { sourceV, surgeA, powerW } = circuit;
  const { currentA } = fit;
  const section = sizeText(cable);
  // A fuse that suits the cable blows before the cable burns.
  const isGuarded = cable.fuseA !== undefined && cable.fuseA <= fit.ampacityA;
  if (currentA > fit.ampacityA)
    faults.push({
      level: isGuarded ? 'caution' : 'danger',
      text: `${amps(currentA)} is more than ${section} may carry here (${amps(fit.ampacityA)} at ${circuit.ambientC} °C)${isGuarded ? '' : ': it can burn'}`,
    });
  else if (fit.fuse.fuseA === null) faults.push({ level: 'caution', text: fit.fuse.reason });
  if (cable.fuseA !== undefined && cable.fuseA > fit.ampacityA)
    faults.push({
      level: 'danger',
      text: `the ${cable.fuseA} A fuse does not protect ${section}, which may carry ${amps(fit.ampacityA)}: ${
        fit.fuse.fuseA === null
          ? 'no fuse suits both cable and load'
          : `use ${fit.fuse.fuseA} A, and never more than ${largestFuseA(fit.ampacityA)} A`
      }`,
    });
  else if (cable.fuseA !== undefined && cable.fuseA < currentA)
    faults.push({
      level: 'caution',
      text: `the ${cable.fuseA} A fuse blows at the ${amps(currentA)} this circuit takes`,
    });
  else if (cable.fuseA !== undefined && surgeA !== undefined && cable.fuseA < surgeA)
    faults.push({
      level: 'note',
      text: `the ${cable.fuseA} A fuse may blow when it starts with ${amps(surgeA)}`,
    });
  if (powerW !== undefined && currentA * fit.arrivesV < powerW * (1 - 1e-6))
    faults.push({ level: 'caution', text: `cannot deliver ${Math.round(powerW)} W at all` });
  else if (!fit.dropOk)
    faults.push({
      level: 'caution',
      text: `loses ${percent(fit.dropV / sourceV)} at ${amps(currentA)}, more than ${percent(circuit.dropLimit)}`,
    });
  if (!fit.surgeOk)
    faults.push({
      level: 'caution',
      text: `${volts(Math.min(fit.arrivesV, fit.surgeArrivesV ?? Infinity))} arrive when it starts with ${amps(surgeA ?? currentA)}: ${circuit.minWhy ?? 'too little'}`,
    });
  return faults;
}

function wayOut(circuit: RigCircuit, cable: Cable, better: Cable | undefined): string {
  if (better === undefined) return 'no standard cable does: shorten the run or split the circuit';
  if (better === cable) return 'the cable itself is thick enough';
  return `use at least ${sizeText(better)} for ${circuit.name}`;
}

function sizeText(cable: Cable): string {
  const mm2 = `${Number(cable.sectionMm2.toPrecision(3))} mm²`;
  return cable.gaugeAwg === undefined ? mm2 : `${cable.gaugeAwg} AWG (${mm2})`;
}

function percent(share: number): string {
  return `${Number((100 * share).toPrecision(2))} %`;
}

function volts(voltageV: number): string {
  return `${voltageV.toFixed(1)} V`;
}

function sentences(parts: readonly (string | undefined)[]): string {
  return parts.filter((part) => part !== undefined).join('; ');
}
