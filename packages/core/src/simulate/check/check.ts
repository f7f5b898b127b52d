import { isLead, type Rig, type Trip } from '../../rig/index.js';
import { circuits } from '../../wire/index.js';
import { chargingFindings } from './check-charging.js';
import { controllerFindings } from './check-controller.js';
import { fridgeFindings } from './check-fridge.js';
import type { Finding } from './finding.js';

const RANK = { danger: 0, caution: 1, note: 2 } as const;

/**
 * What is dangerous, silly or worth knowing in a rig, gravest first. Pure; the rig was already read without errors.
 * @param trip what of it the rig cannot make use of is told too
 */
export function checkRig(rig: Rig, trip?: Trip): Finding[] {
  const findings = [
    ...wireFindings(rig),
    ...batteryFindings(rig),
    ...chargingFindings(rig),
    ...controllerFindings(rig),
    ...rig.loads.flatMap((load, k) =>
      load.kind === 'fridge' && !load.starterSide ? fridgeFindings(rig, load, k) : [],
    ),
    ...inverterFindings(rig),
    ...(trip ? tripFindings(rig, trip) : []),
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
  const lead = isLead(chemistry);
  if (!lead && battery.chargeMinC < 0)
    add(
      'danger',
      'battery.noChargeBelow',
      `${chemistry} cells are damaged by charging below 0 °C, and can become unsafe: set it to 0 degC or above`,
    );
  if (!lead && stands !== 'cabin' && !battery.heater)
    add(
      'caution',
      'battery.stands',
      `standing ${stands === 'outside' ? 'outside' : 'in the engine bay'} it follows the weather: below 0 °C it takes no charge, and heat ages it; a heater or a place in the cabin mends the first`,
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
  else if (lead && stands === 'cabin')
    add(
      'note',
      'battery.stands',
      'sealed lead-acid can still vent hydrogen when overcharged: give its space an opening to the outside',
    );
  if (lead && battery.floor < 0.5)
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
  findings.push({
    level: 'note',
    path: 'inverter',
    text: 'what comes out of it is mains voltage, which can kill: a licensed person puts in its sockets, with a residual-current device',
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

/** What a trip offers and the rig cannot take. */
function tripFindings(rig: Rig, { stops }: Trip): Finding[] {
  const findings: Finding[] = [];
  const onMains = stops.findIndex((stop) => stop.mainsH > 0);
  if (!rig.mains && onMains >= 0)
    findings.push({
      level: 'caution',
      code: 'mains_without_charger',
      path: `stops[${onMains}].mains`,
      text: 'the trip plugs in, but the rig has no mains charger: nothing is charged then; if there is one, add it to the rig, such as mains: { current: 20 A }',
    });
  const drive = stops.findIndex((stop) => stop.driveH > 0);
  if (!rig.alternator && drive >= 0)
    findings.push({
      level: 'note',
      code: 'drive_without_alternator',
      path: `stops[${drive}].drive`,
      text: 'the trip drives, but the rig has no alternator: driving charges nothing; if it does, add alternator to the rig',
    });
  return findings;
}

function percent(share: number): string {
  return `${Math.round(100 * share)} %`;
}
