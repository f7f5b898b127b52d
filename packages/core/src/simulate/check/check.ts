import { isLead, type Rig, requireSound, type Trip } from '../../rig/index.js';
import { type Circuit, circuits } from '../../wire/index.js';
import { overloads } from '../inputs/overload.js';
import { chargingFindings } from './check-charging.js';
import { controllerFindings } from './check-controller.js';
import { fridgeFindings } from './check-fridge.js';
import type { Finding } from './finding.js';

const RANK = { danger: 0, caution: 1, note: 2 } as const;

/**
 * What is dangerous, silly or worth knowing in a rig, gravest first. Pure; the rig was already read without errors.
 * @param trip what of it the rig cannot make use of is found too
 */
export function checkRig(rig: Rig, trip?: Trip): Finding[] {
  requireSound('checkRig', 'rig', rig);
  if (trip !== undefined) requireSound('checkRig', 'trip', trip);
  const findings = [
    ...wireFindings(rig),
    ...batteryFindings(rig),
    ...chargingFindings(rig),
    ...controllerFindings(rig),
    ...rig.loads.flatMap((load, k) =>
      load.kind === 'fridge' && !load.starterSide ? fridgeFindings(rig, load, k) : [],
    ),
    ...inverterFindings(rig),
    ...overloadFindings(rig),
    ...(trip ? tripFindings(rig, trip) : []),
  ];
  return findings.sort((a, b) => RANK[a.level] - RANK[b.level]);
}

function wireFindings(rig: Rig): Finding[] {
  const all = circuits(rig);
  const findings = all.filter(({ lengthM }) => lengthM !== null).flatMap(circuitFinding);
  const without = all.filter((circuit) => circuit.lengthM === null).map((circuit) => circuit.name);
  if (without.length > 0)
    findings.push({ level: 'note', path: '', code: 'no_cable_given', args: { circuits: without } });
  return findings;
}

function circuitFinding(circuit: Circuit): Finding[] {
  const { level, path, faults, name, sectionMm2, adviseMm2, adviseAwg, remark } = circuit;
  const gravest = faults.find((fault) => fault.level === level);
  if (level === 'ok' || !gravest) return [];
  const args = {
    name,
    faults,
    sectionMm2,
    adviseMm2,
    ...(adviseAwg !== undefined && { adviseAwg }),
    ...(remark && { remark }),
  };
  return [{ level, path, code: gravest.code, args }];
}

function batteryFindings({ battery, loads }: Rig): Finding[] {
  const findings: Finding[] = [];
  const { chemistry, stands } = battery;
  const lead = isLead(chemistry);
  const { chargeMinC } = battery;
  if (!lead && !(chargeMinC !== undefined && chargeMinC >= 0))
    findings.push({
      level: 'danger',
      path: 'battery.noChargeBelow',
      code: 'charge_below_freezing',
      args: { chemistry, ...(chargeMinC !== undefined && { chargeMinC }) },
    });
  const path = 'battery.stands';
  if (!lead && stands !== 'cabin' && !battery.heater)
    findings.push({ level: 'caution', path, code: 'battery_in_weather', args: { mounted: stands } });
  if (stands === 'engine bay') findings.push({ level: 'caution', path, code: 'battery_in_engine_bay', args: {} });
  if (chemistry === 'flooded' && stands === 'cabin')
    findings.push({ level: 'danger', path, code: 'hydrogen', args: {} });
  else if (lead && stands === 'cabin')
    findings.push({ level: 'note', path, code: 'hydrogen_when_overcharged', args: {} });
  if (lead && battery.floor < 0.5)
    findings.push({
      level: 'caution',
      path: 'battery.floor',
      code: 'floor_low_for_lead',
      args: { floor: battery.floor },
    });
  const { disconnect, reconnect, floor } = battery;
  if (disconnect.kind === 'soc' && disconnect.soc > floor)
    findings.push({
      level: 'caution',
      path: 'battery.disconnect',
      code: 'disconnect_above_floor',
      args: { disconnect: disconnect.soc, floor },
    });
  const volts = (12 * battery.nominalV * battery.series) / 144;
  if (
    disconnect.kind === 'voltage' &&
    reconnect.kind === 'voltage' &&
    reconnect.voltageV - disconnect.voltageV < 0.3 * volts
  )
    findings.push({
      level: 'caution',
      path: 'battery.reconnect',
      code: 'reconnect_close',
      args: { aboveV: reconnect.voltageV - disconnect.voltageV, nominalV: battery.nominalV * battery.series },
    });
  if (battery.cable && battery.cable.fuseA === undefined)
    findings.push({ level: 'caution', path: 'battery.cable.fuse', code: 'battery_fuse_not_named', args: {} });
  if (loads.length === 0) findings.push({ level: 'note', path: 'loads', code: 'no_loads', args: {} });
  return findings;
}

/** A load that alone is too much fails each time it runs; several only where they happen to meet. */
function overloadFindings(rig: Rig): Finding[] {
  return overloads(rig).map((overload) => {
    const [first] = overload.args.names;
    const isAlone = overload.args.names.length === 1;
    const always = overload.code !== 'battery_overload' || overload.args.fromSoc === 1;
    const path = `loads[${rig.loads.findIndex(({ name }) => name === first)}]`;
    return { level: isAlone && always ? 'danger' : 'caution', path, ...overload };
  });
}

function inverterFindings({ inverter, battery, loads }: Rig): Finding[] {
  if (!inverter) return [];
  const findings: Finding[] = [];
  const nominalV = battery.nominalV * battery.series;
  const fullA = inverter.ratingW / inverter.efficiency / nominalV;
  const { maxDischargeA } = battery;
  if (maxDischargeA !== undefined && fullA > maxDischargeA)
    findings.push({
      level: 'caution',
      path: 'inverter.rating',
      code: 'inverter_above_battery',
      args: { fullA, maxDischargeA },
    });
  findings.push({ level: 'note', path: 'inverter', code: 'inverter_mains_voltage', args: {} });
  const behind = loads.filter((load) => load.kind === 'scheduled' && load.inverter);
  const args = { whPerDay: inverter.standbyW * 24 };
  if (behind.length === 0) findings.push({ level: 'note', path: 'inverter', code: 'inverter_without_loads', args });
  else if (inverter.on === 'always')
    findings.push({ level: 'note', path: 'inverter.on', code: 'inverter_always_on', args });
  return findings;
}

/** What a trip offers and the rig cannot take. */
function tripFindings(rig: Rig, { stops }: Trip): Finding[] {
  const findings: Finding[] = [];
  const onMains = stops.findIndex((stop) => stop.mainsH > 0);
  if (!rig.mains && onMains >= 0)
    findings.push({ level: 'caution', path: `stops[${onMains}].mains`, code: 'mains_without_charger', args: {} });
  const drive = stops.findIndex((stop) => stop.driveH > 0);
  if (!rig.alternator && drive >= 0)
    findings.push({ level: 'note', path: `stops[${drive}].drive`, code: 'drive_without_alternator', args: {} });
  return findings;
}
