import * as z from 'zod';
import {
  compileExpression,
  EXPRESSION_VARIABLES,
  ExpressionError,
  type Scope,
  windowHours,
} from '../quantity/index.js';
import { seasonField, weekdaysField } from './days-part.js';
import { type Defaults, tidy } from './defaults.js';
import {
  FieldError,
  field,
  number,
  type PartOf,
  part,
  quantity,
  readQuantity,
  windows,
  wrong,
  yesNo,
} from './field.js';
import { commonShape, resolveCommon } from './load-common.js';
import { MAX_LOAD_W } from './max-load.js';
import type { Draw, ScheduledLoad } from './types.js';

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
    return { kind: 'power', powerW: readQuantity(value, 'power', { min: 0, max: MAX_LOAD_W }) };
  },
);

/** "2 * hour" and "max(1, 2)" do; "9 W", "-5 W", "9 W/day" and "1e3 W" are quantities, right or wrong. */
function looksLikeArithmetic(value: string): boolean {
  if (/\b(ambient|cabin|hour|soc)\b|\(/.test(value)) return true;
  return /[*/<>?]|[^e\s]\s*[+-]/i.test(value) && !/^\s*[-+]?[\d.]+\s*[a-z%]/i.test(value);
}

/** Looked at by the half hour, for a load that runs at a certain time. */
function isEverPositive(evaluate: (scope: Scope<(typeof EXPRESSION_VARIABLES)[number]>) => number): boolean {
  for (let hour = 0; hour < 24; hour += 0.5)
    for (const ambient of [-20, 0, 20, 45])
      for (const soc of [0, 0.25, 0.5, 0.75, 1])
        if (evaluate({ ambient, cabin: ambient + 8, hour, soc }) > 0) return true;
  return false;
}

/** Compiles it, and tries it over the range of conditions that a trip can meet. */
function checkedExpression(value: string): string {
  try {
    const { evaluate } = compileExpression(value, EXPRESSION_VARIABLES);
    let [lowest, highest] = [Infinity, -Infinity];
    for (const ambient of [-20, 0, 20, 45])
      for (const cabin of [ambient, ambient + 15])
        for (const hour of [0, 6, 12, 23.9])
          for (const soc of [0, 0.5, 1]) {
            const watts = evaluate({ ambient, cabin, hour, soc });
            const what = !Number.isFinite(watts) ? 'no number' : watts > MAX_LOAD_W ? 'more than 20,000 W' : undefined;
            lowest = Math.min(lowest, watts);
            highest = Math.max(highest, watts);
            if (what !== undefined)
              throw new ExpressionError(
                `the expression gives ${what} when ambient is ${ambient}, cabin ${cabin}, hour ${hour} and soc ${soc}`,
                1,
              );
          }
    if (lowest < 0 && !(highest > 0) && !isEverPositive(evaluate))
      throw new ExpressionError(
        'the expression is below 0 W in all conditions, and a load only takes power',
        1,
        'turn its sign; what charges the battery is solar, alternator or mains',
      );
    return value;
  } catch (error) {
    if (!(error instanceof ExpressionError)) throw error;
    throw new FieldError('expression', `${error.message} (character ${error.column} of the expression)`, error.hint);
  }
}

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
  days: weekdaysField.optional(),
  season: seasonField.optional(),
  everyDays: number('runs only every so many days', { min: 1, max: 365, whole: true }).optional(),
  share: quantity('ratio', 'share of use', { min: 0, max: 1 }, '80 %').optional(),
  inverter: yesNo('runs on mains voltage, behind the inverter').optional(),
  startPower: quantity(
    'power',
    'behind the inverter: while it starts, as motors and compressors take several times their power',
    { min: 1, max: 60_000 },
    '1200 W',
  ).optional(),
};

export const scheduledPart = part('a load with a timetable', scheduledShape, checkScheduled);

function checkScheduled(load: PartOf<typeof scheduledShape>, context: z.core.$RefinementCtx): void {
  if (load.power === undefined && load.current === undefined)
    wrong(context, [], 'the load says neither power nor current', 'add power: 9 W, or current: 0.5 A', 'missing');
  if (load.power !== undefined && load.current !== undefined)
    wrong(context, ['current'], 'the load has both power and current', 'keep one of them');
  if (load.current !== undefined && load.inverter)
    wrong(context, ['current'], 'a load behind the inverter is given by its power', 'such as power: 60 W');
  if (load.startPower !== undefined && !load.inverter)
    wrong(
      context,
      ['startPower'],
      'only a load behind the inverter has a startPower',
      'such as surge: 10 A for others',
    );
  if (load.power?.kind === 'power' && load.startPower !== undefined && load.startPower < load.power.powerW)
    wrong(
      context,
      ['startPower'],
      `startPower ${load.startPower} W must not be below the power of ${load.power.powerW} W`,
      'are they swapped?',
    );
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

export function resolveScheduled(
  load: z.output<typeof scheduledPart>,
  path: string,
  defaults: Defaults,
): ScheduledLoad {
  const always = load.when === undefined && load.hours === undefined && load.times === undefined;
  return {
    ...resolveCommon(load, false, path, defaults),
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
    ...(load.days && { weekdays: load.days }),
    ...(load.season && { months: load.season }),
    share: load.share ?? 1,
    inverter: load.inverter ?? false,
    ...(load.startPower !== undefined && { startW: load.startPower }),
  };
}
