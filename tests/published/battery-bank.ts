import type { Battery, Chemistry } from '../../packages/core/src/rig/index.js';

/** An invented 12 V battery of 100 Ah, new, on its own. */
export function invented(chemistry: Chemistry, over: Partial<Battery> = {}): Battery {
  const lfp = chemistry === 'LFP';
  return {
    chemistry,
    capacityAh: 100,
    count: 1,
    series: 1,
    nominalV: 12,
    health: 1,
    floor: lfp ? 0.2 : 0.5,
    disconnect: { kind: 'soc', soc: lfp ? 0.1 : 0.4 },
    reconnect: { kind: 'soc', soc: lfp ? 0.15 : 0.5 },
    stands: 'cabin',
    thermalLagH: 6,
    chargeMinC: lfp ? 0 : Number.NEGATIVE_INFINITY,
    maxChargeA: Number.POSITIVE_INFINITY,
    maxDischargeA: Number.POSITIVE_INFINITY,
    charge: lfp
      ? { absorptionV: 14.2, floatV: 13.5, holdH: 0.5, fullBelowC: 0.04, restartBelowV: 13.2, perDegreeV: 0 }
      : {
          absorptionV: 14.4,
          floatV: 13.5,
          holdH: 4,
          fullBelowC: 0.015,
          restartBelowV: 12.6,
          perDegreeV: -0.024,
        },
    ...over,
  };
}
