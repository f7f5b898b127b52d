import type { Rig } from '@stayput/core';
import { fullPowers, overloads } from '@stayput/core/model';
import { counted, fixed } from '../number.js';
import { oneLine } from '../style.js';
import type { Chart } from './chart.js';
import { limitBarsPicture } from './limit-bars.js';

/** Rows that a picture has room for. */
const MAX_ROWS = 14;

/** What each load asks for while it runs, beside the most that its inverter or the battery can give; undefined without any. */
export function checkPicture(rig: Rig): Chart | undefined {
  const { battery, inverter } = rig;
  const over = new Set(overloads(rig).flatMap(({ args: { names } }) => (names.length === 1 ? names : [])));
  const batteryW =
    battery.maxDischargeA === undefined ? undefined : battery.maxDischargeA * battery.nominalV * battery.series;
  const loads = fullPowers(rig)
    .map(({ name, watts, isBehindInverter }) => {
      const limit = isBehindInverter ? inverter?.ratingW : batteryW;
      return { name, watts, isBehindInverter, limit };
    })
    .sort((a, b) => b.watts - a.watts);
  const shown = loads.slice(0, MAX_ROWS);
  const hidden = loads.length - shown.length;
  if (shown.length === 0) return undefined;
  const words = ({ watts, limit, isBehindInverter, name }: (typeof shown)[number]) =>
    [
      `${fixed(watts, watts < 9.95 ? 1 : 0)} W`,
      ...(over.has(name) ? ['too much'] : []),
      ...(isBehindInverter && limit !== undefined ? [`inverter ${fixed(limit, 0)} W`] : []),
    ].join('; ');
  return limitBarsPicture({
    id: 'check',
    title: `${oneLine(rig.name)}: what each load asks for while it runs`,
    subtitle: 'full power in W, beside the most that its inverter or the battery can give',
    description: shown.map((load) => `${oneLine(load.name)}: ${words(load)}`).join('; '),
    foot: `An estimate by stayput, not an electrical design${hidden > 0 ? `; ${counted(hidden, 'smaller load')} not drawn` : ''}.`,
    keys: { within: 'load', over: 'too much for inverter or battery', limit: 'most there can be' },
    axisWords: (watts) => fixed(watts, 0),
    bars: shown.map((load) => ({
      name: load.name,
      words: () => words(load),
      value: load.watts,
      ...(load.limit !== undefined && { limit: load.limit }),
      isOver: over.has(load.name),
    })),
  });
}
