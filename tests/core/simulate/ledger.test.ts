import { batteryModel } from '@stayput/core/model';
import { describe, expect, test } from 'vitest';
import { storedWh } from '../../../packages/core/src/battery/index.js';
import { LOSS_PLACES, ledgerOf } from '../../../packages/core/src/simulate/ledger/ledger.js';
import { byHand } from './by-hand.js';

/** IEC 60228 class 5 at 20 °C, out and back, warmed to 30 °C. */
const loopOhm = (lengthM: number, ohmPerKm: number) => ((2 * lengthM * ohmPerKm) / 1000) * (264.5 / 254.5);
const OHM_PER_KM = { 1: 19.5, 4: 4.95, 10: 1.91 } as const;
/** The current of a constant power at the end of a cable: V · I = P + I² · R. */
const ampsFor = (powerW: number, volts: number, ohm: number) =>
  (volts - Math.sqrt(volts * volts - 4 * ohm * powerW)) / (2 * ohm);
const TRIP = `
weather: clear
startSoc: 50 %
stops: [{ at: [45, 10], from: 2026-06-10, nights: 1, drive: 2.25 h, mains: 3 h }]`;
/** A day of 48 steps of half an hour. */
const lay = (rig: string) => byHand(`name: invented\n${rig}`, TRIP);
const BATTERY = 'battery: { chemistry: LFP, capacity: 100 Ah }';
const LAMP = 'loads: [{ name: lamp, power: 1 W }]';
type Laid = ReturnType<typeof lay>;
const ledger = ({ assembled, out }: Laid) => ledgerOf(assembled, out);
const NOON = 24;

test('what is stored changes by what the battery holds at the end of a step less what it held before', () => {
  const laid = lay(`${BATTERY}\n${LAMP}`);
  laid.out.soc.fill(0.6, 0, 20).fill(0.55, 20);
  const { storedChangeWh } = ledger(laid);
  const model = batteryModel(laid.assembled.rig.battery);
  expect(storedChangeWh[0]).toBeCloseTo(storedWh(model, 0.6) - storedWh(model, 0.5), 9);
  expect(storedChangeWh[20]).toBeCloseTo(storedWh(model, 0.55) - storedWh(model, 0.6), 9);
  expect(storedChangeWh[19]).toBe(0);
  expect(storedChangeWh.reduce((sum, wh) => sum + wh, 0)).toBeCloseTo(storedWh(model, 0.55) - storedWh(model, 0.5), 9);
});

test('what the loop found lost in the battery and in its cable is recorded there', () => {
  const laid = lay(`${BATTERY}\n${LAMP}`);
  laid.out.batteryLossW[7] = 3;
  laid.out.mainLossW[7] = 2;
  const { lossW } = ledger(laid);
  expect(LOSS_PLACES.filter((place) => lossW[place][7] !== 0)).toEqual(
    expect.arrayContaining(['battery', 'batteryCable']),
  );
  expect([lossW.battery[7], lossW.batteryCable[7], lossW.battery[8]]).toEqual([3, 2, 0]);
});

describe('an MPPT array', () => {
  const rig = (more = '') => `${BATTERY}
solar: [{ name: roof, power: 200 W, controller: { kind: MPPT, current: 20 A, standby: 0.4 W }, cable: { length: 6 m, section: 4 mm2 } }${more}]
${LAMP}`;
  const laid = () => {
    const one = lay(rig());
    one.out.chargerW[NOON] = 60;
    one.out.chargerBusW[NOON] = 58.5;
    return one;
  };

  test('held back gives what its output takes: its cable loses I² R, its controller the rest before its terminals', () => {
    const one = laid();
    const { pvAvailableW, pvHarvestW, lossW } = ledger(one);
    const { columns } = one.assembled.solar[0]!;
    expect(pvAvailableW).toEqual(columns.availableW);
    const harvestW = pvHarvestW[NOON]!;
    expect(harvestW).toBeGreaterThan(60);
    expect(harvestW).toBeLessThan(pvAvailableW[NOON]!);
    expect(lossW.panelCable[NOON]).toBeCloseTo(
      (harvestW / columns.voltageV[NOON]!) ** 2 * loopOhm(6, OHM_PER_KM[4]),
      9,
    );
    expect(harvestW - lossW.panelCable[NOON]! - (lossW.solarController[NOON]! - 0.4)).toBeCloseTo(60, 9);
    // between 94 and 98 % (common practice)
    expect(60 / (60 + lossW.solarController[NOON]! - 0.4)).toBeGreaterThan(0.94);
    expect(lossW.controllerCable[NOON]).toBeCloseTo(1.5, 9);
  });

  test('at its most gives all there is, asleep nothing; by day and night its own draw is met while there is charge', () => {
    const one = laid();
    one.out.chargerW[NOON] = one.assembled.solar[0]!.maxOutputW[NOON]!;
    one.out.alwaysShare[2] = 0.5;
    const { pvAvailableW, pvHarvestW, lossW } = ledger(one);
    expect(pvHarvestW[NOON]).toBe(pvAvailableW[NOON]);
    expect(pvHarvestW[NOON + 1]).toBe(0);
    expect(lossW.panelCable[NOON + 1]).toBe(0);
    expect(lossW.solarController[NOON + 1]).toBeCloseTo(0.4, 12);
    expect(lossW.solarController[2]).toBeCloseTo(0.2, 12);
  });

  test('beside another is recorded with it, each with its own output', () => {
    const both = lay(
      rig(', { name: side, power: 100 W, tilt: 60 deg, controller: { kind: MPPT, current: 10 A, standby: 0 W } }'),
    );
    const { steps } = both.assembled.input;
    const [roof, side] = both.assembled.solar;
    both.out.chargerW[NOON] = roof!.maxOutputW[NOON]!;
    both.out.chargerW[steps + NOON] = 30;
    both.out.chargerBusW[steps + NOON] = 29;
    const { pvAvailableW, pvHarvestW, lossW } = ledger(both);
    const [roofW, sideW] = [roof!.columns.availableW[NOON]!, side!.columns.availableW[NOON]!];
    expect(pvAvailableW[NOON]).toBeCloseTo(roofW + sideW, 9);
    const ofSideW = pvHarvestW[NOON]! - roofW;
    expect(ofSideW).toBeGreaterThan(30);
    expect(ofSideW).toBeLessThan(33);
    const [outW, busW] = [roof!.maxOutputW[NOON]! + 30, 29];
    const lostW = lossW.panelCable[NOON]! + lossW.solarController[NOON]! + lossW.controllerCable[NOON]!;
    expect(pvHarvestW[NOON]! - busW).toBeCloseTo(lostW - 0.4, 9);
    expect(lossW.controllerCable[NOON]).toBeCloseTo(outW - busW, 9);
  });
});

test('a PWM controller loses what its switches drop at its current, the rest of what is lost before it is its cable’s', () => {
  const laid = lay(`${BATTERY}
solar: [{ name: roof, power: 100 W, controller: { kind: PWM, current: 10 A, standby: 0 W } }]
${LAMP}`);
  const { out } = laid;
  // 5 A at 13 V on the bus
  out.busV[NOON] = 13;
  out.chargerBusW[NOON] = 65;
  out.chargerW[NOON] = 66;
  out.arrayW[NOON] = 72;
  out.arrayAvailableW[NOON] = 80;
  // a hair of rounding: less at the array than its controller gives and drops
  out.busV[NOON + 1] = 13;
  out.chargerBusW[NOON + 1] = 65;
  out.chargerW[NOON + 1] = 66;
  out.arrayW[NOON + 1] = 66.1;
  const { pvAvailableW, pvHarvestW, lossW } = ledger(laid);
  const dropV = laid.assembled.input.pwmDropV;
  expect(dropV).toBeGreaterThan(0.05);
  expect([pvAvailableW[NOON], pvHarvestW[NOON]]).toEqual([80, 72]);
  expect(lossW.solarController[NOON]).toBeCloseTo(5 * dropV, 9);
  expect(lossW.controllerCable[NOON]).toBeCloseTo(1, 9);
  expect(lossW.panelCable[NOON]).toBeCloseTo(6 - 5 * dropV, 9);
  expect(lossW.panelCable[NOON + 1]).toBe(0);
  expect(lossW.solarController[NOON + 1]).toBeCloseTo(0.1, 9);
});

describe('an alternator', () => {
  const rig = (charger: string) => `${BATTERY}
solar: [{ power: 50 W }]
alternator: { rating: 120 A, voltage: 14.4 V, charger: ${charger}, cable: { length: 5 m, section: 10 mm2 } }
mains: { current: 20 A, efficiency: 80 % }
${LAMP}`;
  /** 10:00 to 12:15: the step of 12:00 runs for half of its time. */
  const HALF = 24;
  const laid = (charger: string) => {
    const one = lay(rig(charger));
    const { steps } = one.assembled.input;
    const lane = (j: number, step: number) => j * steps + step;
    one.out.chargerW[lane(1, HALF)] = 150;
    one.out.chargerBusW[lane(1, HALF)] = 147;
    one.out.chargerW[lane(2, 38)] = 200;
    one.out.chargerBusW[lane(2, 38)] = 196;
    return one;
  };

  test('through a DC-DC charger: it loses by its efficiency, its cable by the current while the engine runs', () => {
    const one = laid('{ kind: dcdc, current: 30 A, efficiency: 90 % }');
    expect(one.assembled.engine!.share[HALF]).toBeCloseTo(0.5, 12);
    const { alternatorW, lossW } = ledger(one);
    // while it runs 300 W, from 333.3 W at the end of the cable
    const amps = ampsFor(300 / 0.9, 14.4, loopOhm(5, OHM_PER_KM[10]));
    expect(alternatorW[HALF]).toBeCloseTo((14.4 * amps) / 2, 9);
    expect(lossW.alternatorCable[HALF]).toBeCloseTo((amps ** 2 * loopOhm(5, OHM_PER_KM[10])) / 2, 9);
    expect(lossW.dcdcCharger[HALF]).toBeCloseTo(150 / 9, 9);
    expect(lossW.dcdcCable[HALF]).toBeCloseTo(3, 9);
    expect([alternatorW[HALF + 1], lossW.alternatorCable[HALF + 1], lossW.dcdcCable[HALF + 1]]).toEqual([0, 0, 0]);
  });

  test('through a relay gives what goes in, and all that is lost is the cable’s', () => {
    const { alternatorW, lossW } = ledger(laid('{ kind: relay }'));
    expect([alternatorW[HALF], lossW.alternatorCable[HALF], lossW.dcdcCharger[HALF], lossW.dcdcCable[HALF]]).toEqual([
      150, 3, 0, 0,
    ]);
  });

  test('and mains beside it, which takes its output over its efficiency', () => {
    const { mainsW, lossW } = ledger(laid('{ kind: relay }'));
    expect(mainsW[38]).toBeCloseTo(250, 9);
    expect(lossW.mainsCharger[38]).toBeCloseTo(50, 9);
    expect(lossW.mainsCable[38]).toBeCloseTo(4, 9);
    expect([mainsW[39], lossW.mainsCharger[39], lossW.mainsCable[39]]).toEqual([0, 0, 0]);
  });
});

test('without engine and mains nothing is recorded for them, though other chargers run', () => {
  const laid = lay(`${BATTERY}\nsolar: [{ power: 200 W }]\n${LAMP}`);
  laid.out.chargerW[NOON] = 60;
  laid.out.chargerBusW[NOON] = 59;
  const { alternatorW, mainsW, lossW } = ledger(laid);
  expect([alternatorW, mainsW]).toEqual([new Float64Array(48), new Float64Array(48)]);
  expect(lossW.mainsCable[NOON]).toBe(0);
});

test('a heater of the battery takes its power while there is charge', () => {
  const laid = lay(
    `battery: { chemistry: LFP, capacity: 100 Ah, stands: outside, heater: { power: 60 W, below: 30 degC } }\n${LAMP}`,
  );
  laid.assembled.heaterW!.fill(60);
  laid.out.alwaysShare[5] = 0.25;
  const { batteryHeater } = ledger(laid).lossW;
  expect([batteryHeater[4], batteryHeater[5]]).toEqual([60, 15]);
});

describe('a load', () => {
  const withLoads = (loads: string) => {
    const one = lay(`${BATTERY}\nloads:\n${loads}`);
    one.out.busV.fill(12.5);
    return one;
  };

  test('of a power gets it while it is on, and its cable takes I² R on top', () => {
    const one = withLoads('  - { name: lamp, power: 60 W, cable: { length: 5 m, section: 4 mm2 } }');
    one.out.onShare[3] = 0.75;
    one.out.busV[3] = 12;
    const { loads, lossW } = ledger(one);
    const [lamp] = loads;
    expect([lamp!.servedW[0], lamp!.unservedW[0], lamp!.onShare[0]]).toEqual([60, 0, 1]);
    expect([lamp!.servedW[3], lamp!.unservedW[3], lamp!.onShare[3]]).toEqual([45, 15, 0.75]);
    const ohm = loopOhm(5, OHM_PER_KM[4]);
    // the loop's series leaves out 14 x⁴ of x = P R / V²
    const within = (watts: number, volts: number) => 14 * ((watts * ohm) / volts ** 2) ** 4 * watts * 2;
    expect(Math.abs(lossW.loadCables[0]! - ampsFor(60, 12.5, ohm) ** 2 * ohm)).toBeLessThan(within(60, 12.5));
    expect(Math.abs(lossW.loadCables[3]! - 0.75 * ampsFor(60, 12, ohm) ** 2 * ohm)).toBeLessThan(within(60, 12));
    expect(lamp!.lowestV).toBeCloseTo(12 - ampsFor(60, 12, ohm) * ohm, 4);
  });

  test('that runs for a part of the step is on for that part, with the cable’s loss of its whole power', () => {
    const one = withLoads('  - { name: pump, power: 60 W, hours: 12, cable: { length: 5 m, section: 4 mm2 } }');
    const { loads, lossW } = ledger(one);
    expect([loads[0]!.servedW[7], loads[0]!.onShare[7]]).toEqual([30, 0.5]);
    const ohm = loopOhm(5, OHM_PER_KM[4]);
    expect(lossW.loadCables[7]).toBeCloseTo(0.5 * ampsFor(60, 12.5, ohm) ** 2 * ohm, 3);
  });

  test('of a current gets what its cable leaves of the volts', () => {
    const one = withLoads('  - { name: pump, current: 4 A, cable: { length: 5 m, section: 1 mm2 } }');
    one.out.onShare[3] = 0.75;
    one.out.busV[3] = 12;
    const { loads, lossW } = ledger(one);
    const ohm = loopOhm(5, OHM_PER_KM[1]);
    const [pump] = loads;
    expect(pump!.servedW[0]).toBeCloseTo(4 * (12.5 - 4 * ohm), 9);
    expect(pump!.unservedW[0]).toBe(0);
    expect(pump!.servedW[3]).toBeCloseTo(0.75 * 4 * (12 - 4 * ohm), 9);
    expect(pump!.unservedW[3]).toBeCloseTo(0.25 * 4 * (12 - 4 * ohm), 9);
    expect(lossW.loadCables[0]).toBeCloseTo(16 * ohm, 9);
    expect(lossW.loadCables[3]).toBeCloseTo(0.75 * 16 * ohm, 9);
    expect(pump!.lowestV).toBeCloseTo(12 - 4 * ohm, 9);
    expect([pump!.onShare[0], pump!.onShare[3]]).toEqual([1, 0.75]);
  });

  test.each([
    ['power', '{ name: it, power: 10 W, when: "12:00 to 13:00" }'],
    ['current', '{ name: it, current: 1 A, when: "12:00 to 13:00" }'],
    ['charge', '{ name: it, power: "soc > 2 ? 1 : 10", when: "12:00 to 13:00" }'],
  ])('has no lowest voltage of steps in which it is off or cut off (by %s)', (_kind, load) => {
    const one = withLoads(`  - ${load}`);
    one.out.busV[30] = 11; // not its hour
    one.out.busV[25] = 11.5; // its hour, but cut off
    one.out.onShare[25] = 0;
    one.out.busV[24] = 12.25;
    const { lowestV } = ledger(one).loads[0]!;
    expect(lowestV).toBeGreaterThan(12.2);
    expect(lowestV).toBeLessThanOrEqual(12.25);
  });

  test('never on has no voltage at all, and an expression that asks for nothing is not on', () => {
    const one = withLoads('  - { name: fan, power: "max(0, cabin - 1000)" }\n  - { name: lamp, power: 10 W }');
    const [fan, lamp] = ledger(one).loads;
    expect(fan).toMatchObject({ lowestV: Infinity });
    expect([fan!.onShare[9], lamp!.onShare[9]]).toEqual([0, 1]);
  });

  test('that looks at the charge is served what it asked by the charge at the step’s beginning, while loads are connected', () => {
    const one = withLoads(`  - { name: wise, power: "soc > 0.4 ? 30 : 0", cable: { length: 0.2 m, section: 4 mm2 } }
  - { name: wiser, power: "soc > 0.6 ? 10 : 20" }`);
    one.out.soc.fill(0.7);
    one.out.onShare[1] = 0.5;
    one.out.onShare[2] = 0;
    // At 50 % of charge: 30 and 20; at 70 %: 30 and 10, half the time in the next step, not at all in the third.
    const [wise, wiser] = ledger(one).loads;
    expect([wise!.servedW[0], wiser!.servedW[0]]).toEqual([30, 20]);
    expect([wise!.servedW[1], wiser!.servedW[1]]).toEqual([15, 5]);
    expect([wise!.unservedW[1], wiser!.unservedW[1]]).toEqual([15, 5]);
    expect([wise!.servedW[2], wise!.unservedW[2], wiser!.unservedW[2]]).toEqual([0, 30, 10]);
    expect([wise!.servedW[3], wiser!.servedW[3]]).toEqual([30, 10]);
    expect([wise!.onShare[0], wise!.onShare[1], wise!.onShare[2]]).toEqual([1, 0.5, 0]);
    expect(wise!.lowestV).toBe(12.5);
  });

  test('that looks at the charge and asks for nothing, alone, is served nothing', () => {
    const one = withLoads('  - { name: wise, power: "soc > 0.9 ? 30 : 0" }');
    const [wise] = ledger(one).loads;
    expect([...wise!.servedW]).toEqual(Array(48).fill(0));
    expect(wise!.lowestV).toBe(Infinity);
  });
});

test('loads are told in the order of the rig, whatever their kind; those of the starter battery are not', () => {
  const laid = lay(`${BATTERY}
inverter: { rating: 300 W }
loads:
  - { name: fridge, kind: fridge, volume: 40 L, setpoint: 4 degC }
  - { name: winch, current: 50 A, starterSide: true }
  - { name: laptop, power: 60 W, inverter: true }
  - { name: lamp, power: 5 W }`);
  laid.out.busV.fill(13);
  expect(ledger(laid).loads.map(({ name }) => name)).toEqual(['fridge', 'laptop', 'lamp']);
});

describe('an inverter', () => {
  /** 12:00 to 14:00 the kettle asks for 300 W beside the laptop's 60 W, of which 200 W come out. */
  const laid = () => {
    const one = lay(`${BATTERY}
inverter: { rating: 200 W, standby: 6 W, on: always, cable: { length: 2 m, section: 10 mm2 } }
loads:
  - { name: kettle, power: 300 W, when: "12:00 to 14:00", inverter: true }
  - { name: laptop, power: 60 W, inverter: true }`);
    one.out.busV.fill(12.5);
    one.out.busV[25] = 12;
    return one;
  };

  test('serves no more than its rating, each load by what it asks', () => {
    const one = laid();
    one.out.onShare[25] = one.out.heavyOnShare[25] = 0.5;
    const [kettle, laptop] = ledger(one).loads;
    expect(kettle!.servedW[24]).toBeCloseTo((300 * 200) / 360, 9);
    expect(kettle!.unservedW[24]).toBeCloseTo((300 * 160) / 360, 9);
    expect(laptop!.servedW[24]).toBeCloseTo((60 * 200) / 360, 9);
    expect(laptop!.servedW[25]).toBeCloseTo((0.5 * 60 * 200) / 360, 9);
    expect(laptop!.unservedW[25]).toBeCloseTo(60 - (0.5 * 60 * 200) / 360, 9);
    expect([laptop!.servedW[23], laptop!.unservedW[23]]).toEqual([60, 0]);
    expect([kettle!.servedW[23], kettle!.unservedW[23], kettle!.onShare[23]]).toEqual([0, 0, 0]);
    expect([kettle!.onShare[24], kettle!.onShare[25], laptop!.onShare[25]]).toEqual([1, 0.5, 0.5]);
  });

  test('loses what it takes and does not give, and its cable I² R of that', () => {
    const one = laid();
    one.out.onShare[3] = one.out.heavyOnShare[3] = 0.5;
    const { lossW, loads } = ledger(one);
    const { inputW } = one.assembled.inverter!.columns;
    const ohm = loopOhm(2, OHM_PER_KM[10]);
    expect(lossW.inverter[24]).toBeCloseTo(inputW[24]! - 200, 9);
    expect(lossW.inverter[2]).toBeCloseTo(inputW[2]! - 60, 9);
    expect(lossW.inverter[3]).toBeCloseTo((inputW[3]! - 60) / 2, 9);
    expect(lossW.loadCables[24]).toBeCloseTo(ampsFor(inputW[24]!, 12.5, ohm) ** 2 * ohm, 4);
    expect(lossW.loadCables[3]).toBeCloseTo((ampsFor(inputW[3]!, 12.5, ohm) ** 2 * ohm) / 2, 4);
    expect(loads[0]!.lowestV).toBeCloseTo(12 - ampsFor(inputW[25]!, 12, ohm) * ohm, 4);
  });

  test('with nothing behind it has no lowest voltage; cut off neither', () => {
    const idle = lay(`${BATTERY}
inverter: { rating: 200 W, on: always }
loads: [{ name: kettle, power: 100 W, when: "12:00 to 13:00", inverter: true }]`);
    idle.out.busV.fill(11);
    idle.out.busV[24] = 13;
    idle.out.onShare[25] = idle.out.heavyOnShare[25] = 0;
    const { lowestV, servedW, unservedW } = ledger(idle).loads[0]!;
    expect([servedW[0], unservedW[0]]).toEqual([0, 0]);
    expect(lowestV).toBeGreaterThan(12.9);
    expect(lowestV).toBeLessThan(13);
  });
});

test('an inverter’s cable is recorded beside those of other loads', () => {
  const laid = lay(`${BATTERY}
inverter: { rating: 200 W, standby: 6 W, on: always, cable: { length: 2 m, section: 10 mm2 } }
loads:
  - { name: lamp, power: 60 W, cable: { length: 5 m, section: 4 mm2 } }
  - { name: pump, current: 4 A, cable: { length: 5 m, section: 1 mm2 } }
  - { name: laptop, power: 60 W, inverter: true }
  - { name: fridge, kind: fridge, volume: 40 L, setpoint: 4 degC }`);
  laid.out.busV.fill(12.5);
  laid.out.fridgeW.fill(40);
  laid.out.fridgeBusW.fill(41);
  const takenW = laid.assembled.inverter!.columns.inputW[0]!;
  const joule = (amps: number, ohm: number) => amps ** 2 * ohm;
  expect(ledger(laid).lossW.loadCables[0]).toBeCloseTo(
    joule(ampsFor(60, 12.5, loopOhm(5, OHM_PER_KM[4])), loopOhm(5, OHM_PER_KM[4])) +
      joule(4, loopOhm(5, OHM_PER_KM[1])) +
      joule(ampsFor(takenW, 12.5, loopOhm(2, OHM_PER_KM[10])), loopOhm(2, OHM_PER_KM[10])) +
      1,
    3,
  );
});

describe('a fridge', () => {
  const laid = () => {
    const one = lay(`${BATTERY}
loads:
  - { name: fridge, kind: fridge, volume: 40 L, setpoint: 4 degC, standby: 0 W }
  - { name: freezer, kind: fridge, volume: 30 L, setpoint: -18 degC, insulation: 60 mm, compressor: 60 W, standby: 2 W }`);
    const { steps } = one.assembled.input;
    const freezer = one.assembled.fridges[1]!;
    freezer.columns.electricW.fill(60);
    freezer.columns.holdDuty.fill(0.5);
    const at = (step: number) => steps + step;
    one.out.fridgeOnShare.fill(1);
    one.out.fridgeV.fill(1e9);
    one.out.fridgeC.fill(4, 0, steps).fill(-17, steps);
    // runs half of step 10; has power for half of step 20; cut itself off in step 30
    one.out.fridgeW[at(10)] = 30;
    one.out.fridgeBusW[at(10)] = 30.8;
    one.out.fridgeV[at(10)] = 12.1;
    one.out.onShare[20] = 0.5;
    one.out.fridgeOnShare[at(20)] = 0.5;
    one.out.fridgeOnShare[at(30)] = 0;
    one.out.fridgeV[at(30)] = 9;
    return one;
  };

  test('takes what its compressor took and what its electronics take while there is power', () => {
    const { servedW, onShare } = ledger(laid()).loads[1]!;
    expect([servedW[10], servedW[11], servedW[20], servedW[30]]).toEqual([32, 2, 1, 2]);
    expect([onShare[10], onShare[11]]).toEqual([0.5, 0]);
  });

  test('lacks what it would have taken to hold its set point, while it had no power or had cut itself off', () => {
    const { unservedW } = ledger(laid()).loads[1]!;
    // 60 W for half of the time it lacked power, and 2 W of electronics where the bus was off
    expect([unservedW[10], unservedW[20], unservedW[30]]).toEqual([0, 16, 30]);
  });

  test('its cable loses what leaves the bus and does not arrive; the lowest voltage is of when it ran', () => {
    const { loads, lossW } = ledger(laid());
    expect(lossW.loadCables[10]).toBeCloseTo(0.8, 9);
    expect(lossW.loadCables[11]).toBe(0);
    expect(loads.map(({ lowestV }) => lowestV)).toEqual([Infinity, 12.1]);
  });

  test('has its own inside beside the other’s', () => {
    const [fridge, freezer] = ledger(laid()).loads;
    const [one, other] = [fridge!, freezer!].map(({ rooms }) => rooms![0]!.insideC);
    expect([one!.length, one![47], other!.length, other![0]]).toEqual([48, 4, 48, -17]);
  });
});
