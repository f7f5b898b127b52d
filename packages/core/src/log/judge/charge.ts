import type { CompareContext } from '../parts/compare-context.js';
import { minPowerW } from '../replay/free-steps.js';
import { type LogFinding, sizeOf } from './finding.js';

const MIN_STEPS = 6;
const MIN_DAYS = 2;
/** A set point is wrong from so far off, per 12 V [V]: meters, cables and rows make up for less. */
const SET_POINT_OFF_V = 0.3;

/** What the charge itself shows: it ends below its set point, waits for warmth, or does not wait below freezing. */
export function judgeCharge(context: CompareContext): LogFinding[] {
  return [...endsEarly(context), ...coldRefusal(context), ...belowFreezing(context)];
}

function endsEarly({ rig, replay, dates }: CompareContext): LogFinding[] {
  const { held } = replay.stages;
  const due = { ...rig.battery.charge, ...rig.solar[0]?.controller.charge }.absorptionV;
  const scale = (rig.battery.nominalV * rig.battery.series) / 12;
  if (!held || due - held.volts < SET_POINT_OFF_V * scale) return [];
  return [
    {
      code: 'charge_ends_early',
      level: 'caution',
      path: 'solar.controller',
      confidence: held.days >= 5 ? 'high' : 'fair',
      size: sizeOf(held.volts, Math.max(0.03 * scale, held.spread), 'V'),
      args: {
        volts: held.volts,
        due,
        days: held.days,
        dates: held.dates.slice(0, 4).map((day) => dates[day]!),
        perKelvin: rig.battery.charge.perDegreeV,
      },
    },
  ];
}

/** No charge at cell temperatures at which the chemistry must not be charged: as it should be, and good to know. */
function coldRefusal({ rig, steps, replay, expectedW, dayOf }: CompareContext): LogFinding[] {
  const { chargeMinC } = rig.battery;
  if (chargeMinC === undefined) return [];
  const least = minPowerW(rig) / 3;
  const { cold } = replay.stages;
  const at = Array.from(cold.keys()).filter(
    (i) => cold[i] === 1 && expectedW[i]! > least && steps.harvestW[i]! < 0.2 * expectedW[i]!,
  );
  const days = new Set(at.map((i) => dayOf[i]!)).size;
  if (at.length < MIN_STEPS) return [];
  const { stepH } = steps.grid;
  const lostWh = at.reduce((sum, i) => sum + (expectedW[i]! - steps.harvestW[i]!) * stepH, 0);
  return [
    {
      code: 'charge_cold',
      level: 'note',
      path: 'battery',
      confidence: days >= MIN_DAYS ? 'high' : 'fair',
      args: { hours: at.length * stepH, days, lostWh, belowC: chargeMinC, chemistry: rig.battery.chemistry },
    },
  ];
}

/** A real charging current below the temperature at which it harms. */
function belowFreezing({ rig, steps }: CompareContext): LogFinding[] {
  const { chargeMinC, capacityAh, count } = rig.battery;
  if (chargeMinC === undefined) return [];
  const minA = 0.02 * capacityAh * count;
  const at = Array.from(steps.batteryC.keys()).filter(
    (i) => steps.batteryC[i]! < chargeMinC - 1 && steps.batteryA[i]! > minA,
  );
  if (at.length < MIN_STEPS / 2) return [];
  return [
    {
      code: 'charge_below_freezing',
      level: 'danger',
      path: 'battery',
      confidence: 'fair',
      args: {
        limitC: chargeMinC,
        coldestC: at.reduce((least, i) => Math.min(least, steps.batteryC[i]!), Infinity),
        hours: at.length * steps.grid.stepH,
        minA,
      },
    },
  ];
}
