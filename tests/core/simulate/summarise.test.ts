import { expect, test } from 'vitest';
import { LOSS_PLACES } from '../../../packages/core/src/simulate/ledger/ledger.js';
import {
  LIMIT_COLD,
  LIMIT_FULL,
  LIMIT_RATING,
  LIMIT_SOURCE,
  LIMIT_VOLTAGE,
} from '../../../packages/core/src/simulate/loop/loop.js';
import { dailyOf, dayBounds, loadRowsOf, summaryOf } from '../../../packages/core/src/simulate/report/summarise.js';
import { byHand, emptyLedger } from './by-hand.js';

/** The trip has a day of 23 h and one of 24 h, so 46 and 48 steps of half an hour; 100 Ah, the floor at a fifth. */
const laid = () =>
  byHand(`
battery: { chemistry: LFP, capacity: 100 Ah, floor: 20 % }
solar: [{ power: 100 W }]
loads:
  - { name: fridge, kind: fridge, volume: 40 L, setpoint: 4 degC }
  - { name: freezer, kind: fridge, volume: 30 L, setpoint: -18 degC, insulation: 60 mm, compressor: 60 W }
  - { name: lamp, power: 4 W }
`);
const STEPS = 94;
const constant = (value: number) => new Float64Array(STEPS).fill(value);
const lampLedger = (servedW: number, unservedW: number, lowestV = 12.5) => ({
  name: 'lamp',
  servedW: constant(servedW),
  unservedW: constant(unservedW),
  onShare: constant(0.25),
  lowestV,
});

test('a civil day is as long as the clock makes it', () => {
  const { assembled } = laid();
  expect(dayBounds(assembled).map(({ day, from, to }) => [day.date, from, to])).toEqual([
    ['2026-06-10', 0, 46],
    ['2026-06-11', 46, 94],
  ]);
});

test('a day of the run holds its own watts times hours, and no others', () => {
  const { assembled, out } = laid();
  const ledger = emptyLedger(STEPS);
  ledger.pvAvailableW.fill(10);
  ledger.pvHarvestW.fill(7, 0, 46).fill(9, 46);
  ledger.alternatorW.fill(3);
  ledger.mainsW.fill(2);
  for (const [k, place] of LOSS_PLACES.entries()) ledger.lossW[place].fill(k + 1);
  ledger.storedChangeWh.fill(0.5);
  ledger.loads.push(lampLedger(4, 1), { ...lampLedger(6, 2), name: 'fan' });
  assembled.conditions.weather.ghiWm2.fill(200);
  assembled.conditions.weather.ambientC.fill(10, 0, 46).fill(20, 46, 70).fill(30, 70);
  const [first, second, ...more] = dailyOf(assembled, out, ledger);
  expect(more).toEqual([]);
  expect(first).toMatchObject({
    date: '2026-06-10',
    stop: 'west',
    pvAvailableWh: 230,
    pvHarvestWh: 161,
    pvSpilledWh: 69,
    alternatorWh: 69,
    mainsWh: 46,
    loadWh: 230,
    unservedWh: 69,
    lossWh: 23 * 105, // 1 + 2 + … + 14
    storedChangeWh: 23,
    ambientMeanC: 10,
    ghiKwhM2: 4.6,
  });
  expect(second).toMatchObject({
    date: '2026-06-11',
    stop: 'east',
    pvHarvestWh: 216,
    pvSpilledWh: 24,
    loadWh: 240,
    storedChangeWh: 24,
    ambientMeanC: 25,
    ghiKwhM2: 4.8,
  });
});

test('a day begins with the charge that the one before left', () => {
  const { assembled, out } = laid(); // from 50 %
  out.soc.fill(0.6, 0, 46).fill(0.7, 46);
  out.soc[20] = 0.9;
  out.soc[45] = 0.4;
  const [first, second] = dailyOf(assembled, out, emptyLedger(STEPS));
  expect([first!.lowestSoc, first!.highestSoc]).toEqual([0.4, 0.9]);
  expect([second!.lowestSoc, second!.highestSoc]).toEqual([0.4, 0.7]);
  out.soc.fill(0.6);
  expect(dailyOf(assembled, out, emptyLedger(STEPS))[0]).toMatchObject({ lowestSoc: 0.5, highestSoc: 0.6 });
});

test('the hours of a day are told apart by what held the charge back', () => {
  const { assembled, out } = laid();
  out.limit.fill(LIMIT_SOURCE, 2, 5).fill(LIMIT_RATING, 5, 9).fill(LIMIT_VOLTAGE, 9, 14).fill(LIMIT_COLD, 14, 20);
  out.limit.fill(LIMIT_FULL, 50, 57);
  const [first, second] = dailyOf(assembled, out, emptyLedger(STEPS));
  expect(first!.limitH).toEqual({ none: 14, source: 1.5, rating: 2, voltage: 2.5, cold: 3, full: 0 });
  expect(second!.limitH).toEqual({ none: 20.5, source: 0, rating: 0, voltage: 0, cold: 0, full: 3.5 });
});

test('the run in figures: charge, cut-off, cycles, and when it was lowest', () => {
  const { assembled, out } = laid();
  out.soc.fill(0.6);
  out.soc.fill(0.2, 30, 34); // the floor is not below the floor
  out.soc.fill(0.19, 60, 63);
  out.soc[62] = 0.15;
  out.onShare[61] = 0.25;
  out.onShare[62] = 0;
  out.batteryA.fill(-8, 0, 10).fill(20, 10, 30); // 8 A for 5 h: 40 Ah of 100 out; charging is no cycle
  const summary = summaryOf(assembled, out, emptyLedger(STEPS), []);
  expect(summary).toMatchObject({
    startSoc: 0.5,
    endSoc: 0.6,
    lowestSoc: 0.15,
    // step 62 ends 31.5 h after 00:00 at UTC+1
    lowestAt: '2026-06-11T08:30+02:00',
    hoursBelowFloor: 1.5,
    hoursOff: 0.875,
  });
  expect(summary.equivalentCycles).toBeCloseTo(0.4, 12);
});

test('the charge that is lowest at the start is lowest then, and the first of equals counts', () => {
  const { assembled, out } = laid();
  out.soc.fill(0.6);
  expect(summaryOf(assembled, out, emptyLedger(STEPS), [])).toMatchObject({
    lowestSoc: 0.5,
    lowestAt: '2026-06-10T00:00+01:00',
  });
  out.soc[3] = 0.3;
  out.soc[9] = 0.3;
  expect(summaryOf(assembled, out, emptyLedger(STEPS), []).lowestAt).toBe('2026-06-10T02:00+01:00');
});

test('the run is its days together, to the last bit, and its ledger what came less what went', () => {
  const { assembled, out } = laid();
  const ledger = emptyLedger(STEPS);
  for (const [k, place] of LOSS_PLACES.entries()) ledger.lossW[place].fill(k + 1); // 105 W for 47 h
  const row = {
    ...dailyOf(assembled, out, ledger)[0]!,
    pvAvailableWh: 100,
    pvHarvestWh: 80,
    pvSpilledWh: 20,
    alternatorWh: 30,
    mainsWh: 7,
    loadWh: 50,
    unservedWh: 3,
    storedChangeWh: -11,
    highestSoc: 0.99,
  };
  const summary = summaryOf(assembled, out, ledger, [row, { ...row, highestSoc: 0.989 }, { ...row, highestSoc: 1 }]);
  expect(summary).toMatchObject({
    days: 3,
    pvAvailableWh: 300,
    pvHarvestWh: 240,
    pvSpilledWh: 60,
    alternatorWh: 90,
    mainsWh: 21,
    loadWh: 150,
    unservedWh: 9,
    storedChangeWh: -33,
    fullDays: 2,
  });
  LOSS_PLACES.forEach((place, k) => {
    expect(summary.lossWh[place], place).toBe(47 * (k + 1));
  });
  // 240 + 90 + 21 in, 150 to loads, 47 · 105 lost, 33 from the battery
  expect(summary.ledgerErrorWh).toBeCloseTo(240 + 90 + 21 - 150 - 47 * 105 + 33, 9);
});

test('sums lose nothing to large terms that cancel (the example of Neumaier 1974: 1 + 1e100 + 1 − 1e100 = 2)', () => {
  const { assembled, out } = laid();
  const ledger = emptyLedger(STEPS);
  const hard = [1, 1e100, 1, -1e100];
  ledger.mainsW.set(hard, 10);
  ledger.storedChangeWh.set(hard, 20);
  const [day] = dailyOf(assembled, out, ledger);
  expect(day).toMatchObject({ mainsWh: 1, storedChangeWh: 2 });
  const rows = hard.map((loadWh) => ({ ...day!, loadWh }));
  expect(summaryOf(assembled, out, ledger, rows).loadWh).toBe(2);
  const mirrored = hard.map((loadWh) => ({ ...day!, loadWh: -loadWh }));
  expect(summaryOf(assembled, out, ledger, mirrored).loadWh).toBe(-2);
});

test('a load that is no fridge has its energies, its share of time and its lowest voltage', () => {
  const { assembled, out } = laid();
  const ledger = emptyLedger(STEPS);
  ledger.loads.push(lampLedger(4, 1), { ...lampLedger(0, 0, Infinity), name: 'spare' });
  expect(loadRowsOf(assembled, out, ledger)).toEqual([
    { name: 'lamp', servedWh: 188, unservedWh: 47, dutyCycle: 0.25, lowestV: 12.5 },
    { name: 'spare', servedWh: 0, unservedWh: 0, dutyCycle: 0.25 },
  ]);
});

test('a fridge has its cut-outs with the charge at each, and its warmth above what is safe', () => {
  const { assembled, out } = laid();
  const ledger = emptyLedger(STEPS);
  const boxOf = (name: string, servedW: number, insideC: Float64Array) => ({
    ...lampLedger(servedW, 0),
    name,
    rooms: [{ ...lampLedger(servedW, 0), insideC }],
  });
  ledger.loads.push(
    boxOf('fridge', 10, out.fridgeC.subarray(0, STEPS)),
    boxOf('freezer', 20, out.fridgeC.subarray(STEPS, 2 * STEPS)),
  );
  out.soc.fill(0.5);
  out.soc[10] = 0.3;
  out.soc[20] = 0.8;
  out.soc[30] = 0.1;
  const ofFreezer = STEPS;
  out.fridgeC.fill(4, 0, STEPS).fill(-18, STEPS);
  out.fridgeC[7] = 5.005; // a hair of rounding above 5 °C
  out.fridgeC.fill(6.5, 8, 11);
  out.fridgeC[ofFreezer + 40] = -14;
  out.fridgeCut[ofFreezer] = 1; // its first step follows the other's last
  out.fridgeCut[ofFreezer + 10] = 1;
  out.fridgeCut[ofFreezer + 20] = 2;
  out.fridgeCut[ofFreezer + 50] = 2;
  const [fridge, freezer] = loadRowsOf(assembled, out, ledger);
  expect(fridge).toEqual({
    name: 'fridge',
    servedWh: 470,
    unservedWh: 0,
    dutyCycle: 0.25,
    lowestV: 12.5,
    cutOuts: 0,
    cutOutsByDrop: 0,
    warmAboveC: 5,
    warmHours: 1.5,
    warmestC: 6.5,
  });
  expect(freezer).toMatchObject({
    cutOuts: 4,
    cutOutsByDrop: 2,
    cutOutLowestSoc: 0.3,
    cutOutHighestSoc: 0.8,
    warmAboveC: -15,
    warmHours: 0.5,
    warmestC: -14,
  });
});
