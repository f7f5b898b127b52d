import * as z from 'zod';
import { writeQuantity } from '../quantity/index.js';
import { type Defaults, tidy } from './defaults.js';
import { choice, clockHour, part, quantity, wrong } from './field.js';
import { commonShape, resolveCommon } from './load-common.js';
import type { FridgeLoad } from './types.js';

const setpoint = { min: -30, max: 20 };
const ratedPoint = {
  energy: quantity('energyPerDay', 'consumption', { min: 10, max: 20_000 }, '0.33 kWh/day'),
  ambient: quantity('temperature', 'of the air around it', { min: 5, max: 50 }, '25 degC'),
};
/** Inside temperatures at which consumption is declared: fresh food and frozen food of IEC 62552 (2015), from memory [°C]. */
export const RATED_INSIDE_C = { fresh: 4, frozen: -18 } as const;

export const fridgePart = part(
  'a compressor fridge',
  {
    ...commonShape,
    kind: z.literal('fridge'),
    volume: quantity('volume', 'inside', { min: 2, max: 1000 }, '45 L').optional(),
    setpoint: quantity('temperature', 'kept inside', setpoint, '4 degC').optional(),
    secondZone: part('a second zone of the same box, such as a freezer', {
      volume: quantity('volume', 'inside', { min: 1, max: 1000 }, '15 L'),
      setpoint: quantity('temperature', 'kept inside', setpoint, '-18 degC'),
    }).optional(),
    rated: part('its electrical consumption at an ambient', {
      ...ratedPoint,
      inside: quantity(
        'temperature',
        'kept inside when that was measured, whatever the set point; left out = 4 degC, as fridges are tested',
        setpoint,
        '4 degC',
      ).optional(),
      secondInside: quantity(
        'temperature',
        'the same of the second zone; left out = -18 degC, as freezers are tested',
        setpoint,
        '-18 degC',
      ).optional(),
      also: part('a further point of the same data sheet', ratedPoint)
        .array()
        .meta({ description: 'further points of the same data sheet, at other ambients' })
        .optional(),
    }).optional(),
    insulation: quantity(
      'thickness',
      'of the wall, when no consumption is known',
      { min: 5, max: 300 },
      '45 mm',
    ).optional(),
    cover: quantity('ratio', 'taken off the heat leak by a cover', { min: 0, max: 0.9 }, '15 %').optional(),
    stands: choice('which air is around it', ['cabin', 'outside']).optional(),
    compressor: quantity('power', 'electrical, while it runs', { min: 5, max: 1000 }, '45 W').optional(),
    cutOut: quantity('voltage', 'its electronics switch off below', { min: 8, max: 60 }, '10.4 V').optional(),
    cutIn: quantity('voltage', 'and on again above', { min: 8, max: 60 }, '11.7 V').optional(),
    openings: quantity('count', 'door openings a day', { min: 0, max: 500 }, '10 times a day').optional(),
    contents: quantity('mass', 'of what is inside, as water', { min: 0, max: 500 }, '9 kg').optional(),
    warmFood: part('warm food or drink put in each day', {
      mass: quantity('mass', 'as water', { min: 0, max: 100 }, '2 kg'),
      at: clockHour('when', '18:00'),
      temperature: quantity(
        'temperature',
        'how warm; left out = as the cabin',
        { min: -20, max: 100 },
        '25 degC',
      ).optional(),
    })
      .array()
      .meta({ description: 'warm food or drink put in each day' })
      .optional(),
    start: quantity(
      'temperature',
      'inside at the start; left out = at the set point',
      { min: -30, max: 60 },
      '25 degC',
    ).optional(),
    standby: quantity('power', 'of its electronics, day and night', { min: 0, max: 50 }, '0.3 W').optional(),
    heatLeakRange: part('how far the heat leak may be from what is given or computed, as shares of it', {
      low: quantity('ratio', 'lowest', { min: 0.2, max: 1 }, '80 %'),
      high: quantity('ratio', 'highest', { min: 1, max: 3 }, '125 %'),
    }).optional(),
  },
  (fridge, context) => {
    if (fridge.cutOut !== undefined && fridge.cutIn !== undefined && fridge.cutIn <= fridge.cutOut)
      wrong(context, ['cutIn'], `cutIn ${fridge.cutIn} V must be above cutOut ${fridge.cutOut} V`, 'are they swapped?');
    const { rated } = fridge;
    if (!rated) return;
    const inside = rated.inside ?? RATED_INSIDE_C.fresh;
    for (const [at, { ambient }] of [
      [['rated', 'ambient'], rated] as const,
      ...(rated.also ?? []).map((point, k) => [['rated', 'also', k, 'ambient'], point] as const),
    ])
      if (ambient <= inside + 1)
        wrong(
          context,
          at,
          `the rated ambient ${ambient} degC is not above the ${inside} degC inside at which it was rated`,
          'rated.inside says at what inside',
        );
    if (rated.secondInside !== undefined && !fridge.secondZone)
      wrong(context, ['rated', 'secondInside'], 'there is no secondZone', 'leave it out');
  },
);

/** A usual box [L]. Common practice. */
const DEFAULT_VOLUME_L = 45;

/**
 * Defaults of a fridge. Consumption at 25 °C: 14 to 28 Ah a day at 12 V, so 0.27 kWh for a usual 45 L box (common
 * practice); it grows with the surface, volume^(2/3), and with the difference to the set point (25 − 4 = 21 K there).
 * Compressor 35 to 60 W while running, electronics 0.1 to 0.5 W (common practice). The set point is that of the
 * fresh-food compartment in IEC 62552 (2015).
 */
export function resolveFridge(
  load: z.output<typeof fridgePart>,
  scale: number,
  path: string,
  defaults: Defaults,
): FridgeLoad {
  const at = (key: string) => `${path}.${key}`;
  const volumeL = defaults.quantity(load.volume, at('volume'), DEFAULT_VOLUME_L, 'volume', 'a usual box');
  const setpointC = defaults.quantity(load.setpoint, at('setpoint'), 4, 'temperature', 'as fridges are tested');
  const zones = [
    { volumeL, setpointC },
    ...(load.secondZone ? [{ volumeL: load.secondZone.volume, setpointC: load.secondZone.setpoint }] : []),
  ];
  const cutOutV = defaults.quantity(
    load.cutOut,
    at('cutOut'),
    Math.min(10.4 * scale, (load.cutIn ?? Infinity) - 0.5 * scale),
    'voltage',
    'usual battery guard',
  );
  return {
    ...resolveCommon(load, true, path, defaults),
    kind: 'fridge',
    volumeL,
    setpointC,
    ...(load.secondZone && { secondZone: { volumeL: load.secondZone.volume, setpointC: load.secondZone.setpoint } }),
    ...resolveHeatLeak(load, at('rated'), defaults),
    cover: load.cover ?? 0,
    stands: defaults.plain(load.stands, at('stands'), 'cabin', 'most stand inside'),
    compressorW: defaults.quantity(load.compressor, at('compressor'), 45, 'power', 'usual for a small compressor'),
    cutOutV,
    cutInV: defaults.quantity(load.cutIn, at('cutIn'), tidy(cutOutV + 1.3 * scale), 'voltage', 'usual battery guard'),
    openingsPerDay: defaults.quantity(load.openings, at('openings'), 10, 'count', 'everyday use'),
    contentKg: defaults.quantity(
      load.contents,
      at('contents'),
      tidy(0.2 * zones.reduce((sum, zone) => sum + zone.volumeL, 0)),
      'mass',
      'a fifth of the volume is food and drink',
    ),
    warmFood: (load.warmFood ?? []).map((food) => ({
      massKg: food.mass,
      atH: food.at,
      ...(food.temperature !== undefined && { temperatureC: food.temperature }),
    })),
    ...(load.start !== undefined && { startC: load.start }),
    standbyW: defaults.quantity(load.standby, at('standby'), 0.3, 'power', 'usual electronics'),
    heatLeakRange:
      load.heatLeakRange ??
      defaults.take(
        at('heatLeakRange'),
        { low: 0.8, high: 1.25 },
        '{ low: 80 %, high: 125 % }',
        'gaskets, airing and age are not known better',
      ),
  };
}

/** What a box of this volume usually takes at 25 °C with its inside at that [Wh a day]; from where, see `resolveFridge`. */
export function usualFridgeWhPerDay(volumeL: number, insideC: number): number {
  return 270 * (volumeL / 45) ** (2 / 3) * ((25 - insideC) / 21);
}

function resolveHeatLeak(
  load: z.output<typeof fridgePart>,
  path: string,
  defaults: Defaults,
): Pick<FridgeLoad, 'rated' | 'insulationMm'> {
  const { rated, secondZone } = load;
  const insulation = load.insulation === undefined ? {} : { insulationMm: load.insulation };
  if (!rated && load.insulation !== undefined) return insulation;
  const { fresh, frozen } = RATED_INSIDE_C;
  if (!rated) {
    const volumes = [
      { volumeL: load.volume ?? DEFAULT_VOLUME_L, insideC: fresh },
      ...(secondZone ? [{ volumeL: secondZone.volume, insideC: frozen }] : []),
    ];
    const energyWhPerDay = Math.round(
      volumes.reduce((sum, { volumeL, insideC }) => sum + usualFridgeWhPerDay(volumeL, insideC), 0),
    );
    return {
      rated: defaults.take(
        path,
        { energyWhPerDay, ambientC: 25, insideC: fresh, ...(secondZone && { secondInsideC: frozen }) },
        `{ energy: ${writeQuantity(energyWhPerDay, 'energyPerDay')}, ambient: 25 degC }`,
        'usual for its volume',
      ),
    };
  }
  const insideC = defaults.quantity(rated.inside, `${path}.inside`, fresh, 'temperature', 'as fridges are tested');
  return {
    ...insulation,
    rated: {
      energyWhPerDay: rated.energy,
      ambientC: rated.ambient,
      insideC,
      ...(secondZone && {
        secondInsideC: defaults.quantity(
          rated.secondInside,
          `${path}.secondInside`,
          frozen,
          'temperature',
          'as freezers are tested',
        ),
      }),
      ...(rated.also && {
        also: rated.also.map(({ energy, ambient }) => ({ energyWhPerDay: energy, ambientC: ambient })),
      }),
    },
  };
}
