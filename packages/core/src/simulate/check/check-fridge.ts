import { batteryModel, dischargeSagV, ocvAt, tableAt } from '../../battery/index.js';
import { compressorElectricW, fridgeModel, mostWhPerDay, roomCop } from '../../load/index.js';
import type { Battery, FridgeLoad, Rig } from '../../rig/index.js';
import { AMPACITY_A, CONDUCTOR_C, circuitLoopOhm, circuits } from '../../wire/index.js';
import type { Finding } from './finding.js';

/** A room that fridges meet in summer, for the question whether the cable lets them run [°C]. */
const HOT_ROOM_C = 32;
/** The search goes by whole percents. */
const ROUNDING_SOC = 0.01;

/** Set so much colder than it was rated, a fridge may have been rated otherwise than is taken [K]. */
const ELSEWHERE_K = 10;

/** What is to be known of a fridge: its data sheet against itself, its rooms, and its cut-out. */
export function fridgeFindings(rig: Rig, load: FridgeLoad, index: number): Finding[] {
  return [...ratedFindings(load, index), ...zoneFindings(load, index), ...cutOutFindings(rig, load, index)];
}

function ratedFindings(load: FridgeLoad, index: number): Finding[] {
  const { name, rated, setpointC, compressorW } = load;
  if (!rated) return [];
  const path = `loads[${index}].rated`;
  const findings: Finding[] = [];
  const points = [rated, ...(rated.also ?? [])].toSorted((a, b) => a.ambientC - b.ambientC);
  const beyond = points.find(({ energyWhPerDay, ambientC }) => energyWhPerDay > mostWhPerDay(load, ambientC));
  if (beyond)
    findings.push({
      level: 'caution',
      path,
      code: 'fridge_rated_beyond_compressor',
      args: {
        name,
        ratedWh: beyond.energyWhPerDay,
        maxWh: mostWhPerDay(load, beyond.ambientC),
        ambientC: beyond.ambientC,
        compressorW,
      },
    });
  const falls = points.findIndex((point, k) => k > 0 && point.energyWhPerDay < points[k - 1]!.energyWhPerDay);
  if (falls > 0) {
    const [cool, warm] = [points[falls - 1]!, points[falls]!];
    findings.push({
      level: 'caution',
      path,
      code: 'fridge_rated_falls',
      args: {
        name,
        coolC: cool.ambientC,
        coolWh: cool.energyWhPerDay,
        warmC: warm.ambientC,
        warmWh: warm.energyWhPerDay,
      },
    });
  }
  if (rated.insideC - setpointC > ELSEWHERE_K) {
    const { ambientC, insideC, energyWhPerDay } = rated;
    const model = fridgeModel(load);
    const across = model.rooms.reduce((sum, room) => sum + room.uaWPerK * (ambientC - room.setpointC), 0);
    const setWh = 24 * (across / (1 - load.cover) / roomCop(model, ambientC) + load.standbyW);
    findings.push({
      level: 'caution',
      path,
      code: 'fridge_rated_elsewhere',
      args: { name, ratedWh: energyWhPerDay, ambientC, insideC, setpointC, setWh, maxWh: mostWhPerDay(load, ambientC) },
    });
  }
  return findings;
}

function zoneFindings({ name, volumeL, setpointC, secondZone }: FridgeLoad, index: number): Finding[] {
  if (!secondZone) return [];
  const args = { name, firstL: volumeL, firstC: setpointC, secondL: secondZone.volumeL, secondC: secondZone.setpointC };
  return [{ level: 'note', path: `loads[${index}].secondZone`, code: 'fridge_two_zones', args }];
}

/** Whether the fridge's own cut-out acts while the battery still has charge: the thin-cable fault. */
function cutOutFindings(rig: Rig, load: FridgeLoad, index: number): Finding[] {
  const { battery } = rig;
  const minSoc = (battery.disconnect.kind === 'soc' ? battery.disconnect.soc : battery.floor) + ROUNDING_SOC;
  const seen = cutOut(battery, load);
  if (!seen || seen.soc <= minSoc) return [];
  const { cable } = load;
  const thicker =
    cable &&
    AMPACITY_A.map(([sectionMm2]) => sectionMm2)
      .filter((sectionMm2) => sectionMm2 > cable.sectionMm2)
      .find((sectionMm2) => {
        const { gaugeAwg: _, ...plain } = cable;
        const after = cutOut(battery, { ...load, cable: { ...plain, sectionMm2 } });
        return !after || after.soc <= minSoc;
      });
  // What keeps it running may still lose more than practice allows: one figure, the larger, is said.
  const practice = circuits(rig).find(({ path }) => path === `loads[${index}].cable`)?.adviseMm2 ?? 0;
  return [
    {
      level: 'caution',
      path: `loads[${index}].cable`,
      code: 'fridge_cut_out_early',
      args: {
        name: load.name,
        soc: seen.soc,
        dropV: seen.dropV,
        cutOutV: load.cutOutV,
        ...(thicker !== undefined && { sectionMm2: Math.max(thicker, practice) }),
      },
    },
  ];
}

/** Highest state of charge at which the fridge, running in a hot room, sees its cut-out; undefined = never. */
function cutOut(battery: Battery, load: FridgeLoad): { soc: number; dropV: number } | undefined {
  const model = batteryModel(battery);
  const runW = compressorElectricW(load, HOT_ROOM_C);
  const mainOhm = circuitLoopOhm(battery.cable, CONDUCTOR_C);
  const ohm = circuitLoopOhm(load.cable, CONDUCTOR_C);
  for (let percentSoc = 100; percentSoc >= 0; percentSoc--) {
    const soc = percentSoc / 100;
    const inner = tableAt(model.dischargeOhm, soc) + mainOhm + ohm;
    const ocvV = ocvAt(model, soc) - dischargeSagV(model, soc, runW / ocvAt(model, soc));
    // Past its most power the run cannot be fed at all: the current of that power stands for it.
    const root = Math.sqrt(Math.max(0, ocvV * ocvV - 4 * inner * runW));
    const amps = (ocvV - root) / (2 * inner);
    if (root === 0 || ocvV - amps * inner < load.cutOutV) return { soc, dropV: amps * ohm };
  }
  return undefined;
}
