/** What switches itself off and on again: the low-voltage disconnect, and a fridge's own cut-out seen through its cable. */
import { copperOhm, LUGS_OHM, runOn } from './bench.js';
import type { PublishedCheck } from './check.js';

const recomputed = 'recomputed from the published formula' as const;
const DEFINED = 'definition of a low-voltage disconnect';
const MINUTE = { stepH: 1 / 60 } as const;

const lfp = (own: string) => `battery: { chemistry: LFP, capacity: 100 Ah, selfDischarge: 0 %, ${own} }`;
/** 10 A out from a fifth, and 5 A in from the seventh hour on. */
const emptied = (own: string) =>
  runOn(
    `${lfp(own)}
mains: { current: 5 A }
loads: [{ name: draw, current: 10 A }]`,
    { ...MINUTE, mains: (hour) => (hour > 7 ? 1 : 0) },
    0.5,
  ).trace;

/** The step in which the loads are first off, and the first after it in which they are on again. */
function offAndOn({ unservedW, loadW }: { unservedW: Float64Array; loadW: Float64Array }) {
  const off = unservedW.findIndex((watts) => watts > 0);
  return { off, on: loadW.findIndex((watts, i) => i > off + 1 && watts > 0) };
}

const disconnect: PublishedCheck[] = [
  {
    quantity: 'lowest state of charge of a battery whose loads are cut off at a share of it',
    unit: '-',
    source: DEFINED,
    origin: recomputed,
    tolerance: 1e-6,
    cases: [0.1, 0.25, 0.4].map((cut) => ({
      at: `${100 * cut} %`,
      expected: cut,
      got: () =>
        Math.min(
          ...runOn(`${lfp(`disconnect: ${100 * cut} %`)}\nloads: [{ name: draw, current: 10 A }]`, MINUTE, 0.6).trace
            .soc,
        ),
    })),
  },
  {
    quantity: 'voltage on the bus in the minute before the loads are cut off at a voltage',
    unit: 'V',
    source: DEFINED,
    origin: recomputed,
    tolerance: 0.1, // LFP falls by 0.1 V in a minute at its knee
    cases: [12.3, 12.6].map((cut) => ({
      at: `${cut} V`,
      expected: cut + 0.05,
      got: () => {
        const { trace } = runOn(`${lfp(`disconnect: ${cut} V`)}\nloads: [{ name: draw, current: 10 A }]`, MINUTE, 0.3);
        const { off } = offAndOn(trace);
        return trace.batteryV[off - 1]! - 10 * LUGS_OHM;
      },
    })),
  },
  {
    quantity: 'state of charge at which the loads come back',
    unit: '-',
    source: 'definition of a reconnect',
    origin: recomputed,
    tolerance: 2e-3, // what goes in within a minute
    cases: [0.15, 0.3].map((back) => ({
      at: `disconnect 10 %, reconnect ${100 * back} %`,
      expected: back,
      got: () => {
        const trace = emptied(`disconnect: 10 %, reconnect: ${100 * back} %`);
        return trace.soc[offAndOn(trace).on - 1]!;
      },
    })),
  },
  {
    quantity: 'voltage on the bus at which the loads come back, charged with 5 A',
    unit: 'V',
    source: 'definition of a reconnect',
    origin: recomputed,
    tolerance: 0.02,
    cases: [13.05, 13.15].map((back) => ({
      at: `${back} V`,
      expected: back,
      got: () => {
        const trace = emptied(`disconnect: 12.4 V, reconnect: ${back} V`);
        return trace.batteryV[offAndOn(trace).on - 1]! + 5 * LUGS_OHM;
      },
    })),
  },
];

/** A fridge that never stops, behind 8 m of 2.5 mm², on an AGM battery that runs down; charged with 0.8 A from the eighth hour on. */
const followed = (cable: string) =>
  runOn(
    `battery: { chemistry: AGM, capacity: 20 Ah, selfDischarge: 0 %, disconnect: 0 %, reconnect: 99 % }
mains: { current: 0.8 A, charge: { absorption: 14.4 V } }
loads: [{ name: fridge, kind: fridge, volume: 45 L, setpoint: -18 degC, start: 30 degC, contents: 60 kg, compressor: 48 W, standby: 0 W, cutOut: 11.2 V, cutIn: 12.4 V, rated: { energy: 900 Wh/day, ambient: 25 degC }${cable} }]`,
    { ...MINUTE, airC: 30, mains: (hour) => (hour > 8 ? 1 : 0) },
    1,
  );
const thinCable = runOnce(() => followed(', cable: { length: 8 m, section: 2.5 mm2 }'));
const noCable = runOnce(() => followed(''));
function runOnce<T>(make: () => T): () => T {
  let made: T | undefined;
  return () => (made ??= make());
}
/** 48 W at 25 °C and 0.75 % more per kelvin. */
const RUN_W = 48 * (1 + 0.0075 * 5);
const CABLE_OHM = copperOhm(8, 7.98);
/** Current of a constant power at the end of a cable: I·(V − I·R) = P. */
const throughCableA = (busV: number, ohm: number, watts: number) =>
  (busV - Math.sqrt(busV * busV - 4 * watts * ohm)) / (2 * ohm);

const cutOut: PublishedCheck[] = [
  {
    quantity: 'current that a running fridge of 49.8 W takes through 8 m of 2.5 mm²',
    unit: 'A',
    source: "Ohm's law, I·(V − I·R) = P; IEC 60228 class 5, 7.98 Ω/km, at 30 °C",
    origin: recomputed,
    tolerance: 2e-3,
    cases: [10, 100].map((minute) => ({
      at: `after ${minute} minutes`,
      get expected() {
        const { trace } = thinCable();
        return throughCableA(trace.batteryV[minute]! + trace.batteryA[minute]! * LUGS_OHM, CABLE_OHM, RUN_W);
      },
      got: () => -thinCable().trace.batteryA[minute]!,
    })),
  },
  {
    quantity: 'voltage of the battery in the minute before a fridge cuts out at 11.2 V behind its cable',
    unit: 'V',
    source: "Ohm's law: 11.2 V and what its current loses in 8 m of 2.5 mm², fuse and lugs",
    origin: recomputed,
    tolerance: 0.02,
    cases: [
      {
        at: 'cable of 0.133 Ω',
        expected: 11.2 + (RUN_W / 11.2) * (CABLE_OHM + LUGS_OHM),
        got: () => {
          const { trace } = thinCable();
          return trace.batteryV[trace.unservedW.findIndex((watts) => watts > 0) - 1]!;
        },
      },
    ],
  },
  {
    quantity: 'lowest voltage that a running fridge sees whose electronics switch off below 11.2 V',
    unit: 'V',
    source: 'definition of a cut-out',
    origin: recomputed,
    tolerance: 0.02,
    cases: [{ at: 'AGM run down', expected: 11.2, got: () => thinCable().loads[0]!.lowestV! }],
  },
  {
    quantity: 'voltage on the bus at which a fridge without a cable starts again',
    unit: 'V',
    source: 'definition of a cut-in',
    origin: recomputed,
    tolerance: 0.03,
    cases: [
      {
        at: '12.4 V, charged with 0.8 A',
        expected: 12.4,
        got: () => {
          const { trace } = noCable();
          return trace.batteryV[offAndOn(trace).on - 1]! + 0.8 * LUGS_OHM;
        },
      },
    ],
  },
];

export const cutOutChecks: readonly PublishedCheck[] = [...disconnect, ...cutOut];
