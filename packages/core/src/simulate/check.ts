import { batteryModel, ocvAt, tableAt } from '../battery/index.js';
import { compressorElectricW, fridgeModel } from '../load/index.js';
import type { Battery, Chemistry, FridgeLoad, Rig } from '../rig/index.js';
import { circuitLoopOhm, circuits, currentForPowerA } from '../wire/index.js';

/** Something to know about a rig before it is built or driven. */
export interface Finding {
  readonly level: 'note' | 'caution' | 'danger';
  /** as written in the rig's file */
  readonly path: string;
  readonly text: string;
}

/** Usual absorption voltages of a 12 V battery at 25 °C. IEEE 1361 and common practice, from memory. */
const ABSORPTION_V: Record<Chemistry, readonly [low: number, high: number]> = {
  LFP: [14.0, 14.6],
  AGM: [14.2, 14.7],
  gel: [14.0, 14.4],
  flooded: [14.4, 14.8],
};
/** A room that fridges meet in summer, for the question whether the cable lets them run [°C]. */
const HOT_ROOM_C = 32;
/** A charger that loses more than this on its way sees its set voltage well before the battery does [V]. */
const LONG_ABSORPTION_DROP_V = 0.3;

const RANK = { danger: 0, caution: 1, note: 2 } as const;

/** What is dangerous, silly or worth knowing in a rig, gravest first. Pure; the rig was already read without errors. */
export function checkRig(rig: Rig): Finding[] {
  const findings = [
    ...wireFindings(rig),
    ...batteryFindings(rig),
    ...chargingFindings(rig),
    ...rig.loads.flatMap((load, k) => (load.kind === 'fridge' ? fridgeFindings(rig, load, k) : [])),
    ...inverterFindings(rig),
  ];
  return findings.sort((a, b) => RANK[a.level] - RANK[b.level]);
}

function wireFindings(rig: Rig): Finding[] {
  const all = circuits(rig);
  const findings: Finding[] = all
    .filter((circuit) => circuit.level !== 'ok' && circuit.lengthM !== null)
    .map((circuit) => ({
      level: circuit.level as Finding['level'],
      path: circuit.path,
      text: `${circuit.name}: ${circuit.text}`,
    }));
  const without = all.filter((circuit) => circuit.lengthM === null).map((circuit) => circuit.name);
  if (without.length > 0)
    findings.push({
      level: 'note',
      path: '',
      text: `no cable is given for ${without.join(', ')}: only terminals are counted there, so drop, ampacity and fuse were not looked at`,
    });
  return findings;
}

function batteryFindings({ battery, loads }: Rig): Finding[] {
  const findings: Finding[] = [];
  const add = (level: Finding['level'], path: string, text: string) => findings.push({ level, path, text });
  const { chemistry, stands } = battery;
  const isLead = chemistry !== 'LFP';
  if (!isLead && battery.chargeMinC < 0)
    add(
      'danger',
      'battery.chargeMin',
      `LFP cells are damaged by charging below 0 °C, and can become unsafe: set it to 0 degC or above`,
    );
  if (!isLead && stands !== 'cabin' && !battery.heater)
    add(
      'caution',
      'battery.stands',
      `standing ${stands === 'outside' ? 'outside' : 'in the engine bay'} it follows the weather: below 0 °C it takes no charge, and heat ages it`,
    );
  if (stands === 'engine bay')
    add(
      'caution',
      'battery.stands',
      'an engine bay is the hottest place a battery can have: every 10 K halve its life, roughly',
    );
  if (chemistry === 'flooded' && stands === 'cabin')
    add(
      'danger',
      'battery.stands',
      'a flooded battery gives off hydrogen while charging: it needs a sealed box vented to the outside, away from sparks',
    );
  else if (isLead && stands === 'cabin')
    add(
      'note',
      'battery.stands',
      'sealed lead-acid can still vent hydrogen when overcharged: give its space an opening to the outside',
    );
  if (isLead && battery.floor < 0.5)
    add(
      'caution',
      'battery.floor',
      `going down to ${percent(battery.floor)} often costs a lead-acid battery much of its life: half is the usual floor`,
    );
  if (battery.disconnect.kind === 'soc' && battery.disconnect.soc > battery.floor)
    add(
      'caution',
      'battery.disconnect',
      `loads are cut at ${percent(battery.disconnect.soc)}, before the floor of ${percent(battery.floor)} is reached`,
    );
  const { disconnect, reconnect } = battery;
  const volts = (12 * battery.nominalV * battery.series) / 144;
  if (
    disconnect.kind === 'voltage' &&
    reconnect.kind === 'voltage' &&
    reconnect.voltageV - disconnect.voltageV < 0.3 * volts
  )
    add(
      'caution',
      'battery.reconnect',
      'less than 0.3 V per 12 V above the disconnect: loads may switch off and on again and again',
    );
  if (battery.cable && battery.cable.fuseA === undefined)
    add(
      'caution',
      'battery.cable.fuse',
      'no fuse is named for the battery cable: fuse it within a hand’s breadth of the battery',
    );
  if (loads.length === 0) add('note', 'loads', 'nothing draws on the battery');
  return findings;
}

function chargingFindings(rig: Rig): Finding[] {
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
      battery.chemistry === 'LFP' || battery.chemistry === 'gel' ? 'danger' : 'caution',
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
    const mostW = array.controller.currentA * 1.17 * nominalV;
    if (array.controller.kind === 'MPPT' && arrayW > 1.15 * mostW)
      add(
        'note',
        `${path}.controller.current`,
        `${array.controller.currentA} A at the battery are about ${Math.round(mostW)} W: the rest of ${arrayW} W is cut off at noon`,
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
      'battery.chargeCurrent',
      `chargers can give ${atOnceA.toFixed(0)} A together, more than the ${battery.maxChargeA.toFixed(0)} A that the battery may take`,
    );
  if (mains && mains.currentA > battery.maxChargeA * 1.01)
    add(
      'caution',
      'mains.current',
      `${mains.currentA} A are more than the ${battery.maxChargeA.toFixed(0)} A that the battery may take`,
    );
  if (alternator?.charger.kind === 'relay' && battery.chemistry === 'LFP')
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
  if (capacityAh > 0 && battery.chemistry !== 'LFP' && atOnceA > 0 && atOnceA < 0.05 * capacityAh)
    add(
      'note',
      'solar',
      `all charging together is under ${percent(0.05)} of the capacity per hour: a lead-acid battery will rarely be filled`,
    );
  return findings;
}

/** Whether the fridge's own cut-out acts while the battery still has charge: the thin-cable fault. */
function fridgeFindings(rig: Rig, load: FridgeLoad, index: number): Finding[] {
  const { battery } = rig;
  const lowestSoc = battery.disconnect.kind === 'soc' ? battery.disconnect.soc : battery.floor;
  const atSoc = cutOutSoc(battery, load);
  if (atSoc === undefined || atSoc <= lowestSoc + 0.01) return [];
  const fridge = fridgeModel(load, `loads[${index}]`);
  const amps = currentForPowerA(compressorElectricW(fridge, HOT_ROOM_C), 12, circuitLoopOhm(load.cable, 30));
  const dropV = amps * circuitLoopOhm(load.cable, 30);
  return [
    {
      level: 'caution',
      path: `loads[${index}].cable`,
      text: `${load.name} switches itself off when the battery is down to ${percent(atSoc)}: while it runs ${dropV.toFixed(2)} V are lost on the way and it sees its cut-out of ${load.cutOutV} V early`,
    },
  ];
}

/** Highest state of charge at which the fridge sees its cut-out while running in a hot room; undefined = never. */
export function cutOutSoc(battery: Battery, load: FridgeLoad): number | undefined {
  const model = batteryModel(battery);
  const runW = compressorElectricW(fridgeModel(load), HOT_ROOM_C);
  const ohm = circuitLoopOhm(load.cable, 30);
  const mainOhm = circuitLoopOhm(battery.cable, 30);
  for (let percentSoc = 100; percentSoc >= 0; percentSoc--) {
    const soc = percentSoc / 100;
    const inner = tableAt(model.dischargeOhm, soc) + mainOhm + ohm;
    const ocvV = ocvAt(model, soc);
    const under = ocvV * ocvV - 4 * inner * runW;
    if (under <= 0) return soc;
    const amps = (ocvV - Math.sqrt(under)) / (2 * inner);
    if (ocvV - amps * inner < load.cutOutV) return soc;
  }
  return undefined;
}

function inverterFindings({ inverter, battery, loads }: Rig): Finding[] {
  if (!inverter) return [];
  const findings: Finding[] = [];
  const nominalV = battery.nominalV * battery.series;
  const fullA = inverter.ratingW / inverter.efficiency / nominalV;
  if (fullA > battery.maxDischargeA)
    findings.push({
      level: 'caution',
      path: 'inverter.rating',
      text: `at full load it takes ${fullA.toFixed(0)} A, more than the ${battery.maxDischargeA.toFixed(0)} A that the battery may give`,
    });
  const behind = loads.filter((load) => load.kind === 'scheduled' && load.inverter);
  if (behind.length === 0)
    findings.push({
      level: 'note',
      path: 'inverter',
      text: `no load is behind it, yet it takes ${(inverter.standbyW * 24).toFixed(0)} Wh a day when left on`,
    });
  else if (inverter.on === 'always')
    findings.push({
      level: 'note',
      path: 'inverter.on',
      text: `left on it takes ${(inverter.standbyW * 24).toFixed(0)} Wh a day by itself: "on: with loads" if you switch it off after use`,
    });
  return findings;
}

function percent(share: number): string {
  return `${Math.round(100 * share)} %`;
}
