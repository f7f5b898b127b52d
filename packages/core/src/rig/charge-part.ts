import type * as z from 'zod';
import type { Chemistry } from './chemistry.js';
import { type Defaults, tidy } from './defaults.js';
import { part, quantity, wrong } from './field.js';
import type { ChargeProfile } from './types.js';

const volts = { min: 10, max: 70 };

export const chargePart = part(
  'set points of a charger, for the whole bank at 25 degC',
  {
    absorption: quantity('voltage', 'absorption voltage', volts, '14.2 V').optional(),
    float: quantity('voltage', 'float voltage', volts, '13.5 V').optional(),
    holdFor: quantity(
      'duration',
      'the absorption voltage is kept so long at most',
      { min: 0, max: 24 },
      '2 h',
    ).optional(),
    fullBelow: quantity(
      'ratio',
      'full, so that absorption ends, once it takes less than this share of the capacity: 2 % = 2 A for 100 Ah; 0 = by time only',
      { min: 0, max: 0.5 },
      '2 %',
    ).optional(),
    restartBelow: quantity(
      'voltage',
      'bulk begins again when the battery rests below this',
      volts,
      '12.6 V',
    ).optional(),
    perDegree: quantity(
      'voltagePerKelvin',
      'change of the set points per degree away from 25 degC',
      { min: -0.5, max: 0 },
      '-24 mV/K',
    ).optional(),
  },
  (charge, context) => {
    if (charge.float !== undefined && charge.absorption !== undefined && charge.float > charge.absorption)
      wrong(context, ['float'], `float ${charge.float} V is above absorption ${charge.absorption} V`);
  },
);

/**
 * Set points of a 12 V battery at 25 °C. Each lies in the range of common practice for its chemistry (IEEE 1361 and
 * common practice: flooded 14.4–14.8 / 13.2–13.5 V, AGM 14.2–14.7 / 13.4–13.8, gel 14.0–14.4 / 13.5–13.8, LFP 14.0–14.6
 * / 13.4–13.6). Absorption: lead-acid 2 to 8 h or 1 to 2 % of C20, LFP up to 30 min or 3 to 5 % (DIN 41773 and common
 * practice). Compensation: −3 to −5 mV/K a cell, typically −4, none for LFP. Voltages to restart below: common practice, no source.
 */
const SET_POINTS: Readonly<Record<Chemistry, ChargeProfile>> = {
  LFP: { absorptionV: 14.2, floatV: 13.5, holdH: 0.5, fullBelowC: 0.04, restartBelowV: 13.2, perDegreeV: 0 },
  AGM: {
    absorptionV: 14.4,
    floatV: 13.6,
    holdH: 4,
    fullBelowC: 0.015,
    restartBelowV: 12.7,
    perDegreeV: -0.024,
  },
  gel: {
    absorptionV: 14.2,
    floatV: 13.6,
    holdH: 4,
    fullBelowC: 0.015,
    restartBelowV: 12.7,
    perDegreeV: -0.024,
  },
  flooded: {
    absorptionV: 14.6,
    floatV: 13.4,
    holdH: 4,
    fullBelowC: 0.015,
    restartBelowV: 12.6,
    perDegreeV: -0.024,
  },
};

/** @param scale nominal voltage of the bank over 12 V */
export function resolveCharge(
  charge: z.output<typeof chargePart> | undefined,
  chemistry: Chemistry,
  scale: number,
  path: string,
  defaults: Defaults,
): ChargeProfile {
  const usual = SET_POINTS[chemistry];
  const why = `usual for ${chemistry}${scale === 1 ? '' : `, ${scale * 12} V bank`}`;
  const volt = (given: number | undefined, key: string, value: number) =>
    defaults.quantity(given, `${path}.${key}`, tidy(value * scale), 'voltage', why);
  // A float or a restart voltage that was not given stays below an absorption that was.
  const absorptionV = volt(charge?.absorption, 'absorption', Math.max(usual.absorptionV, (charge?.float ?? 0) / scale));
  const floatV = volt(charge?.float, 'float', Math.min(usual.floatV, absorptionV / scale));
  return {
    absorptionV,
    floatV,
    holdH: defaults.quantity(charge?.holdFor, `${path}.holdFor`, usual.holdH, 'duration', why),
    fullBelowC: defaults.quantity(charge?.fullBelow, `${path}.fullBelow`, usual.fullBelowC, 'ratio', why),
    restartBelowV: volt(charge?.restartBelow, 'restartBelow', Math.min(usual.restartBelowV, floatV / scale)),
    perDegreeV: defaults.quantity(
      charge?.perDegree,
      `${path}.perDegree`,
      tidy(usual.perDegreeV * scale),
      'voltagePerKelvin',
      why,
    ),
  };
}

/** What a charger overrides of the battery's own set points. */
export function chargeOverrides(charge: z.output<typeof chargePart> | undefined): { charge?: Partial<ChargeProfile> } {
  if (!charge) return {};
  return {
    charge: {
      ...(charge.absorption !== undefined && { absorptionV: charge.absorption }),
      ...(charge.float !== undefined && { floatV: charge.float }),
      ...(charge.holdFor !== undefined && { holdH: charge.holdFor }),
      ...(charge.fullBelow !== undefined && { fullBelowC: charge.fullBelow }),
      ...(charge.restartBelow !== undefined && { restartBelowV: charge.restartBelow }),
      ...(charge.perDegree !== undefined && { perDegreeV: charge.perDegree }),
    },
  };
}
