import * as z from 'zod';
import { writeQuantity } from '../quantity/index.js';
import { type Defaults, tidy } from './defaults.js';
import { choice, clockHour, part, quantity, wrong } from './field.js';
import { commonShape, resolveCommon } from './load-common.js';
import type { FridgeLoad } from './types.js';

const setpoint = { min: -30, max: 20 };
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
      energy: quantity('energyPerDay', 'consumption', { min: 10, max: 20_000 }, '0.33 kWh/day'),
      ambient: quantity('temperature', 'of the air around it', { min: 5, max: 50 }, '25 degC'),
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
    if (fridge.rated && fridge.rated.ambient <= (fridge.setpoint ?? 4) + 1)
      wrong(
        context,
        ['rated', 'ambient'],
        `the rated ambient ${fridge.rated.ambient} degC is not above the set point ${fridge.setpoint ?? 4} degC`,
      );
  },
);

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
  const volumeL = defaults.quantity(load.volume, at('volume'), 45, 'volume', 'a usual box');
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
    ...resolveHeatLeak(load, zones, at('rated'), defaults),
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

/** What a box of this volume and set point usually takes at 25 °C [Wh a day]; from where, see `resolveFridge`. */
export function usualFridgeWhPerDay(volumeL: number, setpointC: number): number {
  return 270 * (volumeL / 45) ** (2 / 3) * ((25 - setpointC) / 21);
}

function resolveHeatLeak(
  load: z.output<typeof fridgePart>,
  zones: readonly { volumeL: number; setpointC: number }[],
  path: string,
  defaults: Defaults,
): Pick<FridgeLoad, 'rated' | 'insulationMm'> {
  const insulation = load.insulation === undefined ? {} : { insulationMm: load.insulation };
  if (load.rated) return { rated: { energyWhPerDay: load.rated.energy, ambientC: load.rated.ambient }, ...insulation };
  if (load.insulation !== undefined) return insulation;
  const energyWhPerDay = Math.round(
    zones.reduce((sum, { volumeL, setpointC }) => sum + usualFridgeWhPerDay(volumeL, setpointC), 0),
  );
  return {
    rated: defaults.take(
      path,
      { energyWhPerDay, ambientC: 25 },
      `{ energy: ${writeQuantity(energyWhPerDay, 'energyPerDay')}, ambient: 25 degC }`,
      'usual for its volume and set point',
    ),
  };
}
