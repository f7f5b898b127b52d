import { type Cable, type Rig, requireSound } from '../rig/index.js';
import { adviseSection, type CableFit, type CableReach, cableFit, cableReaches, lastingA } from './advise.js';
import type { CircuitFault, CircuitRemark } from './circuit-findings.js';
import { TERMINAL_OHM } from './conductor.js';
import { type RigCircuit, rigCircuits, type WireAir } from './demands.js';
import { FUSE_RATINGS_A, largestFuseA } from './fuse.js';

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
  /** what is wrong with its cable or fuse; `adviseMm2` says what would do */
  readonly faults: readonly CircuitFault[];
  /** what is to be known of it in any case */
  readonly remark?: CircuitRemark;
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
 * for (const { name, dropPercent, ok, adviseMm2, faults } of circuits(rig))
 *   console.log(name, dropPercent.toFixed(1), ok, adviseMm2, faults.map(({ code }) => code));
 * console.log(WIRE_CAUTIONS.join('\n'));
 * ```
 */
export function circuits(rig: Rig, air: WireAir = {}): Circuit[] {
  requireSound('circuits', 'rig', rig);
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
    ...(circuit.remark && { remark: circuit.remark }),
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
      faults: [],
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
    faults,
  };
}

function faultsOf(circuit: RigCircuit, cable: Cable, fit: CableFit): CircuitFault[] {
  const faults: CircuitFault[] = [];
  const { sourceV, surgeA, powerW, minV } = circuit;
  const { currentA, ampacityA, fuse } = fit;
  const { sectionMm2, gaugeAwg, fuseA: fittedFuseA } = cable;
  const section = { sectionMm2, ...(gaugeAwg !== undefined && { gaugeAwg }) };
  // A fuse that suits the cable opens before the cable burns.
  const fuseProtects = fittedFuseA !== undefined && fittedFuseA <= ampacityA;
  if (currentA > ampacityA)
    faults.push({
      level: fuseProtects ? 'caution' : 'danger',
      code: 'cable_overloaded',
      args: { ...section, currentA, ampacityA, ambientC: circuit.ambientC, fuseProtects },
    });
  else if (fuse.lacks) faults.push({ level: 'caution', ...noFuse(circuit, fit) });
  if (fittedFuseA !== undefined && fittedFuseA > ampacityA)
    faults.push({
      level: 'danger',
      code: 'fuse_too_large',
      args: { ...section, fittedFuseA, ampacityA, fuseA: fuse.fuseA, largestFuseA: largestFuseA(ampacityA) },
    });
  else if (fittedFuseA !== undefined && fittedFuseA < currentA)
    faults.push({ level: 'caution', code: 'fuse_too_small', args: { fittedFuseA, currentA } });
  else if (fittedFuseA !== undefined && surgeA !== undefined && fittedFuseA < surgeA)
    faults.push({ level: 'note', code: 'fuse_opens_at_start', args: { fittedFuseA, surgeA } });
  if (powerW !== undefined && currentA * fit.arrivesV < powerW * (1 - 1e-6))
    faults.push({ level: 'caution', code: 'power_not_delivered', args: { powerW } });
  else if (!fit.dropOk)
    faults.push({
      level: 'caution',
      code: 'drop_too_large',
      args: { dropShare: fit.dropV / sourceV, currentA, limitShare: circuit.dropLimit },
    });
  if (!fit.surgeOk)
    faults.push({
      level: 'caution',
      code: 'start_voltage_low',
      args: {
        arrivesV: Math.min(fit.arrivesV, fit.surgeArrivesV ?? Infinity),
        currentA: surgeA ?? currentA,
        ...(minV !== undefined && { cutOutV: minV }),
      },
    });
  return faults;
}

function noFuse({ fuseLoadA = 0 }: RigCircuit, { currentA, ampacityA, fuse }: CableFit) {
  const lastingA = Math.max(currentA, fuseLoadA);
  return fuse.smallestA === null
    ? { code: 'no_fuse_large_enough' as const, args: { currentA: lastingA, largestFuseA: FUSE_RATINGS_A.at(-1)! } }
    : { code: 'no_fuse_protects' as const, args: { currentA: lastingA, fuseA: fuse.smallestA, ampacityA } };
}
