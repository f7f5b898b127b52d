import type * as z from 'zod';
import { awgSectionMm2, readGauge } from '../quantity/index.js';
import type { Defaults } from './defaults.js';
import { FieldError, field, found, number, part, quantity, wrong } from './field.js';
import type { Cable } from './types.js';

export const cablePart = part(
  'a two-wire copper cable',
  {
    length: quantity('length', 'one way; the way back is added', { min: 0, max: 100 }, '5 m'),
    section: quantity('section', 'copper area of one conductor', { min: 0.05, max: 500 }, '6 mm2').optional(),
    gauge: field<string>(
      { description: 'American wire gauge, instead of section', type: 'string', examples: ['10 AWG', '1/0 AWG'] },
      (value) => {
        const gauge = typeof value === 'string' ? readGauge(value) : undefined;
        if (gauge === undefined)
          throw new FieldError(
            'wrong_unit',
            `${found(value)} is no wire gauge`,
            typeof value === 'number' ? `did you mean ${value} AWG?` : 'write 10 AWG or 1/0 AWG',
          );
        return gauge;
      },
    ).optional(),
    bundled: number('wires that lie together, 1 = alone', { min: 1, max: 50, whole: true }).optional(),
    insulation: quantity(
      'temperature',
      'highest temperature that the insulation stands',
      { min: 50, max: 250 },
      '90 degC',
    ).optional(),
    fuse: quantity('current', 'fuse or breaker in this run', { min: 0.1, max: 1000 }, '30 A').optional(),
  },
  (cable, context) => {
    if (cable.section === undefined && cable.gauge === undefined)
      wrong(context, [], 'the cable has no section', 'add section: 6 mm2, or gauge: 10 AWG', 'missing');
    if (cable.section !== undefined && cable.gauge !== undefined)
      wrong(context, ['gauge'], 'the cable has both section and gauge', 'keep one of them');
  },
);

/** Insulation of ordinary vehicle cable. Common practice, no source. */
const PVC = [70, 'ordinary PVC insulation'] as const;
/** Of cable sold for panels: IEC 62930, 90 °C in normal use; from memory. */
export const SOLAR_CABLE = [90, 'solar cable'] as const;

export function resolveCable(
  cable: z.output<typeof cablePart> | undefined,
  path: string,
  defaults: Defaults,
  insulation: readonly [insulationC: number, why: string] = PVC,
): { cable?: Cable } {
  if (!cable) return {};
  return {
    cable: {
      lengthM: cable.length,
      sectionMm2: cable.section ?? awgSectionMm2(cable.gauge!)!,
      ...(cable.gauge !== undefined && { gaugeAwg: cable.gauge }),
      bundled: defaults.plain(cable.bundled, `${path}.bundled`, 1, 'the cable lies alone'),
      insulationC: defaults.quantity(
        cable.insulation,
        `${path}.insulation`,
        insulation[0],
        'temperature',
        insulation[1],
      ),
      ...(cable.fuse !== undefined && { fuseA: cable.fuse }),
    },
  };
}
