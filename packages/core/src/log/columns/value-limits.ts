import type { LogColumnName } from '../types.js';

/** Of a counter nothing is impossible but what no battery holds in its life. */
export const COUNTER_LIMITS: readonly [number, number] = [-1e9, 1e9];

/** What a column can hold at all; beyond it the sensor or its transmission failed. Common practice, no source. */
export const LIMITS: Readonly<Record<LogColumnName, readonly [number, number]>> = {
  voltage: [0, 80],
  current: [-2000, 2000],
  power: [-50_000, 50_000],
  soc: [-0.005, 1.05],
  temperature: [-60, 120],
  solarPower: [-50, 20_000],
  solarVoltage: [-5, 600],
  solarCurrent: [-5, 500],
  loadPower: [-20_000, 20_000],
  loadCurrent: [-2000, 2000],
  alternatorPower: [-5000, 20_000],
  alternatorCurrent: [-500, 1000],
  ambient: [-90, 75],
  cabin: [-60, 90],
  irradiance: [-50, 2000],
};
