import type { StayStudy } from '@stayput/core';
import type { Format } from './format.js';
import type { Edit, LoadCost, Reading } from './protocol.js';
import { WORDS } from './strings.js';

/** Something that would let one stay longer, as the study found it. */
export interface Help {
  readonly what: string;
  /** nine stays in ten then last so long; the horizon for no end [days] */
  readonly days: number;
  readonly indefinite: boolean;
  /** what to write into the rig to have it; absent where it is no part of a rig */
  readonly edits?: readonly Edit[];
}

const MAX_SHOWN = 4;
/** Less than this is not worth its line [days]. */
const MIN_GAIN_DAYS = 0.2;
/** More driving than this every morning is no stay [min]. */
const MAX_MINUTES = 120;

/** What would help most in the month that is asked about, the most first. */
export function helpsFor(
  reading: Reading,
  study: StayStudy,
  costs: readonly LoadCost[] | undefined,
  f: Format,
): Help[] {
  const row = study.months.find(({ month }) => month === reading.month);
  if (!row || row.indefinite) return [];
  const { rig } = reading;
  const [array] = rig.solar;
  const added = (more: { massKg?: number; price?: number }) => {
    const words = [
      ...(more.massKg === undefined ? [] : [f.mass(more.massKg)]),
      ...(more.price === undefined ? [] : [`${f.number(more.price, 0)}${rig.currency ? ` ${rig.currency}` : ''}`]),
    ];
    return words.length > 0 ? ` (${words.join(', ')})` : '';
  };
  const { oneMorePanel, oneMoreBattery, engineMinutes = Infinity } = row;
  const all: Help[] = [
    ...(oneMorePanel && study.panel && array
      ? [
          {
            what: WORDS.helpMore(study.panel.what) + added(study.panel),
            days: oneMorePanel.parkedDaysP10,
            indefinite: oneMorePanel.indefinite,
            edits: [{ file: 'rig', path: ['solar', 0, 'count'], value: array.count + array.series } as const],
          },
        ]
      : []),
    {
      what: WORDS.helpMore(study.battery.what) + added(study.battery),
      days: oneMoreBattery.parkedDaysP10,
      indefinite: oneMoreBattery.indefinite,
      edits: [{ file: 'rig', path: ['battery', 'count'], value: rig.battery.count + 1 }],
    },
    ...(engineMinutes > 0 && engineMinutes <= MAX_MINUTES
      ? [{ what: WORDS.helpEngine(engineMinutes), days: study.horizonDays, indefinite: true }]
      : []),
    ...(costs ?? []).map(({ name, parkedDaysP10, indefinite }) => ({
      what: WORDS.helpWithout(name),
      days: parkedDaysP10,
      indefinite,
      edits: [
        { file: 'rig', path: ['loads', rig.loads.findIndex((load) => load.name === name)], isRemoved: true } as const,
      ],
    })),
  ];
  return all
    .filter(({ days }) => days - row.parkedDaysP10 >= MIN_GAIN_DAYS)
    .sort((a, b) => b.days - a.days)
    .slice(0, MAX_SHOWN);
}
