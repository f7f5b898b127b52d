import { halfWidth90, Z90 } from '../../math/index.js';
import type { Load, Rig, ScheduledLoad } from '../../rig/index.js';
import type { Training } from '../parts/calibrate-training.js';
import type { FitName, Found, NotIdentifiable } from '../parts/calibrate-types.js';
import { fridgeWrites, withFridgeLeak } from '../parts/fridge-leak.js';
import { type Drawn, nightQuiet } from '../parts/load-observations.js';

/** Standard errors that no log can tell: of the quiet draw, for electronics that nobody lists … (common practice, no source) [A] */
const QUIET_ERROR_A = 0.03;
/** … and of the heat leak, as set point, doors and the air around the fridge are not logged (common practice, no source). */
const LEAK_ERROR = 0.07;
const STANDBY_ERROR = 0.1;
const WIDEST = 0.6;
/** Widest interval of a draw that is next to nothing [A]. */
const WIDEST_A = 0.2;
/** A load is added for a draw above this [A]. */
const MIN_ADDED_A = 0.005;

/** What is fitted, from where, within which bounds. */
export interface Parameter {
  readonly fit: FitName;
  readonly name: string;
  readonly start: number;
  readonly low: number;
  readonly high: number;
}

/** The one load that draws a constant current all day, when there is just one. */
export function alwaysLoad(
  rig: Rig,
): { readonly index: number; readonly name: string; readonly currentA: number } | undefined {
  const constant = rig.loads.flatMap((load, index) =>
    load.kind === 'scheduled' && !load.starterSide && isConstant(load) && load.draw.kind === 'current'
      ? [{ index, name: load.name, currentA: load.draw.currentA }]
      : [],
  );
  return constant.length === 1 ? constant[0] : undefined;
}

function isConstant({ when, hoursPerDay, timesPerDay, everyDays, share, inverter }: ScheduledLoad): boolean {
  return (
    when.length === 0 &&
    hoursPerDay === undefined &&
    timesPerDay === undefined &&
    everyDays === 1 &&
    share === 1 &&
    !inverter
  );
}

/** A fitted draw with its interval and what it comes to in the rig, or why it is too open to be told. */
export function toldOf(
  training: Training,
  drawn: Drawn,
  { fit, name, low: least, high: most }: Parameter,
  value: number,
  standardError: number,
  nights: number,
): Found | NotIdentifiable {
  const { rig, range, drawStep: step } = training;
  const t = halfWidth90(nights - 1);
  const since = step ? `, on the days since ${step.date}` : '';
  const by =
    training.nights.length > 0 ? `draw of ${nights} nights, their quiet hours apart` : `mean draw of ${nights} nights`;
  if (fit === 'always-on') {
    const own = alwaysLoad(rig);
    const quiet = nightQuiet(training, drawn);
    const half = Math.hypot(t * standardError, Z90 * QUIET_ERROR_A);
    const total = quiet + value;
    if (!(2 * half <= Math.max(WIDEST * total, WIDEST_A))) return { fit, name, why: wide(total, half, 'A') };
    const set = Math.max(0, (own?.currentA ?? 0) + value);
    const electronicsA = quiet - (own?.currentA ?? 0);
    const rest =
      electronicsA > 0.005
        ? ` The rig's own electronics and what else is always on take ${electronicsA.toFixed(2)} A of it.`
        : '';
    const comment = `Found in the log of ${range}: ${total.toFixed(2)} A (${(total - half).toFixed(2)} to ${(total + half).toFixed(2)}) flow at all hours${since}.${rest}`;
    return {
      fit,
      name,
      path: own ? `loads[${own.index}].current` : `loads[${rig.loads.length}]`,
      value: total,
      low: Math.max(0, total - half),
      high: total + half,
      unit: 'A',
      before: quiet,
      by,
      text: `${total.toFixed(2)} A flow at all hours${since}; the rig has ${quiet.toFixed(2)} A.${rest}`,
      applyTo: (one) => ({
        ...one,
        loads: own
          ? one.loads.map((load, k) => (k === own.index ? withCurrent(load, set) : load))
          : [...one.loads, ...added(freeName(rig), value)],
      }),
      writes: own
        ? [{ path: ['loads', own.index, 'current'], value: `${set.toFixed(3)} A`, comment }]
        : value < MIN_ADDED_A
          ? []
          : [
              {
                path: ['loads', rig.loads.length],
                value: { name: freeName(rig), current: `${value.toFixed(3)} A` },
                comment,
              },
            ],
    };
  }
  if (fit === 'fridge') {
    const half = Math.hypot(t * standardError, Z90 * LEAK_ERROR * value);
    if (!(2 * half <= WIDEST * Math.max(value, 0.5)) || value <= least * 1.01)
      return { fit, name, why: wide(value, half, 'times what the rig has') };
    return {
      fit,
      name,
      path: 'loads.fridge',
      value,
      low: value - half,
      high: value + half,
      unit: 'times',
      before: 1,
      by,
      text: `Heat leaks into the fridge ${value.toFixed(2)} times as fast as the rig says; what else comes and goes unlisted at night is in it.`,
      applyTo: (one) => withFridgeLeak(one, value),
      writes: fridgeWrites(
        rig,
        value,
        `Found in the log of ${range}: its heat leak is ${value.toFixed(2)} times (${(value - half).toFixed(2)} to ${(value + half).toFixed(2)}) what the file had${since}.`,
      ),
    };
  }
  const half = Math.hypot(t * standardError, Z90 * STANDBY_ERROR * value);
  if (!(2 * half <= Math.max(WIDEST * value, 2)) || value >= most * 0.99)
    return { fit, name, why: wide(value, half, 'W') };
  return {
    fit,
    name,
    path: 'inverter.standby',
    value,
    low: Math.max(0, value - half),
    high: value + half,
    unit: 'W',
    before: rig.inverter!.standbyW,
    by,
    applyTo: (one) => ({ ...one, ...(one.inverter && { inverter: { ...one.inverter, standbyW: value } }) }),
    text: `The inverter takes ${value.toFixed(1)} W with nothing connected.`,
    writes: [
      {
        path: ['inverter', 'standby'],
        value: `${value.toFixed(1)} W`,
        comment: `Found in the log of ${range}: ${Math.max(0, value - half).toFixed(1)} to ${(value + half).toFixed(1)} W${since}.`,
      },
    ],
  };
}

const withCurrent = (load: Load, currentA: number): Load =>
  load.kind === 'scheduled' ? { ...load, draw: { kind: 'current', currentA } } : load;

/** A load that draws such a current day and night, as `readRig` would read it. */
function added(name: string, currentA: number): ScheduledLoad[] {
  if (currentA < MIN_ADDED_A) return [];
  const always = { when: [], everyDays: 1, share: 1, inverter: false, critical: false, starterSide: false } as const;
  return [{ kind: 'scheduled', name, draw: { kind: 'current', currentA }, ...always }];
}

const wide = (value: number, half: number, unit: string) =>
  `the nights leave it too open: ${value.toFixed(2)} ${unit}, but from ${(value - half).toFixed(2)} to ${(value + half).toFixed(2)}`;

function freeName({ loads }: Rig): string {
  const names = new Set(loads.map(({ name }) => name));
  for (let k = 1; ; k++) {
    const name = k === 1 ? 'found by the log' : `found by the log ${k}`;
    if (!names.has(name)) return name;
  }
}
