import { z } from 'zod';
import {
  compileExpression,
  EXPRESSION_VARIABLES,
  ExpressionError,
  windowHours,
  writeQuantity,
} from '../quantity/index.js';
import { cablePart, resolveCable } from './cable-part.js';
import { type Defaults, tidy } from './defaults.js';
import {
  choice,
  clockHour,
  FieldError,
  field,
  number,
  type PartOf,
  part,
  quantity,
  readQuantity,
  text,
  windows,
  wrong,
  yesNo,
} from './field.js';
import type { Draw, FridgeLoad, Load, LoadCommon, ScheduledLoad } from './types.js';

const share = { min: 0, max: 1 };

/** "9 W", or an expression in W such as "clamp(4 * (cabin - 24), 0, 30)". */
const powerField = field<Draw>(
  {
    description: `power while on, or an expression in W of ${EXPRESSION_VARIABLES.join(', ')}`,
    type: 'string',
    examples: ['9 W', 'clamp(4 * (cabin - 24), 0, 30)'],
  },
  (value) => {
    if (typeof value === 'string' && looksLikeArithmetic(value))
      return { kind: 'expression', text: checkedExpression(value) };
    return { kind: 'power', powerW: readQuantity(value, 'power', { min: 0, max: 20_000 }) };
  },
);

/** "2 * hour" and "max(1, 2)" do; "9 W", "-5 W", "9 W/day" and "1e3 W" are quantities, right or wrong. */
function looksLikeArithmetic(value: string): boolean {
  if (/\b(ambient|cabin|hour|soc)\b|\(/.test(value)) return true;
  return /[*/<>?]|[^e\s]\s*[+-]/i.test(value) && !/^\s*[-+]?[\d.]+\s*[a-z%]/i.test(value);
}

/** Compiles it, and tries it over the range of conditions that a trip can meet. */
function checkedExpression(value: string): string {
  try {
    const { evaluate } = compileExpression(value, EXPRESSION_VARIABLES);
    for (const ambient of [-20, 0, 20, 45])
      for (const cabin of [ambient, ambient + 15])
        for (const hour of [0, 6, 12, 23.9])
          for (const soc of [0, 0.5, 1])
            if (!Number.isFinite(evaluate({ ambient, cabin, hour, soc })))
              throw new ExpressionError(
                `the expression gives no number when ambient is ${ambient}, cabin ${cabin}, hour ${hour} and soc ${soc}`,
                1,
              );
    return value;
  } catch (error) {
    if (!(error instanceof ExpressionError)) throw error;
    throw new FieldError('expression', `${error.message} (character ${error.column} of the expression)`, error.hint);
  }
}

const commonShape = {
  name: text('what you call it', 'lights'),
  critical: yesNo('it must not fail: its cable may drop 3 %, not 10 %').optional(),
  cable: cablePart.optional(),
  surge: quantity('current', 'start-up current', { min: 0, max: 2000 }, '10 A').optional(),
  starterSide: yesNo('fed by the starter battery').optional(),
};

const scheduledShape = {
  ...commonShape,
  kind: z.literal('scheduled').optional(),
  power: powerField.optional(),
  current: quantity('current', 'while on', { min: 0, max: 2000 }, '0.15 A').optional(),
  when: windows('when it may run; left out = all day').optional(),
  hours: quantity(
    'duration',
    'hours a day that it runs, within its windows',
    { min: 0, max: 24, bare: true },
    '3 h',
  ).optional(),
  times: quantity('count', 'runs so many times a day', { min: 0, max: 10_000 }, '12 times a day').optional(),
  lasts: quantity('duration', 'how long each time', { min: 0, max: 24 }, '40 s').optional(),
  everyDays: number('runs only every so many days', { min: 1, max: 365, whole: true }).optional(),
  share: quantity('ratio', 'share of use', share, '80 %').optional(),
  inverter: yesNo('runs on mains voltage, behind the inverter').optional(),
};

export const scheduledPart = part('a load with a timetable', scheduledShape, checkScheduled);

function checkScheduled(load: PartOf<typeof scheduledShape>, context: z.core.$RefinementCtx): void {
  if (load.power === undefined && load.current === undefined)
    wrong(context, [], 'the load says neither power nor current', 'add power: 9 W, or current: 0.5 A', 'missing');
  if (load.power !== undefined && load.current !== undefined)
    wrong(context, ['current'], 'the load has both power and current', 'keep one of them');
  if (load.current !== undefined && load.inverter)
    wrong(context, ['current'], 'a load behind the inverter is given by its power', 'such as power: 60 W');
  if (load.hours !== undefined && load.times !== undefined)
    wrong(context, ['times'], 'the load has both hours and times', 'keep one of them');
  if ((load.times === undefined) !== (load.lasts === undefined))
    wrong(
      context,
      [],
      `the load has ${load.times === undefined ? 'lasts but not times' : 'times but not lasts'}`,
      'both are needed: times: 12, lasts: 40 s',
      'missing',
    );

  const windowH = totalHours(load.when);
  const wantedH = load.hours ?? (load.times ?? 0) * (load.lasts ?? 0);
  if (windowH !== undefined && wantedH > windowH + 1e-9)
    wrong(
      context,
      [load.hours !== undefined ? 'hours' : 'times'],
      `${tidy(wantedH)} h a day do not fit into ${tidy(windowH)} h`,
      load.when ? 'its windows are too short' : undefined,
    );
}

function totalHours(when: PartOf<typeof scheduledShape>['when']): number | undefined {
  if (!when || when.length === 0) return 24;
  const hours = when.map(windowHours);
  return hours.every((h) => h !== undefined) ? hours.reduce<number>((sum, h) => sum + h!, 0) : undefined;
}

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

export const loadPart = z
  .discriminatedUnion('kind', [scheduledPart, fridgePart], {
    error: (issue) =>
      issue.code === 'invalid_union' ? 'kind must be fridge; leave it out for any other load' : undefined,
  })
  .meta({ description: 'something that uses power' });

type LoadFile = z.output<typeof loadPart>;

/** @param scale nominal voltage of the bank over 12 V */
export function resolveLoad(load: LoadFile, scale: number, path: string, defaults: Defaults): Load {
  return load.kind === 'fridge' ? resolveFridge(load, scale, path, defaults) : resolveScheduled(load, path, defaults);
}

function common(load: LoadFile, path: string, defaults: Defaults): LoadCommon {
  const isFridge = load.kind === 'fridge';
  return {
    name: load.name,
    critical: isFridge
      ? defaults.plain(load.critical, `${path}.critical`, true, 'a fridge must not fail')
      : (load.critical ?? false),
    ...resolveCable(load.cable, `${path}.cable`, defaults),
    ...(load.surge !== undefined && { surgeA: load.surge }),
    starterSide: load.starterSide ?? false,
  };
}

function resolveScheduled(load: z.output<typeof scheduledPart>, path: string, defaults: Defaults): ScheduledLoad {
  const always = load.when === undefined && load.hours === undefined && load.times === undefined;
  return {
    ...common(load, path, defaults),
    kind: 'scheduled',
    draw: load.power ?? { kind: 'current', currentA: load.current! },
    when:
      load.when ??
      (always && load.power?.kind !== 'expression'
        ? defaults.take(`${path}.when`, [], 'always', 'no times are given')
        : []),
    ...(load.hours !== undefined && { hoursPerDay: load.hours }),
    ...(load.times !== undefined && { timesPerDay: load.times, lastsH: load.lasts! }),
    everyDays: load.everyDays ?? 1,
    share: load.share ?? 1,
    inverter: load.inverter ?? false,
  };
}

/**
 * Defaults of a fridge. Consumption at 25 °C: 14 to 28 Ah a day at 12 V, so 0.27 kWh for a usual 45 L box (common
 * practice); it grows with the surface, volume^(2/3), and with the difference to the set point (25 − 4 = 21 K there).
 * Compressor 35 to 60 W while running, electronics 0.1 to 0.5 W (common practice). The set point is that of the
 * fresh-food compartment in IEC 62552 (2015).
 */
function resolveFridge(load: z.output<typeof fridgePart>, scale: number, path: string, defaults: Defaults): FridgeLoad {
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
    ...common(load, path, defaults),
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
    zones.reduce((sum, zone) => sum + 270 * (zone.volumeL / 45) ** (2 / 3) * ((25 - zone.setpointC) / 21), 0),
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
