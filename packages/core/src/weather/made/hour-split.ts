import { HOUR_MS } from '../../math/index.js';
import type { Grid, SunColumns } from '../../sky/index.js';
import { airMassOf, type BeamAndDiffuse, cleanAirBeamWm2, erbsDiffuseFraction } from '../../sky/index.js';

/** Below this cosine of the zenith angle a clearness index is no longer divided by the true one (as in decomposition). */
const LOW_SUN_COS = 0.065;

/**
 * Beam and diffuse by Erbs' hourly curve, for steps finer than the hour it holds for: they share the diffuse share of their hour.
 */
export function splitByTheHour(grid: Grid, sun: SunColumns, ghiWm2: Float64Array): BeamAndDiffuse {
  const { cosZenith, extraNormalWm2 } = sun;
  const { steps, stepH } = grid;
  const stepMs = stepH * HOUR_MS;
  const dniWm2 = new Float64Array(steps);
  const dhiWm2 = new Float64Array(steps);
  for (let from = 0; from < steps; ) {
    const start = grid.startMs + from * stepMs;
    const to = Math.min(
      steps,
      from + Math.max(1, Math.round((HOUR_MS - (((start % HOUR_MS) + HOUR_MS) % HOUR_MS)) / stepMs)),
    );
    let given = 0;
    let outside = 0;
    for (let i = from; i < to; i++) {
      given += ghiWm2[i]!;
      if (cosZenith[i]! > 0) outside += Math.max(LOW_SUN_COS, cosZenith[i]!) * extraNormalWm2[i]!;
    }
    const share = outside > 0 ? erbsDiffuseFraction(given / outside) : 1;
    for (let i = from; i < to; i++) {
      const ghi = ghiWm2[i]!;
      const cosZ = cosZenith[i]!;
      if (!(ghi > 0)) continue;
      const extra = extraNormalWm2[i]!;
      let beam = cosZ > 0 ? (ghi * (1 - share)) / cosZ : 0;
      if (beam > 0.3 * extra) beam = Math.min(beam, cleanAirBeamWm2(airMassOf(cosZ), extra));
      dniWm2[i] = beam;
      dhiWm2[i] = Math.max(0, ghi - beam * Math.max(0, cosZ));
    }
    from = to;
  }
  return { dniWm2, dhiWm2 };
}
