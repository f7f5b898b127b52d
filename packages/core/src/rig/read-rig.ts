import type * as z from 'zod';
import { parseQuantity } from '../quantity/index.js';
import { bankScale, resolveBattery } from './battery-part.js';
import { ConfigError } from './config-error.js';
import { Defaults } from './defaults.js';
import { vehiclesFrom } from './ensemble-part.js';
import { isYes } from './field.js';
import { refuseOtherKind } from './file-kind.js';
import { inOrder, issuesOf } from './issues.js';
import { resolveLoad } from './load-part.js';
import { resolveMonths } from './months-part.js';
import { resolveAlternator, resolveCabin, resolveInverter, resolveMains } from './power-part.js';
import { rigFile } from './rig-file.js';
import type { Settings } from './settings.js';
import { resolveSolar } from './solar-part.js';
import { requireText } from './sound.js';
import { isGroup, Source } from './source.js';
import type { ConfigIssue, DefaultTaken, Rig } from './types.js';

/** How a file is read. */
export interface ReadOptions {
  /** the file's name, for messages */
  readonly file?: string;
  /**
   * Changes put in before the file is checked, as the file would write them: `{ 'battery.capacity': '200 Ah' }`, or `path=value`
   * each, such as `loads.fridge.setpoint=6 degC`. This is the way to change a rig: every default is taken anew.
   */
  readonly set?: Settings;
}

/**
 * Reads a rig from YAML or JSON text.
 * @returns the rig with every default filled in, and the list of the defaults taken
 * @throws ConfigError with every fault: what, where (file, line, path), what is right, a guess at what was meant
 * @example
 * ```ts
 * import { ConfigError, readRig } from '@stayput/core';
 *
 * const text = `
 * battery: { chemistry: LFP, capacity: 100 A }
 * loads: [{ name: fan, power: 9 W }]
 * `;
 * try {
 *   readRig(text, { file: 'rig.yaml' });
 * } catch (error) {
 *   if (!(error instanceof ConfigError)) throw error;
 *   for (const { line, path, hint } of error.issues) console.log(`line ${line}, ${path}: ${hint}`);
 *   // → line 2, battery.capacity: did you mean 100 Ah?
 * }
 * ```
 * @example
 * ```ts
 * import { readRig } from '@stayput/core';
 *
 * const { rig, defaults } = readRig('battery: { chemistry: LFP, capacity: 100 Ah }\nloads: [{ name: fan, power: 9 W }]');
 * console.log(rig.battery.capacityAh); // → 100
 * for (const { path, text, why } of defaults) console.log(path, text, why);
 * ```
 * @example
 * A rig is plain data: it survives JSON and `structuredClone`. Change it by reading it anew, so that what follows from the change
 * follows: a spread such as `{ ...rig, battery: { ...rig.battery, capacityAh: 200 } }` keeps the charge limit of the smaller battery.
 * ```ts
 * import { readRig } from '@stayput/core';
 *
 * const text = 'battery: { chemistry: LFP, capacity: 100 Ah }\nloads: [{ name: fan, power: 9 W }]';
 * const { rig } = readRig(text, { set: { 'battery.capacity': '200 Ah', 'loads.fan.power': '12 W' } });
 * console.log(rig.battery.maxChargeA); // → 100
 * ```
 */
export function readRig(yaml: string, options: ReadOptions = {}): { rig: Rig; defaults: DefaultTaken[] } {
  requireText('readRig', yaml);
  const source = Source.read(yaml, options.file, options.set);
  refuseOtherKind(source, 'rig');
  const parsed = rigFile.safeParse(asMeant(source.value));
  const issues = [...(parsed.success ? [] : issuesOf(parsed.error, source)), ...acrossParts(source)];
  if (!parsed.success || issues.length > 0) throw new ConfigError(inOrder(issues));
  const defaults = new Defaults();
  return { rig: resolveRig(parsed.data, defaults), defaults: defaults.taken };
}

function resolveRig(file: z.output<typeof rigFile>, defaults: Defaults): Rig {
  const battery = resolveBattery(file.battery, 'battery', defaults);
  const scale = bankScale(battery);
  return {
    name: defaults.plain(file.name, 'name', 'rig', 'it has no name'),
    ...(file.currency !== undefined && { currency: file.currency }),
    battery,
    solar: (file.solar ?? []).flatMap((array, i) =>
      array.off || array.count === 0
        ? []
        : [resolveSolar(array, array.name ?? (i === 0 ? 'solar' : `solar ${i + 1}`), scale, `solar[${i}]`, defaults)],
    ),
    ...(file.alternator &&
      !file.alternator.off && { alternator: resolveAlternator(file.alternator, battery, scale, defaults) }),
    ...(file.mains && !file.mains.off && { mains: resolveMains(file.mains, battery, defaults) }),
    ...(file.inverter && !file.inverter.off && { inverter: resolveInverter(file.inverter, scale, defaults) }),
    cabin: resolveCabin(file.cabin, defaults),
    loads: (file.loads ?? []).map((load, i) => resolveLoad(load, scale, `loads[${i}]`, defaults)),
    ...resolveMonths(file.months),
    // Grass and bare soil; common practice.
    albedo: defaults.quantity(file.albedo, 'albedo', 0.2, 'ratio', 'grass or bare ground'),
    ...(file.snow && {
      snow: { groundShare: file.snow.ground, ...(file.snow.panels && { panelShare: file.snow.panels }) },
    }),
    ...(file.ensemble && { ensemble: vehiclesFrom(file.ensemble) }),
  };
}

const CAN_BE_OFF: readonly string[] = ['alternator', 'mains', 'inverter'];
/** `inverter: off`, or `off: yes` within it. */
const isOff = (part: unknown) =>
  part === 'none' || isYes(part) === false || (isGroup(part) && isYes(part.off) === true);

const COUNTED = /^\s*(\d{1,3})\s*[x×]\s*(\d.*)$/i;

/**
 * "2x100 W" of a panel and "2x100 Ah" of a battery as the count of each; a charger or inverter
 * that is `off` as none.
 */
function asMeant(file: unknown): unknown {
  if (!isGroup(file)) return file;
  const counted = (part: unknown, key: string) => {
    const written = isGroup(part) && typeof part[key] === 'string' ? COUNTED.exec(part[key]) : undefined;
    if (!isGroup(part) || !written) return part;
    return { ...part, [key]: written[2]!, count: part.count ?? Number(written[1]) };
  };
  const { solar, battery } = file;
  const there = Object.entries(file).filter(([key, part]) => !(CAN_BE_OFF.includes(key) && isOff(part)));
  return {
    ...Object.fromEntries(there),
    ...(battery !== undefined && { battery: counted(battery, 'capacity') }),
    ...(Array.isArray(solar) && { solar: solar.map((array: unknown) => counted(array, 'power')) }),
  };
}

/** Ratings that inverters are sold with [W]; common practice, no source. */
const INVERTER_RATINGS_W = [300, 600, 1000, 1500, 2000, 3000, 5000];

/** A rating that carries all loads behind the inverter at once, as far as their powers can be read [W]. */
function inverterFor(loads: readonly unknown[]): number {
  let togetherW = 0;
  for (const load of loads)
    if (isGroup(load) && isYes(load.inverter) === true && isYes(load.off) !== true && typeof load.power === 'string')
      try {
        togetherW += parseQuantity(load.power, 'power');
      } catch {
        // said of the load itself
      }
  return INVERTER_RATINGS_W.find((rating) => rating >= togetherW) ?? Math.ceil(togetherW / 1000) * 1000;
}

/** Faults that lie between parts. They look at what was written, so that they are found beside other faults. */
function acrossParts(source: Source): ConfigIssue[] {
  if (!isGroup(source.value)) return [];
  const { battery, loads, solar, inverter } = source.value;
  const issues = source.duplicateNames(['loads', 'solar']);
  if (Array.isArray(loads) && (inverter === undefined || isOff(inverter)))
    for (const [i, load] of loads.entries())
      if (isGroup(load) && isYes(load.inverter) === true && isYes(load.off) !== true)
        issues.push(
          source.issue(
            'contradiction',
            ['loads', i, 'inverter'],
            'the load runs behind an inverter, but the rig has none',
            inverter === undefined
              ? `add inverter: { rating: ${inverterFor(loads)} W }`
              : 'switch it off too, with off: yes',
          ),
        );
  const panels = Array.isArray(solar) ? solar.map((array: unknown, i) => [array, ['solar', i, 'power']] as const) : [];
  for (const [part, path] of [[battery, ['battery', 'capacity']] as const, ...panels]) {
    const written = isGroup(part) ? part[String(path.at(-1))] : undefined;
    const times = typeof written === 'string' ? COUNTED.exec(written)?.[1] : undefined;
    if (!isGroup(part) || times === undefined || part.count === undefined || part.count === Number(times)) continue;
    issues.push(
      source.issue(
        'contradiction',
        path,
        `says how many there are, ${times}, and count says ${String(part.count)}`,
        'keep one',
      ),
    );
  }
  const isNone = (list: unknown) => list === undefined || (Array.isArray(list) && list.length === 0);
  if (battery !== undefined && isNone(loads) && isNone(solar))
    issues.push(source.issue('missing', [], 'the rig has neither a load nor a solar panel', 'add loads: or solar:'));
  return issues;
}
