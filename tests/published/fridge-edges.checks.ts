/** Fridges at their edges, followed by the run itself: other set points than rated, freezing and thawing, switching. */
import { runOn } from './bench.js';
import type { PublishedCheck } from './check.js';

const recomputed = 'recomputed from the published formula' as const;
const KELVIN = 273.15;
/** Condensing 12.5 K above the room, evaporating 12.5 K below the box: the middle of 10 to 15 K; 0.35 of Carnot. */
const cop = (boxC: number, roomC: number) => (0.35 * (boxC - 12.5 + KELVIN)) / (roomC + 12.5 - (boxC - 12.5));
const WATER = 4.186 / 3.6; // Wh/(kg K)

/** Invented: a closed box of 50 l without electronics, at a battery that never runs low. */
const rig = (own: string, ah = 2000) => `
battery: { chemistry: LFP, capacity: ${ah} Ah }
loads: [{ name: fridge, kind: fridge, volume: 50 L, openings: 0, standby: 0 W, compressor: 90 W, ${own.includes('contents:') ? own : `contents: 10 kg, ${own}`} }]`;
const RATED = 'rated: { energy: 0.33 kWh/day, ambient: 25 degC }';
/** Energy of the second day [Wh]. */
function dayWh(own: string, roomC: number): number {
  const { servedW } = runOn(rig(own), { days: 2, airC: roomC }, 0.95).trace.loads[0]!;
  return servedW.subarray(servedW.length / 2).reduce((sum, watts) => sum + watts / 6, 0);
}
const heatLeak = (whPerDay: number, boxC: number) => ((whPerDay / 24) * cop(boxC, 25)) / (25 - boxC);

/** Hours that contents of a freezer without power stay between freezing and thawed. */
function thawingHours(contentKg: number, roomC: number): number {
  const own = `setpoint: -18 degC, contents: ${contentKg} kg, rated: { energy: 0.6 kWh/day, ambient: 25 degC, inside: -18 degC }`;
  const { insideC } = runOn(rig(own, 20), { days: 12, airC: roomC }, 0).trace.loads[0]!;
  return insideC!.filter((c) => c >= -2 && c <= -1).length / 6;
}

/** Starts of the compressor in a day at five-minute steps, from its power. */
function startsADay(stepH: number): number {
  const { servedW } = runOn(rig(`setpoint: 4 degC, ${RATED}`), { days: 4, airC: 25, stepH }, 0.95).trace.loads[0]!;
  let starts = 0;
  for (let i = 1; i < servedW.length; i++) if (servedW[i]! > 0 && servedW[i - 1] === 0) starts++;
  return starts / 4;
}
/** By the closed form: up from 3 to 5 °C by the leak, down by what the compressor takes out beyond it. */
function expectedStarts(): number {
  const ua = heatLeak(330, 4);
  const capacity = 10 * WATER + 0.03 * 50;
  const belowC = 25 - (90 * cop(4, 25)) / ua;
  const offH = (capacity / ua) * Math.log((25 - 3) / (25 - 5));
  const onH = (capacity / ua) * Math.log((5 - belowC) / (3 - belowC));
  return 24 / (offH + onH);
}

export const fridgeEdgeChecks: PublishedCheck[] = [
  {
    quantity: 'consumption of a closed fridge rated at 4 °C with another set point, over that at 4 °C',
    unit: '-',
    source: 'Q = UA ΔT of the same box; Carnot between 12.5 K below the box and 12.5 K above the room',
    origin: recomputed,
    tolerance: 3e-3,
    relative: true,
    cases: [2, 6, 8, -18].map((setC) => ({
      at: `${setC} °C in a room of 25 °C`,
      expected: (25 - setC) / cop(setC, 25) / (21 / cop(4, 25)),
      got: () => dayWh(`setpoint: ${setC} degC, ${RATED}`, 25) / dayWh(`setpoint: 4 degC, ${RATED}`, 25),
    })),
  },
  {
    quantity: 'consumption of a freezer at the ambient and inside of its rating',
    unit: 'Wh a day',
    source: 'definition of the rated consumption; IEC 62552, frozen food −18 °C',
    origin: recomputed,
    tolerance: 2e-3,
    relative: true,
    cases: [
      {
        at: '600 Wh at 25 °C with −18 °C inside',
        expected: 600,
        got: () => dayWh('setpoint: -18 degC, rated: { energy: 600 Wh/day, ambient: 25 degC, inside: -18 degC }', 25),
      },
    ],
  },
  {
    quantity: 'consumption of a fridge whose data sheet has three ambients, at each',
    unit: 'Wh a day',
    source: 'definition of the rated consumption; the energy tests of IEC 62552:2015 are at 16 and 32 °C',
    origin: recomputed,
    tolerance: 2e-3,
    relative: true,
    cases: (
      [
        [16, 210],
        [25, 330],
        [32, 520],
      ] as const
    ).map(([roomC, wh]) => ({
      at: `${wh} Wh at ${roomC} °C`,
      expected: wh,
      got: () =>
        dayWh(
          'setpoint: 4 degC, rated: { energy: 330 Wh/day, ambient: 25 degC, also: [{ energy: 210 Wh/day, ambient: 16 degC }, { energy: 520 Wh/day, ambient: 32 degC }] }',
          roomC,
        ),
    })),
  },
  {
    quantity: 'extra energy to freeze 1 kg of water, from 20 to −18 °C, times the coefficient of performance',
    unit: 'Wh',
    source: 'Earle, Unit Operations in Food Processing, appendix 7: 4.19, 335, 2.05 kJ: 126.6 Wh',
    origin: 'published',
    tolerance: 0.01,
    relative: true,
    cases: [
      {
        at: 'once a day in a freezer that keeps up, room 20 °C',
        expected: 126.6,
        got: () => {
          const own = 'setpoint: -18 degC, rated: { energy: 600 Wh/day, ambient: 25 degC, inside: -18 degC }';
          const fed = `${own}, warmFood: [{ mass: 1 kg, at: "08:00", temperature: 20 degC }]`;
          return (dayWh(fed, 20) - dayWh(own, 20)) * cop(-18, 20);
        },
      },
    ],
  },
  {
    quantity: 'hours that frozen contents of a freezer without power take to thaw',
    unit: 'h',
    source: 'Q = m · 334 kJ/kg over UA ΔT; latent heat of water, ASHRAE Handbook Refrigeration, from memory',
    origin: recomputed,
    tolerance: 0.02,
    relative: true,
    cases: [5, 10].map((contentKg) => ({
      at: `${contentKg} kg in a room of 25 °C`,
      expected: ((contentKg * 334) / 3.6 + 0.03 * 50) / (heatLeak(600, -18) * 26.5),
      got: () => thawingHours(contentKg, 25),
    })),
  },
  {
    quantity: 'starts of the compressor in a day, thermostat of a kelvin about 4 °C',
    unit: '1/day',
    source: 'C dT/dt = UA (room − T) − P · COP, from 3 to 5 °C and back; a swing of 2 K is common practice',
    origin: recomputed,
    tolerance: 0.15, // a run begins and is looked at with its step
    relative: true,
    cases: [1, 5].map((minutes) => ({
      at: `steps of ${minutes} min, room 25 °C`,
      expected: expectedStarts(),
      got: () => startsADay(minutes / 60),
    })),
  },
];
