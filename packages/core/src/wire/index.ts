export {
  adviseSection,
  type CableFit,
  type CableReach,
  type CircuitDemand,
  CRITICAL_DROP,
  cableFit,
  cableReaches,
  currentForPowerA,
  ORDINARY_DROP,
} from './advise.js';
export { AMPACITY_A, ambientFactor, ampacityA, bundleFactor, conductorC } from './ampacity.js';
export type {
  CircuitFault,
  CircuitFaultArgs,
  CircuitRemark,
  CircuitRemarkArgs,
  ConductorSize,
} from './circuit-findings.js';
export { type Circuit, type CircuitLevel, circuits, WIRE_CAUTIONS } from './circuits.js';
export {
  CLASS5_OHM_PER_KM,
  CONDUCTOR_C,
  COPPER_OHM_MM2_PER_M,
  cableLoopOhm,
  circuitLoopOhm,
  class5OhmPerKm,
  copperFactor,
  STRANDING_FACTOR,
  solidOhmPerKm,
  TERMINAL_OHM,
} from './conductor.js';
export { CABIN_WIRE_C, ENGINE_WIRE_C, FRIDGE_SURGE_A, ROOF_WIRE_C, type WireAir } from './demands.js';
export { FUSE_MARGIN, FUSE_RATINGS_A, type FuseChoice, fuseFor } from './fuse.js';
export { type RelayCurrent, relayCurrent } from './relay-current.js';
