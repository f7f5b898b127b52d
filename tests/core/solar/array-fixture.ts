import type { SolarArray } from '../../../packages/core/src/rig/index.js';
import type { ArrayInput } from '../../../packages/core/src/solar/index.js';

/** An invented array, 100 W bonded flat, no losses, on an MPPT; change what a test is about. */
export function someArray(change: Partial<SolarArray> = {}): SolarArray {
  return {
    name: 'roof',
    powerW: 100,
    count: 1,
    series: 1,
    technology: 'mono',
    mount: 'bonded',
    tiltDeg: 0,
    azimuthDeg: 180,
    reaimedPerDay: 0,
    losses: { soiling: 0, mismatch: 0, ageing: 0 },
    soilingRange: { low: 0, high: 0 },
    shade: [],
    horizon: [],
    controller: { kind: 'MPPT', currentA: 20, efficiency: 0.97, standbyW: 0, startMarginV: 1 },
    ...change,
  };
}

export function pwm(change: Partial<SolarArray> = {}): SolarArray {
  return someArray({ ...change, controller: { ...someArray().controller, kind: 'PWM' } });
}

export interface Moment {
  sunWm2: number;
  airC: number;
  windMs: number;
  /** share in hard shadow, and the beam that is left */
  share?: number;
  beamWm2?: number;
}

/** One step of input per moment; the plane's light is taken to pass the glass whole. */
export function inputOf(...moments: readonly Moment[]): ArrayInput {
  const column = (pick: (m: Moment) => number) => Float64Array.from(moments, pick);
  const base = {
    effectiveWm2: column((m) => m.sunWm2),
    poaWm2: column((m) => m.sunWm2),
    ambientC: column((m) => m.airC),
    windMs: column((m) => m.windMs),
  };
  if (moments.every((m) => m.share === undefined)) return base;
  return { ...base, beamShade: column((m) => m.share ?? 0), beamWm2: column((m) => m.beamWm2 ?? 0) };
}
