import { type CompiledExpression, compileExpression, EXPRESSION_VARIABLES } from '../quantity/index.js';
import { MAX_LOAD_W, type ScheduledLoad } from '../rig/index.js';

/** A load's power as an expression of `ambient`, `cabin`, `hour` and `soc`. */
export type LoadExpression = CompiledExpression<(typeof EXPRESSION_VARIABLES)[number]>;

/** What a load's expression may look at, column by column. */
export interface ExpressionColumns {
  readonly ambientC: Float64Array;
  readonly cabinC: Float64Array;
  /** local civil hour at the middle of each step, 0..24 */
  readonly localHour: Float64Array;
}

/** @throws ExpressionError for anything but arithmetic in the known variables */
export function compileLoadExpression(text: string): LoadExpression {
  return compileExpression(text, EXPRESSION_VARIABLES);
}

/** Whether the load must be evaluated inside the step loop, because it looks at the battery. */
export function usesSoc(load: ScheduledLoad): boolean {
  return load.draw.kind === 'expression' && compileLoadExpression(load.draw.text).uses.has('soc');
}

/** What an expression's value draws: nothing below zero or where it is no number (a division by zero), and not without end. */
export function drawnW(watts: number): number {
  return watts > 0 && watts < Infinity ? Math.min(watts, MAX_LOAD_W) : 0;
}

/**
 * An expression's power at each step, as if the battery were at `soc` all along [W].
 */
export function expressionColumn(expression: LoadExpression, columns: ExpressionColumns, soc = 1): Float64Array {
  const { ambientC, cabinC, localHour } = columns;
  const powerW = new Float64Array(ambientC.length);
  const scope = { ambient: 0, cabin: 0, hour: 0, soc };
  for (let i = 0; i < powerW.length; i++) {
    scope.ambient = ambientC[i]!;
    scope.cabin = cabinC[i]!;
    scope.hour = localHour[i]!;
    const watts = expression.evaluate(scope);
    powerW[i] = drawnW(watts);
  }
  return powerW;
}

/**
 * Mean draw of each step, before anything is cut off: watts, or amps for a load given by its current (its watts
 * follow the voltage, so the step loop makes them). Exactly one of the two is there.
 */
export type DrawColumn =
  | { readonly kind: 'power'; readonly powerW: Float64Array }
  | { readonly kind: 'current'; readonly currentA: Float64Array };

/** The timetable times what the load draws while on. A load that looks at `soc` is taken as if at `soc` = 1. */
export function drawColumn(load: ScheduledLoad, onShare: Float64Array, columns: ExpressionColumns): DrawColumn {
  const { draw } = load;
  const out = new Float64Array(onShare.length);
  if (draw.kind === 'expression') {
    const powerW = expressionColumn(compileLoadExpression(draw.text), columns);
    for (let i = 0; i < out.length; i++) out[i] = onShare[i]! * powerW[i]!;
    return { kind: 'power', powerW: out };
  }
  const whileOn = draw.kind === 'power' ? draw.powerW : draw.currentA;
  for (let i = 0; i < out.length; i++) out[i] = onShare[i]! * whileOn;
  return draw.kind === 'power' ? { kind: 'power', powerW: out } : { kind: 'current', currentA: out };
}

/**
 * The most that a load may draw while on, for cables and fuses. An expression is searched over ambient and cabin from
 * −20 to 50 °C (the cabin up to 20 K warmer), each hour and each tenth of charge, so a peak between those is missed.
 * @returns [W] for a power or an expression, [A] for a current
 */
export function peakDraw(load: ScheduledLoad): { readonly kind: 'power' | 'current'; readonly value: number } {
  const { draw } = load;
  if (draw.kind === 'power') return { kind: 'power', value: draw.powerW };
  if (draw.kind === 'current') return { kind: 'current', value: draw.currentA };
  const expression = compileLoadExpression(draw.text);
  const over = (name: 'hour' | 'soc', values: readonly number[]) => (expression.uses.has(name) ? values : [1]);
  const hours = over(
    'hour',
    Array.from({ length: 24 }, (_, i) => i + 0.5),
  );
  const socs = over(
    'soc',
    Array.from({ length: 11 }, (_, i) => i / 10),
  );
  let peak = 0;
  for (let ambient = -20; ambient <= 50; ambient += 2)
    for (let cabin = ambient; cabin <= ambient + 20; cabin += 4)
      for (const hour of hours)
        for (const soc of socs) {
          const watts = expression.evaluate({ ambient, cabin, hour, soc });
          peak = Math.max(peak, drawnW(watts));
        }
  return { kind: 'power', value: peak };
}
