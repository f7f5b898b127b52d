import { awgSectionMm2 } from '../quantity/index.js';
import type { Cable } from '../rig/index.js';
import { AMPACITY_A, ampacityA, conductorC } from './ampacity.js';
import { CONDUCTOR_C, circuitLoopOhm } from './conductor.js';
import { type FuseChoice, fuseFor } from './fuse.js';

/** Share of the voltage that a circuit may lose which must not fail. Common practice; ABYC E-11. */
export const CRITICAL_DROP = 0.03;
/** The same for any other circuit. */
export const ORDINARY_DROP = 0.1;

/** What a circuit asks of its cable. */
export interface CircuitDemand {
  /** voltage at its near end [V] */
  readonly sourceV: number;
  /** lasting current; of a constant power, what it would be without any drop [A] */
  readonly currentA: number;
  /** a constant power, which takes the more current the less voltage arrives [W] */
  readonly powerW?: number;
  /** where voltages and resistances decide: what stands behind the cable [V], [Ω]; `currentA` is the most it can come to */
  readonly farV?: number;
  readonly restOhm?: number;
  /** and what loads take beside that [A] */
  readonly besideA?: number;
  /** the lasting current that cable and fuse must carry, if more: a panel's short circuit [A] */
  readonly fuseLoadA?: number;
  /** share of sourceV, 0..1 */
  readonly dropLimit: number;
  /** air around the cable [°C] */
  readonly ambientC: number;
  /** short current at the start, and the voltage that must arrive then */
  readonly surgeA?: number;
  readonly minV?: number;
}

/** How a cable serves a demand. */
export interface CableFit {
  /** the lasting current with this cable [A] */
  readonly currentA: number;
  readonly loopOhm: number;
  readonly dropV: number;
  readonly arrivesV: number;
  /** at the start-up current; absent when there is none */
  readonly surgeArrivesV?: number;
  readonly ampacityA: number;
  readonly fuse: FuseChoice;
  readonly dropOk: boolean;
  readonly surgeOk: boolean;
}

/** Drop at the conductor's own temperature: the air's, plus the rise by the current. Terminals alone without a cable. */
export function cableFit(cable: Cable, demand: CircuitDemand): CableFit {
  const { sourceV, surgeA } = demand;
  const limitA = ampacityA(cable, demand.ambientC);
  const warmingA = demand.farV === undefined ? demand.currentA : lastingA(demand, circuitLoopOhm(cable, CONDUCTOR_C));
  const loopOhm = circuitLoopOhm(cable, conductorC(cable, demand.ambientC, warmingA));
  const currentA = lastingA(demand, loopOhm);
  const dropV = currentA * loopOhm;
  const surgeArrivesV = surgeA === undefined ? undefined : Math.max(0, sourceV - surgeA * loopOhm);
  return {
    currentA,
    loopOhm,
    dropV,
    arrivesV: sourceV - dropV,
    ...(surgeArrivesV !== undefined && { surgeArrivesV }),
    ampacityA: limitA,
    fuse: fuseFor({
      loadA: Math.max(currentA, demand.fuseLoadA ?? 0),
      ampacityA: limitA,
      ...(surgeA !== undefined && { startA: surgeA }),
    }),
    dropOk: dropV <= demand.dropLimit * sourceV * (1 + 1e-9),
    surgeOk: demand.minV === undefined || Math.min(sourceV - dropV, surgeArrivesV ?? Infinity) >= demand.minV,
  };
}

/** The demand's lasting current through a loop of this resistance; no drop is ever more than the source has [A]. */
export function lastingA(demand: CircuitDemand, loopOhm: number): number {
  const { sourceV, currentA, powerW, farV, restOhm = 0, besideA = 0 } = demand;
  if (farV !== undefined) return Math.min(currentA, Math.max(0, (sourceV - farV) / (restOhm + loopOhm)) + besideA);
  return powerW === undefined ? Math.min(currentA, sourceV / loopOhm) : currentForPowerA(sourceV, loopOhm, powerW);
}

/**
 * Current of a constant-power load at the end of a cable: the smaller root of I · (V − I · R) = P; where the cable
 * cannot deliver P at all, the current at which it delivers most, V / 2R [A].
 */
export function currentForPowerA(sourceV: number, loopOhm: number, powerW: number): number {
  const root = sourceV * sourceV - 4 * loopOhm * powerW;
  return root < 0 ? sourceV / (2 * loopOhm) : (2 * powerW) / (sourceV + Math.sqrt(root));
}

const GAUGES = ['18', '16', '14', '12', '10', '8', '6', '4', '2', '1', '1/0', '2/0', '3/0', '4/0'] as const;

/**
 * The thinnest standard conductor for the same run that meets the drop limit, the start and a fuse: a gauge if the
 * cable was given as one, else a section of IEC 60228.
 * @returns the cable to use, or undefined if none up to 4/0 or 120 mm² does
 */
export function adviseSection(cable: Cable, demand: CircuitDemand): Cable | undefined {
  const sizes: Cable[] =
    cable.gaugeAwg === undefined
      ? AMPACITY_A.map(([sectionMm2]) => ({ ...cable, sectionMm2 }))
      : GAUGES.map((gaugeAwg) => ({ ...cable, gaugeAwg, sectionMm2: awgSectionMm2(gaugeAwg)! }));
  return sizes.find((size) => does(size, demand));
}

function does(cable: Cable, demand: CircuitDemand): boolean {
  const fit = cableFit(cable, demand);
  return fit.dropOk && fit.surgeOk && fit.fuse.fuseA !== null;
}

/** How far a section may run for a demand. */
export interface CableReach {
  readonly sectionMm2: number;
  /** one way, at most REACH_M [m] */
  readonly upToM: number;
  /** the fuse that suits both */
  readonly fuseA: number;
}

/** Longer runs than this are not met in a vehicle [m]. */
const REACH_M = 20;
/** Ordinary cable: alone, of PVC. Common practice. */
const ORDINARY = { bundled: 1, insulationC: 70 } as const;

/**
 * For a circuit whose cable is not chosen yet: the thinnest standard sections that carry its fuse, and the longest run
 * of each that still meets drop and start, to a centimetre. Ordinary PVC cable that lies alone.
 * @param most so many sections at most; a section that runs REACH_M is the last
 */
export function cableReaches(demand: CircuitDemand, most = 4): CableReach[] {
  const reaches: CableReach[] = [];
  for (const [sectionMm2] of AMPACITY_A) {
    const run = (lengthM: number): Cable => ({ ...ORDINARY, sectionMm2, lengthM });
    if (!does(run(0.1), demand)) continue;
    let upToM = REACH_M;
    if (!does(run(REACH_M), demand)) {
      let short = 0.1;
      while (upToM - short > 0.01) {
        const middle = (short + upToM) / 2;
        if (does(run(middle), demand)) short = middle;
        else upToM = middle;
      }
      upToM = short;
    }
    reaches.push({ sectionMm2, upToM, fuseA: cableFit(run(upToM), demand).fuse.fuseA! });
    if (upToM === REACH_M || reaches.length === most) break;
  }
  return reaches;
}
