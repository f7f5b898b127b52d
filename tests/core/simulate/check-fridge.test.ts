import { checkRig, type FindingArgs, type Rig, readRig } from '@stayput/core';
import { batteryModel, type CircuitFindingArgs } from '@stayput/core/model';
import { describe, expect, test } from 'vitest';
import { ocvAt, tableAt } from '../../../packages/core/src/battery/index.js';

/** IEC 60228 class 5 at 20 °C [Ω/km]. */
const OHM_PER_KM: Readonly<Record<number, number>> = { 0.75: 26, 1: 19.5, 1.5: 13.3, 2.5: 7.98, 4: 4.95, 35: 0.554 };
const loopOhm = (lengthM: number, mm2: number) => ((2 * lengthM * OHM_PER_KM[mm2]!) / 1000) * (264.5 / 254.5);

interface Wiring {
  readonly cutOutV?: number;
  readonly mm2?: number;
  readonly lengthM?: number;
  readonly main?: boolean;
}
/** The compressor takes 45 W in a room of 25 °C; power while running rises by 0.75 % a kelvin (DESIGN of the fridge). */
const rigOf = ({ cutOutV = 11.6, mm2 = 1, lengthM = 8, main = false }: Wiring) =>
  readRig(`
battery: { chemistry: AGM, capacity: 100 Ah, floor: 50 %, disconnect: 40 %, reconnect: 45 %${main ? ', cable: { length: 2 m, section: 35 mm2 }' : ''} }
loads:
  - { name: lamp, power: 1 W }
  - { name: fridge, kind: fridge, volume: 40 L, setpoint: 4 degC, compressor: 45 W, cutOut: ${cutOutV} V, cutIn: ${cutOutV + 1} V, cable: { length: ${lengthM} m, section: ${mm2} mm2 } }`)
    .rig;
const found = (rig: Rig) => checkRig(rig).filter(({ code }) => code === 'fridge_cut_out_early');
const argsOf = (rig: Rig) => found(rig)[0]!.args as FindingArgs['fridge_cut_out_early'];

/** Volts at the fridge and lost in its cable at a charge, by repeated substitution into I = P / (V − I · R). */
function running({ battery }: Rig, soc: number, cableOhm: number, mainOhm: number) {
  const model = batteryModel(battery);
  const ohm = tableAt(model.dischargeOhm, soc) + cableOhm + mainOhm;
  const runW = 45 * (1 + 0.0075 * (32 - 25));
  let amps = 0;
  for (let k = 0; k < 200; k++) amps = runW / (ocvAt(model, soc) - amps * ohm);
  return { seenV: ocvAt(model, soc) - amps * ohm, dropV: amps * cableOhm };
}
const TERMINALS_OHM = 0.002;

describe('a fridge that cuts out while there is charge left', () => {
  test.each<[string, Wiring]>([
    ['by a thin cable', { cutOutV: 10.9 }],
    ['by a long one', { cutOutV: 10.9, mm2: 1.5, lengthM: 14 }],
    ['by its own cable and the main one', { main: true, mm2: 1.5, lengthM: 10 }],
    ['by its cut-out', { cutOutV: 12, mm2: 4 }],
  ])('%s is told with the highest charge at which it does, and the drop then', (_why, wiring) => {
    const { cutOutV = 11.6, mm2 = 1, lengthM = 8, main = false } = wiring;
    const rig = rigOf(wiring);
    const [finding, ...others] = found(rig);
    expect(others).toEqual([]);
    expect(finding).toMatchObject({ level: 'caution', path: 'loads[1].cable' });
    expect(finding!.args).toMatchObject({ name: 'fridge', cutOutV });
    const { soc, dropV } = argsOf(rig);
    const percent = Math.round(100 * soc);
    const at = (whole: number) =>
      running(rig, whole / 100, loopOhm(lengthM, mm2), main ? Math.max(TERMINALS_OHM, loopOhm(2, 35)) : TERMINALS_OHM);
    expect(at(percent).seenV).toBeLessThan(cutOutV);
    expect(at(percent + 1).seenV).toBeGreaterThanOrEqual(cutOutV);
    expect(dropV).toBeCloseTo(at(percent).dropV, 1.9);
  });

  test('so low a charge that the battery is cut off anyway is not told: within a percent of the disconnect', () => {
    // the cut-out at which the fridge stops at this charge and not a percent above it
    const cutOutAt = (percent: number) => {
      const rig = rigOf({ mm2: 1 });
      const [at, above] = [percent, percent + 1].map((p) => running(rig, p / 100, loopOhm(8, 1), TERMINALS_OHM).seenV);
      return Number(((at! + above!) / 2).toFixed(4));
    };
    expect(found(rigOf({ cutOutV: cutOutAt(41) }))).toEqual([]);
    expect(argsOf(rigOf({ cutOutV: cutOutAt(42) })).soc).toBe(0.42);
  });

  test('of a disconnect by voltage the floor stands for the charge', () => {
    const byVoltage = (cutOutV: number) =>
      found(
        readRig(`
battery: { chemistry: AGM, capacity: 100 Ah, floor: 50 %, disconnect: 11 V, reconnect: 12.6 V }
loads: [{ name: fridge, kind: fridge, volume: 40 L, setpoint: 4 degC, compressor: 45 W, cutOut: ${cutOutV} V, cutIn: 12.7 V, cable: { length: 8 m, section: 1 mm2 } }]`)
          .rig,
      );
    const rig = rigOf({});
    const seenV = (percent: number) => running(rig, percent / 100, loopOhm(8, 1), TERMINALS_OHM).seenV;
    expect(byVoltage(Number(((seenV(51) + seenV(52)) / 2).toFixed(4)))).toEqual([]);
    expect(byVoltage(Number(((seenV(52) + seenV(53)) / 2).toFixed(4)))).toMatchObject([
      { path: 'loads[0].cable', args: { soc: 0.52 } },
    ]);
  });

  test('is not told of one with a thick cable, nor of one on the starter battery', () => {
    expect(found(rigOf({ cutOutV: 10.4, mm2: 4, lengthM: 2 }))).toEqual([]);
    const rig = rigOf({});
    const loads = rig.loads.map((load) => ({ ...load, starterSide: true }));
    expect(found({ ...rig, loads })).toEqual([]);
  });
});

describe('what cures it', () => {
  const withCable = (rig: Rig, cable: object): Rig => ({
    ...rig,
    loads: rig.loads.map((load) => (load.kind === 'fridge' ? { ...load, cable: { ...load.cable!, ...cable } } : load)),
  });

  test('is the thinnest thicker section that keeps it running, or what practice asks, whichever is more', () => {
    const rig = rigOf({ mm2: 0.75, lengthM: 6, cutOutV: 11.2 });
    const advised = argsOf(rig).sectionMm2!;
    const keeps = (sectionMm2: number) => found(withCable(rig, { sectionMm2 })).length === 0;
    const ofCable = checkRig(rig).find(({ code }) => code === 'drop_too_large' || code === 'start_voltage_low')!;
    const practice = (ofCable.args as CircuitFindingArgs).adviseMm2!;
    const thinnest = [1, 1.5, 2.5, 4, 6, 10, 16, 25].find(keeps)!;
    expect(advised).toBe(Math.max(thinnest, practice));
    expect(keeps(advised)).toBe(true);
  });

  test('a gauge is replaced by a section, whose own resistance counts', () => {
    const rig = withCable(rigOf({ lengthM: 9 }), { gaugeAwg: '18', sectionMm2: 0.8231 });
    const told = argsOf(rig).sectionMm2!;
    const { gaugeAwg: _, ...plain } = (rig.loads[1] as { cable: { gaugeAwg: string } }).cable;
    const loads = rig.loads.map((load) =>
      load.kind === 'fridge' ? { ...load, cable: { ...plain, sectionMm2: told } } : load,
    );
    expect(found({ ...rig, loads: loads as Rig['loads'] })).toEqual([]);
  });

  test('is no cable where the battery itself is too low for its cut-out, or where there is none to replace', () => {
    expect(argsOf(rigOf({ cutOutV: 12.4, mm2: 4, lengthM: 1 })).sectionMm2).toBeUndefined();
    const bare = readRig(`
battery: { chemistry: AGM, capacity: 100 Ah, floor: 50 %, disconnect: 40 %, reconnect: 45 % }
loads: [{ name: fridge, kind: fridge, volume: 40 L, setpoint: 4 degC, cutOut: 12.2 V, cutIn: 12.8 V }]`).rig;
    expect(argsOf(bare).sectionMm2).toBeUndefined();
  });
});

test('a cable that cannot feed the compressor at all is told at full charge, with half of the volts lost', () => {
  // 200 W through 15 m of 0.75 mm²: at 25.6 V no more than V² / 4R = 195 W arrive; half the voltage is above the cut-out
  const rig = readRig(`
battery: { chemistry: LFP, capacity: 100 Ah, series: 2 }
loads: [{ name: fridge, kind: fridge, volume: 40 L, setpoint: 4 degC, compressor: 220 W, cutOut: 9 V, cutIn: 10 V, cable: { length: 15 m, section: 0.75 mm2 } }]`).rig;
  const { soc, dropV } = argsOf(rig);
  expect(soc).toBe(1);
  expect(dropV).toBeGreaterThan(12.5);
  expect(dropV).toBeLessThan(13.6);
});
