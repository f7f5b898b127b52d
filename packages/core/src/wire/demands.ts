import { inverterInputW, peakDraw } from '../load/index.js';
import type { Cable, Load, Rig, SolarArray } from '../rig/index.js';
import { cellTemperatureC, genericDatasheet, PWM_DROP_V, stringWorkingV } from '../solar/index.js';
import { type CircuitDemand, CRITICAL_DROP, ORDINARY_DROP } from './advise.js';
import type { CircuitRemark } from './circuit-findings.js';
import { CONDUCTOR_C, circuitLoopOhm } from './conductor.js';
import { relayCurrent } from './relay-current.js';

/** Air around cables in the living space on a hot day [°C]. Common practice, no source. */
export const CABIN_WIRE_C = 40;
/** Air around cables in engine spaces, as ABYC E-11 has it [°C]. */
export const ENGINE_WIRE_C = 50;

/** A cable close above a sunlit roof lies in air so much hotter than the outside. NEC 310.15(B)(2), 60 °F [K]. */
const ROOF_ABOVE_AIR_K = 33;

/** When a panel's working voltage is lowest: full sun on a hot day with hardly any wind. Common practice, no source. */
const HOT_DAY = { sunWm2: 1000, airC: 35, windMs: 1 } as const;

/** Air around cables on a sunlit roof on a hot day [°C]. */
export const ROOF_WIRE_C = HOT_DAY.airC + ROOF_ABOVE_AIR_K;

/** Air around the cables, where it is not the usual hot day's [°C]. */
export interface WireAir {
  readonly cabinC?: number;
  readonly engineC?: number;
  /** around panel cables on the roof */
  readonly roofC?: number;
}

/** Start-up current of a small compressor when the owner gives none [A]. Common practice: 10 A or so. */
export const FRIDGE_SURGE_A = 10;

/** A circuit of the rig before it is judged. */
export interface RigCircuit extends CircuitDemand {
  readonly name: string;
  /** where in the rig its cable stands */
  readonly path: string;
  readonly cable: Cable | undefined;
  /** read beside the figures */
  readonly remark?: CircuitRemark;
}

/** Every circuit of a rig, the battery's own first. Loads behind the inverter have no circuit at battery voltage. */
export function rigCircuits(rig: Rig, air: WireAir = {}): RigCircuit[] {
  const { cabinC = CABIN_WIRE_C, engineC = ENGINE_WIRE_C, roofC = ROOF_WIRE_C } = air;
  for (const [airC, maxC] of [
    [cabinC, 60],
    [engineC, 60],
    [roofC, 90],
  ] as const)
    if (!(airC >= -40 && airC <= maxC))
      throw new RangeError(`air around cables must be -40 to ${maxC} °C, got ${airC}`);
  const busV = rig.battery.nominalV * rig.battery.series;
  const loads = rig.loads.flatMap((load, i) =>
    load.kind === 'scheduled' && load.inverter
      ? []
      : [loadCircuit(load, `loads[${i}].cable`, load.starterSide ? 12 : busV, cabinC)],
  );
  const inverter = inverterCircuit(rig, busV, cabinC);
  const house = new Set(rig.loads.filter((load) => !load.starterSide).map((load) => load.name));
  const outA = sum([...loads.filter((c) => house.has(c.name)), ...inverter]);
  const charging = [
    ...rig.solar.flatMap((array, i) => solarCircuits(array, i, rig, cabinC, array.mount === 'ground' ? cabinC : roofC)),
    ...chargerCircuits(rig, cabinC, engineC, outA),
  ];
  const relay = relayCurrent(rig);
  // Chargers are set to what the battery takes; a relay limits nothing.
  const others = charging.filter(({ intoBattery, farV }) => intoBattery && farV === undefined);
  const inA = Math.min(sum(others), rig.battery.maxChargeA) + (relay?.currentA ?? 0);
  const main: RigCircuit = {
    name: 'battery main',
    path: 'battery.cable',
    cable: rig.battery.cable,
    sourceV: busV,
    currentA: Math.max(Math.min(outA, rig.battery.maxDischargeA ?? Infinity), inA),
    dropLimit: CRITICAL_DROP,
    ambientC: rig.battery.stands === 'engine bay' ? engineC : cabinC,
    remark: { code: 'fuse_at_battery', args: {} },
  };
  return [main, ...charging, ...inverter, ...loads];
}

function sum(circuits: readonly RigCircuit[]): number {
  return circuits.reduce((total, circuit) => total + circuit.currentA, 0);
}

/** Constant power, with the current it would take without any drop. */
function power(sourceV: number, powerW: number): { readonly powerW: number; readonly currentA: number } {
  return { powerW, currentA: powerW / sourceV };
}

function loadCircuit(load: Load, path: string, sourceV: number, cabinC: number): RigCircuit {
  const isFridge = load.kind === 'fridge';
  const draw = isFridge ? { kind: 'power' as const, value: load.compressorW + load.standbyW } : peakDraw(load);
  const surgeA = load.surgeA ?? (isFridge ? FRIDGE_SURGE_A : undefined);
  return {
    name: load.name,
    path,
    cable: load.cable,
    sourceV,
    ...(draw.kind === 'current' ? { currentA: draw.value } : power(sourceV, draw.value)),
    dropLimit: load.critical ? CRITICAL_DROP : ORDINARY_DROP,
    ambientC: cabinC,
    ...(surgeA !== undefined && { surgeA }),
    ...(isFridge && { minV: load.cutOutV }),
    ...(load.starterSide && { remark: { code: 'on_starter_battery' as const, args: {} } }),
  };
}

function inverterCircuit(rig: Rig, sourceV: number, cabinC: number): RigCircuit[] {
  const { inverter } = rig;
  if (!inverter) return [];
  return [
    {
      name: 'inverter',
      path: 'inverter.cable',
      cable: inverter.cable,
      sourceV,
      ...power(sourceV, inverterInputW(inverter, inverter.ratingW)),
      dropLimit: CRITICAL_DROP,
      ambientC: cabinC,
    },
  ];
}

interface ChargeCircuit extends RigCircuit {
  readonly intoBattery: boolean;
}

function solarCircuits(array: SolarArray, index: number, rig: Rig, cabinC: number, panelC: number): ChargeCircuit[] {
  const sheet = array.datasheet ?? genericDatasheet(array);
  const strings = array.count / array.series;
  const isPwm = array.controller.kind === 'PWM';
  const chargeV = array.controller.charge?.absorptionV ?? rig.battery.charge.absorptionV;
  const fullA = isPwm ? sheet.iscA * strings : (array.powerW * array.count) / chargeV;
  const outputA = Math.min(array.controller.currentA, fullA);
  const common = { dropLimit: CRITICAL_DROP, ambientC: cabinC };
  return [
    {
      ...common,
      name: `${array.name} panel`,
      path: `solar[${index}].cable`,
      cable: array.cable,
      ambientC: panelC,
      fuseLoadA: sheet.iscA * strings,
      intoBattery: false,
      ...(isPwm
        ? { currentA: outputA, ...pwmPanelDrop(array, chargeV) }
        : { currentA: sheet.impA * strings, sourceV: sheet.vmpV * array.series }),
    },
    {
      ...common,
      name: `${array.name} controller`,
      path: `solar[${index}].outputCable`,
      cable: array.outputCable,
      sourceV: chargeV,
      currentA: outputA,
      intoBattery: true,
      remark: { code: 'drop_delays_absorption', args: {} },
    },
  ];
}

/**
 * A PWM controller joins panel and battery: both carry the same current, and the panel stands at the battery's voltage and
 * whatever is lost between. Up to its working voltage a panel's current hardly falls, so a drop costs next to nothing as
 * long as the hot module still reaches the charging voltage; where it hardly does, each volt lost costs current.
 */
function pwmPanelDrop(array: SolarArray, chargeV: number): Pick<RigCircuit, 'sourceV' | 'dropLimit' | 'remark'> {
  const hotC = cellTemperatureC(array.mount, HOT_DAY.sunWm2, HOT_DAY.airC, HOT_DAY.windMs);
  const hotV = stringWorkingV(array, hotC);
  const neededV = chargeV + PWM_DROP_V;
  const sourceV = Math.max(hotV, neededV);
  const spare = 1 - neededV / sourceV;
  return {
    sourceV,
    dropLimit: Math.max(CRITICAL_DROP, spare),
    remark: {
      code: spare > CRITICAL_DROP ? 'pwm_voltage_to_spare' : 'pwm_voltage_scarce',
      args: { hotV, hotC, neededV },
    },
  };
}

/** @param outA what the house's loads take, which a relay feeds too [A] */
function chargerCircuits(rig: Rig, cabinC: number, engineC: number, outA: number): ChargeCircuit[] {
  const circuits: ChargeCircuit[] = [];
  const { alternator, mains } = rig;
  const chargeV = rig.battery.charge.absorptionV;
  const common = { dropLimit: CRITICAL_DROP, ambientC: cabinC };
  if (alternator) {
    const { charger, voltageV } = alternator;
    const relay = relayCurrent(rig);
    const joined = (own: Cable | undefined) =>
      relay && {
        currentA: Math.min(relay.leftA, relay.maxA + outA),
        besideA: outA,
        farV: relay.farV,
        restOhm: relay.batteryOhm + relay.wayOhm - circuitLoopOhm(own, CONDUCTOR_C),
      };
    const input =
      charger.kind === 'dcdc'
        ? power(voltageV, (charger.currentA * chargeV) / charger.efficiency)
        : joined(alternator.cable)!;
    const output = charger.kind === 'dcdc' ? { currentA: charger.currentA } : joined(alternator.outputCable)!;
    circuits.push(
      {
        ...common,
        name: 'alternator',
        path: 'alternator.cable',
        cable: alternator.cable,
        sourceV: voltageV,
        ...input,
        ambientC: engineC,
        intoBattery: false,
        remark: { code: 'fuse_at_both_ends', args: {} },
      },
      {
        ...common,
        name: 'alternator charger',
        path: 'alternator.outputCable',
        cable: alternator.outputCable,
        sourceV: charger.kind === 'dcdc' ? chargeV : voltageV,
        ...output,
        intoBattery: true,
      },
    );
  }
  if (mains)
    circuits.push({
      ...common,
      name: 'mains charger',
      path: 'mains.cable',
      cable: mains.cable,
      sourceV: mains.charge?.absorptionV ?? chargeV,
      currentA: mains.currentA,
      intoBattery: true,
    });
  return circuits;
}
