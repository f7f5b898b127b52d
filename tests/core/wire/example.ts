import type { Cable, FridgeLoad, Rig } from '../../../packages/core/src/rig/index.js';
import { fridge, inverter, scheduled } from '../load/example.js';

export const cable = (lengthM: number, sectionMm2: number, fields: Partial<Cable> = {}): Cable => ({
  lengthM,
  sectionMm2,
  bundled: 1,
  insulationC: 70,
  ...fields,
});

/** Cable sold for panels, whose insulation stands 90 °C (IEC 62930, from memory). */
export const solarCable = (lengthM: number, sectionMm2: number) => cable(lengthM, sectionMm2, { insulationC: 90 });

/** An invented rig; its fridge's cable is the one under test. */
export function rigWith(
  fridgeCable: Cable | undefined,
  fields: Partial<FridgeLoad> = {},
  rest: Partial<Rig> = {},
): Rig {
  return {
    name: 'Heron',
    battery: {
      chemistry: 'LFP',
      capacityAh: 100,
      count: 1,
      series: 1,
      nominalV: 12,
      health: 1,
      floor: 0.2,
      disconnect: { kind: 'soc', soc: 0.1 },
      reconnect: { kind: 'soc', soc: 0.15 },
      stands: 'cabin',
      thermalLagH: 6,
      chargeMinC: 0,
      maxChargeA: 100,
      maxDischargeA: 100,
      charge: {
        absorptionV: 14.2,
        floatV: 13.5,
        holdH: 0.5,
        fullBelowC: 0.04,
        restartBelowV: 13.2,
        perDegreeV: 0,
      },
      cable: cable(0.5, 35),
    },
    solar: [
      {
        name: 'roof',
        powerW: 175,
        count: 1,
        series: 1,
        technology: 'mono',
        mount: 'bonded',
        tiltDeg: 0,
        azimuthDeg: 180,
        reaimedPerDay: 0,
        losses: { soiling: 0.04, mismatch: 0.02, ageing: 0 },
        soilingRange: { low: 0, high: 0.1 },
        shade: [],
        horizon: [],
        datasheet: { vocV: 24.3, iscA: 9.2, vmpV: 20.4, impA: 8.6, tempPowerPerK: -0.0036 },
        controller: { kind: 'MPPT', currentA: 20, efficiency: 0.97, standbyW: 0.3, startMarginV: 5 },
        cable: solarCable(5, 6),
      },
    ],
    alternator: {
      ratingA: 150,
      voltageV: 14.2,
      vehicleA: 30,
      hotShare: 0.7,
      idleShare: 0.4,
      charger: { kind: 'dcdc', currentA: 30, efficiency: 0.92, inputCutOutV: 12, sharedWithSolar: false },
      cable: cable(5, 16),
    },
    inverter: { ...inverter, cable: cable(1, 25) },
    cabin: { gainK: 8, lagH: 1 },
    loads: [
      fridge({ ...fields, ...(fridgeCable && { cable: fridgeCable }) }),
      scheduled({ name: 'laptop', draw: { kind: 'power', powerW: 60 }, inverter: true }),
      scheduled({ name: 'pump', draw: { kind: 'current', currentA: 5 }, cable: cable(3, 1.5) }),
      scheduled({ name: 'winch', draw: { kind: 'current', currentA: 200 }, starterSide: true, cable: cable(2, 50) }),
    ],
    albedo: 0.2,
    ...rest,
  };
}
