import { DIMENSIONS, type DimensionSpec, EXPRESSION_FUNCTIONS, EXPRESSION_VARIABLES } from '@stayput/core/model';
import type { Block } from './blocks.js';

export function unitsTopic(): Block[] {
  return [
    {
      text: 'A quantity is a number, and its unit: 100 Ah. The decimal sign is a point. A number alone is refused where a unit is needed, so that nobody takes amperes for ampere-hours. Any unit of the same kind is understood and converted.',
    },
    { heading: 'Quantities' },
    { entries: Object.values(DIMENSIONS).map(unitEntry) },
    { heading: 'Wire gauges' },
    {
      text: 'A cable has a section in mm2, or gauge: 10 AWG (also 1/0 AWG to 4/0 AWG); where a section is asked for, a gauge will do.',
    },
    { heading: 'Times of day' },
    {
      entries: [
        ['22:30', 'local civil time of the stop, daylight saving included'],
        ['sunset to 22:30', 'a window; sunrise and sunset are those of the day and place'],
        ['sunrise + 1 h', 'so long after; sunset - 30 min is before'],
        ['07:00 to 09:00 and 18:00 to 22:00', 'several windows; one may cross midnight'],
        ['always', 'the whole day'],
      ],
    },
    { heading: 'Expressions' },
    {
      text: `The power of a load may be an expression, in W: power: "clamp(4 * (cabin - 24), 0, 30)". It may use ${EXPRESSION_VARIABLES.join(', ')} (degC, degC, local hour from 0 to 24, state of charge from 0 to 1), + - * / ^, comparisons, and, or, not, a ? b : c, and ${EXPRESSION_FUNCTIONS.join(', ')}.`,
    },
    { heading: 'In results' },
    {
      text: 'Three significant digits and the unit: 12.8 V, 1.04 kWh. JSON and CSV keep full precision, with the unit in the name: pvHarvestWh, battery_v. Azimuth is 0 at north and clockwise; latitudes south and longitudes west are negative; a current into the battery is positive.',
    },
  ];
}

function unitEntry(spec: DimensionSpec): [string, string] {
  const perDay = spec.perDay === 'needed' ? '/day' : '';
  const others = otherUnits(spec).map((unit) => unit + perDay);
  const also = others.length > 0 ? `; also ${others.join(', ')}` : '';
  const daily = spec.perDay === 'needed' ? '; "a day" for "/day" too' : spec.perDay ? '; "a day" may follow' : '';
  return [spec.written || 'times', `${spec.say}, such as ${spec.example}${also}${daily}`];
}

/** For each unit beside the dimension's own the shortest of its spellings that is ASCII and no single letter, if there is one. */
function otherUnits({ unit: own, spellings }: DimensionSpec): string[] {
  const byUnit = new Map<string, string[]>();
  for (const [text, unit] of Object.entries(spellings))
    if (unit !== own) byUnit.set(unit, [...(byUnit.get(unit) ?? []), text]);
  return [...byUnit.values()].map((texts) => {
    const plain = texts.filter((text) => /^[a-z0-9%/]{2,}$/i.test(text));
    return (plain.length > 0 ? plain : texts).reduce((a, b) => (b.length < a.length ? b : a));
  });
}
