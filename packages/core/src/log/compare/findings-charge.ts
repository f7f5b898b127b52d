import type { CompareContext } from '../parts/compare-context.js';
import { minPowerW } from '../replay/curtailed.js';
import type { LogFinding } from './compare-types.js';

/** Steps and days that a finding of the charge rests on at least. */
const MIN_STEPS = 6;
const MIN_DAYS = 2;

interface Gathered {
  readonly at: readonly number[];
  readonly days: ReadonlySet<number>;
}

/**
 * What the charge itself shows: it ends though the battery is not full, waits for warmth, or does not wait below freezing.
 * @param usualW what the panel usually gives at that hour of that light: the promise times its own share by hour
 */
export function chargeFindings(scene: CompareContext, usualW: Float64Array): LogFinding[] {
  return [...endsEarly(scene, usualW), ...coldRefusal(scene, usualW), ...belowFreezing(scene)];
}

function gather({ steps, dayOf }: CompareContext, isHere: (step: number) => boolean): Gathered {
  const at: number[] = [];
  const days = new Set<number>();
  for (let i = 0; i < steps.cover.length; i++)
    if (isHere(i)) {
      at.push(i);
      days.add(dayOf[i]!);
    }
  return { at, days };
}

/** The harvest collapses at a voltage that is held, though the state of charge says that there is room. */
function endsEarly(scene: CompareContext, usualW: Float64Array): LogFinding[] {
  const { steps, rig } = scene;
  const { atVoltage, topV, withinV } = scene.held;
  const { harvestW, soc } = steps;
  const least = minPowerW(rig);
  const held = gather(scene, (i) => atVoltage[i] === 1 && usualW[i]! > least && harvestW[i]! < 0.5 * usualW[i]!);
  if (held.at.length < MIN_STEPS || held.days.size < MIN_DAYS) return [];
  const { absorptionV } = rig.battery.charge;
  const missed = held.at.reduce((sum, i) => sum + (usualW[i]! - harvestW[i]!) * steps.grid.stepH, 0);
  const meanSoc = held.at.reduce((sum, i) => sum + soc[i]!, 0) / held.at.length;
  const charge = Number.isNaN(meanSoc) ? '' : ` at ${Math.round(100 * meanSoc)} % by the monitor`;
  return [
    {
      code: 'charge_ends_early',
      level: 'caution',
      path: 'solar.controller',
      text: `The charge from the sun ends early: the controller holds the battery at ${topV.toFixed(1)} V and lets go of the rest, though it should go on to ${absorptionV.toFixed(1)} V. Either its absorption voltage is set too low, or the cable to the battery drops the difference, or the battery is full and the monitor's state of charge is wrong.`,
      evidence: `${held.at.length} steps on ${held.days.size} days with less than half of the usual harvest within ${withinV.toFixed(2)} V of the highest voltage seen${charge}; about ${Math.round(missed / held.days.size)} Wh lost on each`,
      confidence: held.days.size >= 5 ? 'high' : 'fair',
    },
  ];
}

/** No charge at cell temperatures at which the chemistry must not be charged: as it should be, and good to know. */
function coldRefusal(scene: CompareContext, usualW: Float64Array): LogFinding[] {
  const { rig, steps, held } = scene;
  const { chargeMinC } = rig.battery;
  if (chargeMinC === undefined) return [];
  const least = minPowerW(rig) / 3;
  const refused = gather(
    scene,
    (i) => held.inCold[i] === 1 && usualW[i]! > least && steps.harvestW[i]! < 0.2 * usualW[i]!,
  );
  if (refused.at.length < MIN_STEPS) return [];
  const lost = refused.at.reduce((sum, i) => sum + (usualW[i]! - steps.harvestW[i]!) * steps.grid.stepH, 0);
  return [
    {
      code: 'charge_cold',
      level: 'note',
      path: 'battery',
      text: `The battery refused its charge in the cold, as ${rig.battery.chemistry} must: ${Math.round(lost)} Wh of sun were lost to it. A place in the warmth or a heater would bring them in.`,
      evidence: `${hours(refused, steps.grid.stepH)} on ${refused.days.size} days with sun and next to no harvest at ${(chargeMinC + 1).toFixed(0)} °C or below`,
      confidence: refused.days.size >= MIN_DAYS ? 'high' : 'fair',
    },
  ];
}

/** A real charging current below the temperature at which it harms. */
function belowFreezing(scene: CompareContext): LogFinding[] {
  const { rig, steps } = scene;
  const { chargeMinC, capacityAh, count } = rig.battery;
  if (chargeMinC === undefined) return [];
  const minA = 0.02 * capacityAh * count;
  const charged = gather(scene, (i) => steps.batteryC[i]! < chargeMinC - 1 && steps.batteryA[i]! > minA);
  if (charged.at.length < MIN_STEPS / 2) return [];
  const coldest = charged.at.reduce((least, i) => Math.min(least, steps.batteryC[i]!), Infinity);
  return [
    {
      code: 'charge_below_freezing',
      level: 'danger',
      path: 'battery',
      text: `The battery was charged below ${chargeMinC} °C, down to ${coldest.toFixed(0)} °C: that plates metal inside LFP cells and can make them unsafe. Its cold cut-off does not work, or the sensor does not sit on the cells. Stop charging in the cold until a qualified person has looked at it.`,
      evidence: `${hours(charged, steps.grid.stepH)} of charge above ${minA.toFixed(1)} A with the sensor below ${(chargeMinC - 1).toFixed(0)} °C`,
      confidence: 'fair',
    },
  ];
}

const hours = ({ at }: Gathered, stepH: number) => `${(at.length * stepH).toFixed(1)} h`;
