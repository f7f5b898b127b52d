import { type Chemistry, isLead, type Rig } from '../../rig/index.js';
import { circuitLoopOhm } from '../../wire/index.js';
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

/** Set points, chargers and what they are connected with. */
export function chargingFindings(rig: Rig): Finding[] {
  const { battery, solar, alternator, mains } = rig;
  const findings: Finding[] = [];
  const add = (level: Finding['level'], path: string, text: string) => findings.push({ level, path, text });
  const nominalV = battery.nominalV * battery.series;
  const scale = nominalV / 12;
  const capacityAh = battery.capacityAh * battery.count * battery.health;

  const [low, high] = ABSORPTION_V[battery.chemistry];
  const { absorptionV } = battery.charge;
  if (absorptionV > high * scale + 0.05)
    add(
      !isLead(battery.chemistry) || battery.chemistry === 'gel' ? 'danger' : 'caution',
      'battery.charge.absorption',
      `${absorptionV} V is above the usual ${low * scale} to ${high * scale} V of ${battery.chemistry}: it can harm the cells`,
    );
  else if (absorptionV < low * scale - 0.05)
    add(
      'caution',
      'battery.charge.absorption',
      `${absorptionV} V is below the usual ${low * scale} to ${high * scale} V of ${battery.chemistry}: it may never be full`,
    );

  solar.forEach((array, k) => {
    const path = `solar[${k}]`;
    const arrayW = array.powerW * array.count;
    const maxW = array.controller.currentA * 1.17 * nominalV;
    if (array.controller.kind === 'MPPT' && arrayW > 1.15 * maxW)
      add(
        'note',
        `${path}.controller.current`,
        `${array.controller.currentA} A at the battery are about ${Math.round(maxW)} W: the rest of ${arrayW} W is cut off at noon`,
      );
    const { datasheet } = array;
    const sheetW = datasheet ? datasheet.vmpV * datasheet.impA : array.powerW;
    if (Math.abs(sheetW / array.powerW - 1) > SHEET_DIFFERENCE)
      add(
        'note',
        `${path}.datasheet`,
        `vmp times imp is ${sheetW.toFixed(0)} W, but the nameplate says ${array.powerW} W: the nameplate is used for power, the datasheet for voltages; look which one is right`,
      );
    const vmpV = (array.datasheet?.vmpV ?? 0) * array.series;
    if (array.controller.kind === 'PWM' && vmpV > 1.6 * nominalV)
      add(
        'caution',
        `${path}.controller.kind`,
        `a PWM controller pulls this array's ${vmpV.toFixed(1)} V down to the battery's: about ${percent(1 - (1.08 * nominalV) / vmpV)} of its power is lost; an MPPT keeps it`,
      );
    if (array.outputCable) {
      const dropV = array.controller.currentA * circuitLoopOhm(array.outputCable, 30);
      if (dropV > LONG_ABSORPTION_DROP_V * scale)
        add(
          'caution',
          `${path}.outputCable`,
          `at full current the controller stands ${dropV.toFixed(2)} V above the battery: it believes the battery full while it is not, and absorption comes late or never; use a thicker or shorter cable`,
        );
    }
  });
  const offersA = [
    ...solar.map((array) => Math.min(array.controller.currentA, (array.powerW * array.count) / (1.1 * nominalV))),
    ...(alternator?.charger.kind === 'dcdc' ? [alternator.charger.currentA] : []),
  ];
  const atOnceA = offersA.reduce((sum, amps) => sum + amps, 0);
  if (atOnceA > battery.maxChargeA * 1.01)
    add(
      'caution',
      'battery.maxCharge',
      `chargers can give ${atOnceA.toFixed(0)} A together, more than the ${battery.maxChargeA.toFixed(0)} A that the battery may take`,
    );
  if (mains && mains.currentA > battery.maxChargeA * 1.01)
    add(
      'caution',
      'mains.current',
      `${mains.currentA} A are more than the ${battery.maxChargeA.toFixed(0)} A that the battery may take`,
    );
  if (alternator?.charger.kind === 'relay' && !isLead(battery.chemistry))
    add(
      'caution',
      'alternator.charger',
      'a bare relay lets an LFP battery draw all the alternator has, for hours: it can overheat; a current-limited DC-DC charger is the usual cure',
    );
  if (
    alternator?.charger.kind === 'dcdc' &&
    alternator.charger.currentA * 1.2 > alternator.ratingA * alternator.hotShare - alternator.vehicleA
  )
    add(
      'note',
      'alternator.charger.current',
      `hot, the alternator has about ${Math.max(0, alternator.ratingA * alternator.hotShare - alternator.vehicleA).toFixed(0)} A left for charging: the charger will not always reach its ${alternator.charger.currentA} A`,
    );
  if (solar.length === 0 && !alternator && !mains)
    add('note', '', 'nothing charges the battery: it only lasts until it is empty');
  if (capacityAh > 0 && isLead(battery.chemistry) && atOnceA > 0 && atOnceA < 0.05 * capacityAh)
    add(
      'note',
      'solar',
      `all charging together is under ${percent(0.05)} of the capacity per hour: a lead-acid battery will rarely be filled`,
    );
  return findings;
}

function percent(share: number): string {
  return `${Math.round(100 * share)} %`;
}
