import { batteryModel, ocvAt } from '../../battery/index.js';
import {
  type Chemistry,
  isLead,
  LARGE_PANEL_CELLS,
  LARGE_PANEL_W,
  PANEL_CELLS,
  type Rig,
  type SolarArray,
} from '../../rig/index.js';
import { genericDatasheet } from '../../solar/index.js';
import { circuitLoopOhm, relayCurrent } from '../../wire/index.js';
import type { Finding } from './finding.js';

/** Usual absorption voltages of a 12 V battery at 25 °C. IEEE 1361 and common practice, from memory. */
const ABSORPTION_V: Record<Chemistry, readonly [low: number, high: number]> = {
  LFP: [14.0, 14.6],
  AGM: [14.2, 14.7],
  gel: [14.0, 14.4],
  flooded: [14.4, 14.8],
};
/** A charger that loses more than this on its way sees its set voltage well before the battery does [V]. */
const LONG_ABSORPTION_DROP_V = 0.3;
/** A datasheet and a nameplate of one module agree better than this; common practice: tolerance 0 to 5 %. */
const SHEET_DIFFERENCE = 0.05;

/** A lead-acid battery charged with less of its capacity an hour is rarely filled. Common practice, no source. */
const MIN_LEAD_SHARE = 0.05;

/** Set points, chargers and what they are connected with. */
export function chargingFindings(rig: Rig): Finding[] {
  const { battery, solar, alternator, mains } = rig;
  const findings: Finding[] = [];
  const nominalV = battery.nominalV * battery.series;
  const scale = nominalV / 12;
  const capacityAh = battery.capacityAh * battery.count * battery.health;

  const { chemistry } = battery;
  const [lowV, highV] = ABSORPTION_V[chemistry].map((voltageV) => voltageV * scale) as [number, number];
  const { absorptionV } = battery.charge;
  const absorption = { path: 'battery.charge.absorption', args: { absorptionV, lowV, highV, chemistry } };
  if (absorptionV > highV + 0.05)
    findings.push({
      level: !isLead(chemistry) || chemistry === 'gel' ? 'danger' : 'caution',
      code: 'absorption_high',
      ...absorption,
    });
  else if (absorptionV < lowV - 0.05) findings.push({ level: 'caution', code: 'absorption_low', ...absorption });

  solar.forEach((array, k) => {
    const path = `solar[${k}]`;
    const arrayW = array.powerW * array.count;
    const { currentA, kind } = array.controller;
    const maxW = currentA * 1.17 * nominalV;
    if (kind === 'MPPT' && arrayW > 1.15 * maxW)
      findings.push({
        level: 'note',
        path: `${path}.controller.current`,
        code: 'controller_clips',
        args: { currentA, maxW, arrayW },
      });
    const { datasheet, powerW } = array;
    const sheetW = datasheet ? datasheet.vmpV * datasheet.impA : powerW;
    if (Math.abs(sheetW / powerW - 1) > SHEET_DIFFERENCE)
      findings.push({
        level: 'note',
        path: `${path}.datasheet`,
        code: 'datasheet_differs',
        args: { sheetW, powerW },
      });
    findings.push(...panelFindings(array, path));
    // A panel made for 12 V is what a PWM controller is made for; of others the voltage tells.
    const sheet = datasheet ?? (array.cells === undefined ? undefined : genericDatasheet(array));
    const vmpV = (sheet?.vmpV ?? 0) * array.series;
    if (kind === 'PWM' && vmpV > 1.6 * nominalV)
      findings.push({
        level: 'caution',
        path: `${path}.controller.kind`,
        code: 'pwm_wastes_voltage',
        args: { vmpV, lostShare: 1 - (1.08 * nominalV) / vmpV },
      });
    if (array.outputCable) {
      const dropV = currentA * circuitLoopOhm(array.outputCable, 30);
      if (dropV > LONG_ABSORPTION_DROP_V * scale)
        findings.push({ level: 'caution', path: `${path}.outputCable`, code: 'absorption_late', args: { dropV } });
    }
  });
  const chargersA = chargersTogetherA(rig);
  const { maxChargeA } = battery;
  if (chargersA > maxChargeA * 1.01)
    findings.push({
      level: 'caution',
      path: 'battery.maxCharge',
      code: 'chargers_above_battery',
      args: { chargersA, maxChargeA },
    });
  if (mains && mains.currentA > maxChargeA * 1.01)
    findings.push({
      level: 'caution',
      path: 'mains.current',
      code: 'mains_above_battery',
      args: { currentA: mains.currentA, maxChargeA },
    });
  if (alternator?.charger.kind === 'relay' && !isLead(chemistry))
    findings.push({ level: 'caution', path: 'alternator.charger', code: 'relay_with_lithium', args: {} });
  const relay = relayCurrent(rig);
  const restedV = ocvAt(batteryModel(battery), 0.5);
  const { lowVoltageV = Infinity, vehicleA = 0 } = alternator ?? {};
  if (relay && lowVoltageV < restedV)
    findings.push({
      level: 'caution',
      path: 'alternator.charger',
      code: 'relay_feeds_vehicle',
      args: { lowVoltageV, restedV, vehicleA },
    });
  if (relay && relay.currentA > maxChargeA * 1.01)
    findings.push({
      level: 'caution',
      path: 'alternator.charger',
      code: 'relay_above_battery',
      args: { currentA: relay.currentA, maxChargeA, ohm: relay.wayOhm },
    });
  if (alternator?.charger.kind === 'dcdc') {
    const { currentA } = alternator.charger;
    const hotA = alternator.ratingA * alternator.hotShare - alternator.vehicleA;
    if (currentA * 1.2 > hotA)
      findings.push({
        level: 'note',
        path: 'alternator.charger.current',
        code: 'alternator_short_when_hot',
        args: { leftA: Math.max(0, hotA), currentA },
      });
  }
  if (solar.length === 0 && !alternator && !mains)
    findings.push({ level: 'note', path: '', code: 'nothing_charges', args: {} });
  if (capacityAh > 0 && isLead(chemistry) && chargersA > 0 && chargersA < MIN_LEAD_SHARE * capacityAh)
    findings.push({
      level: 'note',
      path: 'solar',
      code: 'rarely_filled',
      args: { chargersA, capacityAh, minShare: MIN_LEAD_SHARE },
    });
  return findings;
}

/** What was taken for granted about a panel, or says nothing. */
function panelFindings(
  { powerW, technology, cells, datasheet, tiltDeg, azimuthDeg }: SolarArray,
  path: string,
): Finding[] {
  const findings: Finding[] = [];
  if (!datasheet && cells === undefined && powerW > LARGE_PANEL_W)
    findings.push({
      level: 'note',
      path: `${path}.power`,
      code: 'cells_assumed',
      args: { powerW, cells: PANEL_CELLS[technology], largeCells: LARGE_PANEL_CELLS[technology] },
    });
  if (azimuthDeg !== undefined && tiltDeg === 0)
    findings.push({ level: 'note', path: `${path}.azimuth`, code: 'azimuth_of_flat', args: { azimuthDeg, tiltDeg } });
  return findings;
}

/** What panels and DC-DC charger can give together [A]; in one box the two share its rating, as in a run. */
function chargersTogetherA({ solar, alternator, battery }: Rig): number {
  const nominalV = battery.nominalV * battery.series;
  const [first = 0, ...others] = solar.map(({ controller, powerW, count }) =>
    Math.min(controller.currentA, (powerW * count) / (1.1 * nominalV)),
  );
  const charger = alternator?.charger;
  const dcdcA = charger?.kind === 'dcdc' ? charger.currentA : 0;
  const isShared = charger?.kind === 'dcdc' && charger.sharedWithSolar;
  return others.reduce((sum, amps) => sum + amps, isShared ? Math.max(first, dcdcA) : first + dcdcA);
}
