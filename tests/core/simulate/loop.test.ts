import { describe, expect, test } from 'vitest';
import {
  CONVERTER,
  copyState,
  LIMIT_COLD,
  LIMIT_RATING,
  LIMIT_SOURCE,
  LIMIT_VOLTAGE,
  type LoopInput,
  type LoopOutput,
  loopOutput,
  loopState,
  PWM,
  RELAY,
  runLoop,
} from '../../../packages/core/src/simulate/loop/loop.js';
import { kineticMaxDischargeA, kineticStep } from '../../oracle/kinetic.js';
import { randomLoop } from './random-loop.js';

/** A charger lane; a function of the step where it changes. */
interface Lane {
  readonly kind: number;
  readonly drive: number | ((step: number) => number);
  readonly limitA?: number;
  readonly share?: number;
  readonly ohm?: number;
  readonly sharesWith?: number;
  readonly absorptionV?: number;
  readonly floatV?: number;
  readonly pwmOhm?: number;
}
type Plain = { readonly [K in keyof LoopInput]?: LoopInput[K] | number };

const POINTS = 201;
const full = (value: number, length: number) => new Float64Array(length).fill(value);

/** 100 Ah that stand at 12.8 V + 0.4 V·soc behind 10 mΩ, with nothing on them: every figure a round one. */
function inputOf(
  steps: number,
  own: Plain = {},
  lanes: readonly Lane[] = [],
  curve?: (volts: number) => number,
): LoopInput {
  const capacityAh = typeof own.capacityAh === 'number' ? own.capacityAh : 100;
  const soc = Float64Array.from({ length: POINTS }, (_, n) => n / (POINTS - 1));
  const per = (pick: (lane: Lane) => number) => Float64Array.from(lanes, pick);
  const columns = (pick: (lane: Lane, step: number) => number) =>
    Float64Array.from({ length: lanes.length * steps }, (_, at) => pick(lanes[Math.floor(at / steps)]!, at % steps));
  const base: LoopInput = {
    steps,
    stepH: 1 / 6,
    points: POINTS,
    ocvV: soc.map((x) => 12.8 + 0.4 * x),
    energyWh: soc.map((x) => capacityAh * (12.8 * x + 0.2 * x * x)),
    dischargeOhm: full(0.01, POINTS),
    chargeOhm: full(0.01, POINTS),
    chargeSteepOhm: full(0.01, POINTS),
    chargeStepOhm: full(0, POINTS),
    chargeBendV: full(0, POINTS),
    chargeEfficiency: full(1, POINTS),
    capacityAh,
    lowestV: 0,
    kneeV: 0,
    kneeA: 1,
    wellReserveAh: 0,
    emptySoc: 0,
    mainOhm: 0.002,
    startSoc: 0.5,
    maxDischargeA: Infinity,
    resistanceFactor: full(1, steps),
    chargeFactor: full(1, steps),
    wellShare: full(1, steps),
    wellPerH: full(1, steps),
    chargeLimitA: full(100, steps),
    coldLimited: full(0, steps),
    selfDischargeA: full(0, steps),
    disconnectSoc: 0.1,
    disconnectV: 0,
    reconnectSoc: 0.15,
    reconnectV: 1e9,
    plainW: full(0, steps),
    plainQuad: full(0, steps),
    plainCube: full(0, steps),
    plainFourth: full(0, steps),
    plainA: full(0, steps),
    unswitchedW: full(0, steps),
    fridges: 0,
    fridgeOhm: full(0, 0),
    fridgeCutOutV: full(0, 0),
    fridgeCutInV: full(0, 0),
    fridgeSetC: full(0, 0),
    fridgeStartC: full(0, 0),
    fridgeSwingK: 0,
    fridgePartner: full(0, 0),
    heavies: 0,
    heavyOhm: full(0, 0),
    heavyCutOutV: full(0, 0),
    heavyCutInV: full(0, 0),
    heavyW: full(0, 0),
    heavyRuns: full(0, 0),
    fridgeContentKg: full(0, 0),
    fridgeLinerWhPerK: full(0, 0),
    fridgeLossWPerK: full(0, 0),
    fridgeFoodKgPerH: full(0, 0),
    fridgeInflowW: full(0, 0),
    fridgeCoolingW: full(0, 0),
    fridgeRunW: full(0, 0),
    chargers: lanes.length,
    chargerKind: per((lane) => lane.kind),
    chargerOhm: per((lane) => lane.ohm ?? 0.01),
    absorptionV: per((lane) => lane.absorptionV ?? 14.2),
    floatV: per((lane) => lane.floatV ?? 13.5),
    holdH: per(() => 2),
    tailA: per(() => 2),
    restartBelowV: per(() => 12.9),
    compensationV: columns(() => 0),
    sharesWith: per((lane) => lane.sharesWith ?? -1),
    drive: columns(({ drive }, step) => (typeof drive === 'number' ? drive : drive(step))),
    limitA: columns(({ limitA = 1000 }) => limitA),
    chargerShare: columns(({ share = 1 }) => share),
    pwmOhm: per((lane) => lane.pwmOhm ?? 0),
    relayBackA: per(() => 0),
    relayJoinV: per(() => 0),
    relayPartV: per(() => 0),
    relayDrawA: per(() => 0),
    pwmDropV: 0.1,
    pwmFromV: 8,
    pwmStepV: 0.25,
    pwmPoints: 81,
    pwmA: lanes.map((lane) =>
      lane.kind === PWM && curve
        ? Float64Array.from({ length: 81 * steps }, (_, n) => curve(8 + 0.25 * (n % 81)))
        : full(0, 0),
    ),
  };
  const spread = Object.entries(own).map(([key, value]) => [
    key,
    typeof value === 'number' && typeof base[key as keyof LoopInput] === 'object' ? full(value, steps) : value,
  ]);
  return { ...base, ...Object.fromEntries(spread) };
}

function follow(input: LoopInput): LoopOutput {
  const out = loopOutput(input.steps, input);
  runLoop(input, out, loopState(input));
  return out;
}

/** Without slope, so that Ohm's law has one answer whatever the charge. */
const flat = { ocvV: full(13, POINTS), energyWh: Float64Array.from({ length: POINTS }, (_, n) => (1300 * n) / 200) };

describe('chargers', () => {
  test.each([1, 0.3])(
    'a relay carries (Vs − E)/(ΣR) by Ohm’s law for the share of the step it is closed: %f',
    (share) => {
      const out = follow(inputOf(1, flat, [{ kind: RELAY, drive: 14.4, ohm: 0.03, share }]));
      // The battery sees the mean: I = share·(Vs − V)/Rc with V = E + I·(Ri + Rm).
      const mean = (share * (14.4 - 13)) / (0.03 + share * 0.012);
      expect(out.batteryA[0]!).toBeCloseTo(mean, 4);
      // At its source it delivers Vs · I, as nothing but resistance lies between.
      expect(out.chargerW[0]!).toBeCloseTo(14.4 * mean, 3);
      expect(out.limit[0]).toBe(LIMIT_VOLTAGE);
    },
  );

  test('a relay carries no more than the alternator has left, and none from a lower source', () => {
    expect(follow(inputOf(1, flat, [{ kind: RELAY, drive: 14.4, ohm: 0.03, limitA: 20 }])).batteryA[0]!).toBeCloseTo(
      20,
      5,
    );
    expect(follow(inputOf(1, flat, [{ kind: RELAY, drive: 12.5, ohm: 0.03 }])).batteryA[0]!).toBeCloseTo(0, 5);
  });

  test('three minutes of ten at its rating are three tenths of its amp-hours', () => {
    const out = follow(inputOf(1, flat, [{ kind: CONVERTER, drive: 900, limitA: 30, share: 0.3 }]));
    expect(out.batteryA[0]!).toBeCloseTo(9, 6);
    expect(out.limit[0]).toBe(LIMIT_RATING);
    // and the loss of its cable is that of 30 A for that time, 0.3 · 30² · R, not of 9 A
    expect(out.chargerW[0]! - out.chargerBusW[0]!).toBeCloseTo(0.3 * 900 * 0.01, 6);
  });

  test('a converter holds its power at its terminals: P = I·(V + I·R)', () => {
    const out = follow(inputOf(1, flat, [{ kind: CONVERTER, drive: 200, limitA: 40 }]));
    const amps = out.batteryA[0]!;
    expect(amps * (13 + amps * (0.01 + 0.012))).toBeCloseTo(200, 4);
    expect(out.limit[0]).toBe(LIMIT_SOURCE);
  });

  test('two lanes of one box together keep its rating', () => {
    const lanes = [
      { kind: CONVERTER, drive: 260, limitA: 30 },
      { kind: CONVERTER, drive: 900, limitA: 30, sharesWith: 0 },
    ];
    expect(follow(inputOf(1, flat, lanes)).batteryA[0]!).toBeCloseTo(30, 5);
    // The second runs a third of the step, and then has what the first leaves.
    const part = follow(inputOf(1, flat, [lanes[0]!, { ...lanes[1]!, share: 1 / 3 }]));
    const firstA = part.chargerBusW[0]! / part.busV[0]!;
    expect(part.chargerBusW[1]! / part.busV[0]!).toBeCloseTo((30 - firstA) / 3, 5);
  });

  // A steep curve between 13 and 14 V: −20 A/V times 0.2 Ω is −4, where substitution round by round would run away.
  test.each([0.005, 0.2])('behind PWM the array is where its curve meets the load line, through %f Ω', (pwmOhm) => {
    const curve = (volts: number) => Math.max(0, Math.min(9, 20 * (13.8 - volts)));
    const own = {
      ...flat,
      dischargeOhm: full(0.001, POINTS),
      chargeOhm: full(0.001, POINTS),
      chargeSteepOhm: full(0.001, POINTS),
    };
    const out = follow(inputOf(1, own, [{ kind: PWM, drive: 1, ohm: 0.01, pwmOhm, absorptionV: 15 }], curve));
    const amps = out.batteryA[0]!;
    const arrayV = out.arrayW[0]! / amps;
    expect(arrayV).toBeCloseTo(out.busV[0]! + amps * (0.01 + pwmOhm) + 0.1, 9);
    // The table is straight over 0.25 V; 13.8 V is between two of its points.
    const n = Math.floor((arrayV - 8) / 0.25);
    const [left, right] = [curve(8 + 0.25 * n), curve(8.25 + 0.25 * n)];
    expect(left + ((right - left) * (arrayV - 8 - 0.25 * n)) / 0.25).toBeCloseTo(amps, 3);
    expect(out.arrayAvailableW[0]!).toBeCloseTo(out.arrayW[0]!, 2);
  });

  test('behind PWM an array takes nothing back, however far the bus is above its open voltage', () => {
    for (const openV of [12, 9, 7]) {
      const out = follow(inputOf(1, flat, [{ kind: PWM, drive: 1, absorptionV: 15 }], (volts) => 3 * (openV - volts)));
      expect([out.batteryA[0], out.chargerW[0], out.chargerBusW[0], out.arrayW[0]], `${openV} V`).toEqual([0, 0, 0, 0]);
    }
  });

  test('beyond its table a PWM array goes on as at its end, below and above', () => {
    // 30 to 90 Ω of array: 3 A at 8 V and 1 A at 28 V, beyond the table's 8 to 28 V by the same line
    const curve = (volts: number) => 3.8 - 0.1 * volts;
    for (const ocvV of [6, 31]) {
      const own = {
        ocvV: full(ocvV, POINTS),
        energyWh: Float64Array.from({ length: POINTS }, (_, n) => ocvV * n * 0.5),
      };
      const out = follow(inputOf(1, own, [{ kind: PWM, drive: 1, absorptionV: 40 }], curve));
      const amps = out.batteryA[0]!;
      expect(amps).toBeCloseTo(curve(out.arrayW[0]! / amps), 6);
      expect(out.arrayAvailableW[0]!).toBeCloseTo(out.arrayW[0]!, 5);
    }
  });

  test('bulk, absorption until the tail, float; and bulk again with the next source', () => {
    const steps = 400;
    const drive = (step: number) => (step % 200 < 150 ? 300 : 0);
    const out = follow(
      inputOf(steps, { plainA: 1, chargeOhm: full(0.05, POINTS), chargeSteepOhm: full(0.05, POINTS) }, [
        { kind: CONVERTER, drive, ohm: 0.001 },
      ]),
    );
    const held = [...out.busV].map((volts, i) => (drive(i) > 0 ? volts : 0));
    const firstAbsorption = held.findIndex((volts) => Math.abs(volts - 14.2) < 0.03);
    const firstFloat = held.findIndex((volts, i) => i > firstAbsorption && volts > 0 && volts < 13.6);
    expect(firstAbsorption).toBeGreaterThan(0);
    expect(firstFloat).toBeGreaterThan(firstAbsorption);
    // Two hours at most: 12 steps, and the one in which bulk ended.
    expect(firstFloat - firstAbsorption).toBeLessThanOrEqual(13);
    expect(held.slice(firstFloat, 150).every((volts) => volts < 13.6)).toBe(true);
    expect(Math.max(...held.slice(200))).toBeCloseTo(14.2, 1);
  });

  test('a battery too cold for charge takes none, while the sun still carries the loads', () => {
    const own = { chargeLimitA: 0, coldLimited: 1, plainW: 40 };
    const out = follow(inputOf(50, own, [{ kind: CONVERTER, drive: 200 }]));
    expect(Math.max(...out.batteryA)).toBeLessThanOrEqual(0);
    expect(out.soc[49]!).toBeCloseTo(0.5, 9);
    expect(out.limit[49]).toBe(LIMIT_COLD);
    expect(out.chargerBusW[49]!).toBeCloseTo(40, 6);
  });

  test('chargers that a battery’s largest current holds back give in proportion', () => {
    const lanes = [100, 300].map((drive) => ({ kind: CONVERTER, drive, ohm: 0.001, absorptionV: 16 }));
    const out = follow(inputOf(2, { startSoc: 0.5, plainW: 60, chargeLimitA: 0 }, lanes));
    expect(out.limit[0]).toBe(LIMIT_RATING);
    expect(out.soc[1]).toBe(0.5);
    expect(out.chargerBusW[2]! / out.chargerBusW[0]!).toBeCloseTo(3, 2);
    expect(out.chargerBusW[0]! + out.chargerBusW[2]!).toBeCloseTo(60, 6);
  });
});

describe('the battery', () => {
  test('a constant power runs for the energy above the cut-off, less heat, over that power', () => {
    const out = follow(inputOf(600, { plainW: 50, startSoc: 1 }));
    const onH = out.onShare.reduce((sum, share) => sum + share, 0) / 6;
    // ∫ dE / (P + I²R): I from P = I·(E(q) − I·R), along the charge q; Simpson over 1000 parts.
    const ohm = 0.012;
    const hours = (soc: number) => {
      const volts = 12.8 + 0.4 * soc;
      return (2 * ohm) / (volts - Math.sqrt(volts * volts - 4 * ohm * 50));
    };
    let sum = 0;
    for (let n = 0; n <= 1000; n++) sum += hours(0.1 + (0.9 * n) / 1000) * (n === 0 || n === 1000 ? 1 : n % 2 ? 4 : 2);
    expect(onH).toBeCloseTo((100 * 0.9 * sum) / 3000, 3);
  });

  test('two wells empty when the analytic solution says (Manwell & McGowan 1993), and rest afterwards', () => {
    const [c, kPerH, reserveAh, amps] = [0.4, 0.6, 20, 24];
    const own = {
      wellShare: c,
      wellPerH: kPerH,
      wellReserveAh: reserveAh,
      plainA: amps,
      startSoc: 1,
      disconnectSoc: 0,
      reconnectSoc: 0.6,
    };
    const out = follow(inputOf(48, own));
    // The hours T for which `amps` is the largest current: bisected on the closed form over one whole step of T.
    let [low, high] = [0, 10];
    for (let n = 0; n < 60; n++) {
      const hours = (low + high) / 2;
      if (kineticMaxDischargeA(c * 120, (1 - c) * 120, hours, c, kPerH) > amps) low = hours;
      else high = hours;
    }
    const first = out.onShare.findIndex((share) => share < 1);
    expect((first + out.onShare[first]!) / 6).toBeCloseTo(low, 5);
    expect(out.soc[first]!).toBeCloseTo(1 - (amps * low) / 100, 6);
    // Off it stays: the charge left is below the reconnect, however much flows across.
    expect(out.onShare.slice(first + 1).every((share) => share === 0)).toBe(true);
    expect(kineticStep(c * 120, (1 - c) * 120, -amps, low, c, kPerH)).toBeCloseTo(0, 9);
  });

  test('a management system that trips by current cuts the loads at once, and for as long as they ask', () => {
    const plainW = Float64Array.from({ length: 12 }, (_, i) => (i >= 4 && i < 8 ? 1500 : 50));
    const out = follow(inputOf(12, { plainW, maxDischargeA: 100 }));
    expect([...out.onShare]).toEqual([1, 1, 1, 1, 0, 0, 0, 0, 1, 1, 1, 1]);
    expect(Math.min(...out.batteryA)).toBeGreaterThanOrEqual(-100);
  });

  test('more power than half its voltage can give is not given', () => {
    // Most power into a load: E²/4R = 13²/(4 · 0.102) = 414 W.
    const weak = {
      ...flat,
      dischargeOhm: full(0.1, POINTS),
      chargeOhm: full(0.1, POINTS),
      chargeSteepOhm: full(0.1, POINTS),
    };
    expect(follow(inputOf(1, { ...weak, plainW: 410 })).onShare[0]).toBe(1);
    expect(follow(inputOf(1, { ...weak, plainW: 418 })).onShare[0]).toBe(0);
  });

  test('what it bears from rest it bears just after being charged, near full and through a thin cable', () => {
    // At half its voltage, where a battery gives most, the cable would take more than that; from 9 V up it does not.
    const [watts, cableOhm, ohm] = [200, 0.05, 0.15];
    const own = {
      ...flat,
      dischargeOhm: full(ohm, POINTS),
      chargeOhm: full(0.9, POINTS),
      chargeSteepOhm: full(0.9, POINTS),
      mainOhm: 0,
      plainW: Float64Array.of(0, watts),
      plainQuad: Float64Array.of(0, cableOhm * watts ** 2),
      plainCube: Float64Array.of(0, 2 * cableOhm ** 2 * watts ** 3),
      plainFourth: Float64Array.of(0, 5 * cableOhm ** 3 * watts ** 4),
    };
    const out = follow(inputOf(2, own, [{ kind: CONVERTER, drive: (step) => (step === 0 ? 20 : 0) }]));
    expect(out.batteryA[0]!).toBeGreaterThan(1);
    expect(out.onShare[1]).toBe(1);
    // Bisected from rest on: I = P/V·(1 + x + 2x² + 5x³), x = P·Rc/V², V = E − I·R
    let [low, high] = [0, 27];
    for (let n = 0; n < 60; n++) {
      const amps = (low + high) / 2;
      const volts = 13 - amps * ohm;
      const x = (watts * cableOhm) / volts ** 2;
      if ((watts / volts) * (1 + x + 2 * x ** 2 + 5 * x ** 3) > amps) low = amps;
      else high = amps;
    }
    expect(out.batteryA[1]!).toBeCloseTo(-low, 4);
  });

  test('draws ahead of the disconnect end where the battery is empty, and nothing is drawn from below', () => {
    // 5 Ah, of which a tenth is below empty; 60 W ahead of the disconnect.
    const own = { capacityAh: 5, emptySoc: 0.1, disconnectSoc: 0.3, startSoc: 0.35, plainA: 1, unswitchedW: 60 };
    const out = follow(inputOf(6, own));
    // A step is split by the current of its whole, which is a second-order error: 60 W fall on a falling voltage.
    expect(out.soc[5]!).toBeCloseTo(0.1, 3);
    const ahead = out.alwaysShare.reduce((sum, share) => sum + share, 0) / 6;
    const on = out.onShare.reduce((sum, share) => sum + share, 0) / 6;
    const taken = out.batteryA.reduce((sum, amps) => sum + amps, 0) / 6;
    expect(taken).toBeCloseTo(-1.25, 2);
    expect(on).toBeLessThan(ahead);
    expect(ahead * (60 / 12.9) + on).toBeCloseTo(1.25, 1);
  });
});

describe('loads come back', () => {
  /** 12.5 A of charge an hour, a lamp of 1 W; 100 Ah at 13 V, cut off at an eighth, where it begins. */
  const back = (own: Plain, limitA = 12.5) =>
    follow(
      inputOf(5, { ...flat, stepH: 1, plainW: 1, disconnectSoc: 0.125, startSoc: 0.125, reconnectSoc: 0.25, ...own }, [
        { kind: CONVERTER, drive: 1000, limitA, absorptionV: 16 },
      ]),
    ).onShare;

  test('in the step after the charge has come to the reconnect, not before', () => {
    // without a source the lamp is cut at once; then an eighth an hour
    const drive = Float64Array.of(0, 1000, 1000, 1000, 1000);
    expect([...back({ drive })]).toEqual([0, 0, 1, 1, 1]);
    expect([...back({ drive, reconnectSoc: 0.2501 })]).toEqual([0, 0, 0, 1, 1]);
    expect([...back({ drive, reconnectSoc: 2 })]).toEqual([0, 0, 0, 0, 0]);
  });

  test('or the bus to its voltage at rest', () => {
    const own = { disconnectSoc: -1, disconnectV: 12.9, reconnectSoc: 2, startSoc: 0.5, drive: 0 };
    const plainW = Float64Array.of(300, 1, 1, 1, 1); // 23 A through 12 mΩ: 12.7 V
    expect([...back({ ...own, plainW, reconnectV: 13 })]).toEqual([0, 1, 1, 1, 1]);
    expect([...back({ ...own, plainW, reconnectV: 13.001 })]).toEqual([0, 0, 0, 0, 0]);
  });

  test('an emptied battery first when a twentieth is in it, what is drawn ahead too', () => {
    // common practice, no source: a twentieth
    const own = {
      disconnectSoc: -1,
      startSoc: 0,
      reconnectSoc: 0.02,
      unswitchedW: 1,
      drive: Float64Array.of(0, 1000, 1000, 1000, 1000),
    };
    expect([...back(own, 5)]).toEqual([0, 0, 1, 1, 1]);
    expect([...back(own, 4.9)]).toEqual([0, 0, 0, 1, 1]);
  });
});

describe('a step of any length', () => {
  /** The open-circuit voltage has a knee at each tenth. */
  const kneed = Float64Array.from({ length: 11 }, (_, n) => 11 + 2.5 * Math.sqrt(n / 10));
  const energyWh = (capacityAh: number) => {
    let sum = 0;
    return kneed.map((volts, n) => {
      if (n > 0) sum += (capacityAh / 10) * 0.5 * (volts + kneed[n - 1]!);
      return sum;
    });
  };
  /** ∫ OCV dQ from empty, by trapezia of its own [Wh]. */
  const stored = (soc: number, capacityAh: number) => {
    const parts = 5000;
    const at = (x: number) => {
      const n = Math.min(9, Math.floor(x * 10));
      return kneed[n]! + (kneed[n + 1]! - kneed[n]!) * (x * 10 - n);
    };
    let sum = 0;
    for (let k = 0; k < parts; k++) sum += (at((soc * k) / parts) + at((soc * (k + 1)) / parts)) / 2;
    return (capacityAh * soc * sum) / parts;
  };

  test.each([
    [0.55, -2], // within one stretch of the table, then over one knee, over several; and the same way up
    [0.55, -8],
    [0.55, -35],
    [0.95, -80],
    [0.41, 3],
    [0.38, 6],
    [0.05, 80],
    [0.6, 25],
  ])('from %f at %f A the heat is that of its resistance, and what charging and rest lose', (startSoc, amps) => {
    const [eff, leakA] = [0.9, 0.5];
    const own = {
      points: 11,
      ocvV: kneed,
      energyWh: energyWh(100),
      dischargeOhm: full(0.01, 11),
      chargeOhm: full(0.02, 11),
      chargeSteepOhm: full(0.02, 11),
      chargeEfficiency: full(eff, 11),
      stepH: 1,
      startSoc,
      selfDischargeA: leakA,
      disconnectSoc: -1,
      chargeLimitA: 200,
      plainA: amps < 0 ? -amps : 0,
    };
    const out = follow(
      inputOf(1, own, amps > 0 ? [{ kind: CONVERTER, drive: 5000, limitA: amps, ohm: 0.001, absorptionV: 30 }] : []),
    );
    expect(out.batteryA[0]!).toBeCloseTo(amps, 4);
    const storedAh = (amps > 0 ? eff * amps : amps) - leakA * startSoc;
    expect(out.soc[0]!).toBeCloseTo(startSoc + storedAh / 100, 6);
    const storedWh = stored(out.soc[0]!, 100) - stored(startSoc, 100);
    const meanV = storedWh / storedAh;
    expect(out.batteryV[0]!).toBeCloseTo(meanV + amps * (amps > 0 ? 0.02 : 0.01), 4);
    expect(out.batteryLossW[0]!).toBeCloseTo(amps * out.batteryV[0]! - storedWh, 3);
    expect(out.mainLossW[0]!).toBeCloseTo(amps ** 2 * 0.002, 3);
  });
});

describe('a fridge', () => {
  const fridge = (steps: number, own: Plain = {}) =>
    inputOf(steps, {
      fridges: 1,
      fridgeOhm: full(0.1, 1),
      fridgeCutOutV: full(10.4, 1),
      fridgeCutInV: full(11.7, 1),
      fridgeSetC: full(4, 1),
      fridgeStartC: full(25, 1),
      // 1 W/K of walls and 5 Wh/K inside, in a room of 25 °C
      fridgePartner: full(-1, 1),
      fridgeContentKg: full(0, 1),
      fridgeLinerWhPerK: full(5, 1),
      fridgeLossWPerK: full(1, steps),
      fridgeFoodKgPerH: full(0, steps),
      fridgeInflowW: full(25, steps),
      fridgeCoolingW: full(42, steps),
      fridgeRunW: full(50, steps),
      ...own,
    });

  test('is pulled down by Newton’s law of cooling, then holds its set point with the duty of the balance of heat', () => {
    const out = follow(fridge(60));
    // Flat out: T = −17 + 42·e^(−0.2 t); at 4 °C after ln(2)/0.2 = 3.47 h.
    expect(out.fridgeC[5]!).toBeCloseTo(-17 + 42 * Math.exp(-0.2), 9);
    expect([...out.fridgeC].findIndex((inside) => inside < 4.000001)).toBe(Math.floor((6 * Math.LN2) / 0.2));
    expect(out.fridgeC[59]!).toBeCloseTo(4, 9);
    expect(out.fridgeW[59]!).toBeCloseTo((50 * 21) / 42, 9);
  });

  test('gets its watts through its cable: bus power = P + I²·R while it runs', () => {
    const out = follow(fridge(1));
    const amps = out.fridgeBusW[0]! / out.busV[0]!;
    expect(out.fridgeBusW[0]!).toBeCloseTo(50 + amps * amps * 0.1, 9);
    expect(out.fridgeV[0]!).toBeCloseTo(out.busV[0]! - amps * 0.1, 9);
  });

  test('cuts out by its own voltage, stays out until the cut-in, and does not switch in between', () => {
    // Cut out at once (a bus of 13 V less 0.4 V of cable is below 12.8 V), cut in above any rest voltage.
    const out = follow(fridge(30, { fridgeCutOutV: full(12.8, 1), fridgeCutInV: full(14, 1) }));
    expect([...out.fridgeCut].filter((cut) => cut > 0)).toEqual([2]);
    expect(Math.max(...out.fridgeW)).toBe(0);
    expect(Math.max(...out.fridgeOnShare)).toBe(0);
    expect(Math.min(...out.fridgeV)).toBe(1e9);
  });

  test('comes back when the bus is at its cut-in again, and not below', () => {
    // A heavy load for one step: 13 V less 0.7 A·Ω is below its cut-out; at rest the bus has 13 V.
    const back = (cutIn: number) =>
      follow(
        fridge(3, {
          ...flat,
          plainW: Float64Array.of(700, 0, 0),
          fridgeOhm: full(0, 1),
          fridgeCutOutV: full(12.4, 1),
          fridgeCutInV: full(cutIn, 1),
          fridgeRunW: Float64Array.of(50, 50, 50),
        }),
      );
    // in the second step the bus still stands where it was; it rests at the end of that
    expect([...back(13).fridgeOnShare]).toEqual([0, 0, 1]);
    expect([...back(13.001).fridgeOnShare]).toEqual([0, 0, 0]);
    expect([...back(13).fridgeCut]).toEqual([1, 0, 0]);
  });

  test('stops where its cable cannot carry its power, whatever its cut-out', () => {
    // V²/4R = 13²/(4 · 0.8) = 53 W is the most that comes through.
    const through = (watts: number) =>
      follow(fridge(1, { ...flat, fridgeOhm: full(0.8, 1), fridgeCutOutV: full(0, 1), fridgeRunW: full(watts, 1) }));
    expect(through(50).fridgeOnShare[0]).toBe(1);
    expect(through(50).fridgeCut[0]).toBe(0);
    expect(through(54).fridgeOnShare[0]).toBe(0);
    expect(through(54).fridgeCut[0]).toBe(2);
  });

  test('warms by its leak for as long as the loads are cut off within a step', () => {
    // 10 Ah of which a tenth is above the cut-off: 50 W last about a quarter of an hour.
    const out = follow(
      fridge(1, {
        ...flat,
        energyWh: flat.energyWh.map((wh) => wh / 10),
        capacityAh: 10,
        startSoc: 0.2,
        disconnectSoc: 0.1,
        stepH: 1,
        fridgeOhm: full(0, 1),
      }),
    );
    const runH = out.onShare[0]!;
    expect(runH).toBeGreaterThan(0.2);
    expect(runH).toBeLessThan(0.3);
    // Newton's law towards −17 °C while it runs, then towards 25 °C
    const stoppedC = -17 + 42 * Math.exp(-0.2 * runH);
    expect(out.fridgeC[0]!).toBeCloseTo(25 + (stoppedC - 25) * Math.exp(-0.2 * (1 - runH)), 9);
    expect(out.fridgeW[0]!).toBeCloseTo(50 * runH, 9);
    expect(out.fridgeOnShare[0]!).toBeCloseTo(runH, 12);
  });

  test.each([1, 0.5])(
    'with a thermostat that switches, runs from %f K above its set point to as much below, then rests',
    (swingK) => {
      const steps = 1200;
      const own = { fridgeSwingK: swingK, stepH: 1 / 60, fridgeStartC: full(4, 1), startSoc: 1, capacityAh: 1000 };
      const out = follow(fridge(steps, own));
      const runs = [...out.fridgeW].map((watts) => watts > 0);
      // It begins between its limits, so it waits until it is warm: 25 − 21·e^(−0.2 t) = 4 + swing.
      const warmsH = Math.log(21 / (21 - swingK)) / 0.2;
      const first = runs.indexOf(true);
      expect(first).toBe(Math.floor(60 * warmsH));
      expect(out.fridgeC[first - 1]!).toBeCloseTo(25 - 21 * Math.exp((-0.2 * first) / 60), 9);
      // From limit to limit: down while it tends to −17 °C, up while it tends to 25 °C, both 21 K from the set point
      const halfH = Math.log((21 + swingK) / (21 - swingK)) / 0.2;
      const starts = runs.flatMap((isOn, i) => (isOn && !runs[i - 1] ? [i] : []));
      expect(Math.abs(starts.length - (steps / 60 - warmsH) / (2 * halfH))).toBeLessThan(1.5);
      // once it runs it does not stop before it is cold
      for (const start of starts.slice(0, -1))
        for (let i = start; i < start + Math.floor(60 * halfH) - 1; i++) expect(out.fridgeW[i]!).toBeCloseTo(50, 9);
      expect(Math.min(...out.fridgeC)).toBeCloseTo(4 - swingK, 9);
      expect(Math.max(...out.fridgeC)).toBeLessThan(4 + swingK + 0.08); // less than a minute's warming above
      const ranH = out.fridgeW.reduce((sum, watts) => sum + watts, 0) / 50 / 60;
      expect(ranH / (steps / 60 - warmsH)).toBeCloseTo(0.5, 1);
    },
  );
});

test.each([3, 8, 21, 34, 55])(
  'step i is written to row i modulo the rows, over whatever stood there: random loop %i',
  (lot) => {
    const input = randomLoop(lot);
    const whole = follow(input);
    const rows = 7;
    const part = loopOutput(rows, input);
    part.all.fill(-1);
    runLoop(input, part, loopState(input));
    for (let at = 0; at < part.all.length; at++) {
      const [column, row] = [Math.floor(at / rows), at % rows];
      const step = input.steps - rows + ((row - (input.steps % rows) + rows) % rows);
      const is = whole.all[column * input.steps + step];
      // the columns of an array are those of PWM lanes alone
      const firstCharger = 9 + 6 * input.fridges + 2 * input.heavies;
      const isArray = column >= firstCharger + 2 * input.chargers;
      if (
        !isArray ||
        input.chargerKind[(column - firstCharger) % Math.max(1, input.chargers)] === PWM ||
        part.all[at] !== -1
      )
        expect(part.all[at], `column ${column}, step ${step}`).toBe(is);
    }
  },
);

test('a copy of a state moves on by itself', () => {
  const lots = Array.from({ length: 100 }, (_, lot) => randomLoop(lot));
  const input = lots.find(({ fridges, chargers }) => fridges === 2 && chargers === 3)!;
  const state = loopState(input);
  runLoop(input, loopOutput(30, input), state, 0, 10);
  const before = [state.now, state.fridges, state.chargers].map((column) => [...column]);
  const copy = copyState(state);
  expect(copy).toEqual(state);
  runLoop(input, loopOutput(30, input), copy, 10, 20);
  expect([state.now, state.fridges, state.chargers].map((column) => [...column])).toEqual(before);
  expect([...copy.now]).not.toEqual(before[0]);
  expect([...copy.fridges]).not.toEqual(before[1]);
});

test('led in parts, or through an output of a day, a run is the same to the last bit', () => {
  const drive = (step: number) => Math.max(0, 200 * Math.sin((2 * Math.PI * step) / 144));
  const input = inputOf(432, { plainW: 45, capacityAh: 40 }, [{ kind: CONVERTER, drive }]);
  const whole = follow(input);
  const state = loopState(input);
  const day = loopOutput(144, input);
  for (let from = 0; from < 432; from += 144) {
    for (const [a, b] of [
      [0, 7],
      [7, 8],
      [8, 144],
    ] as const)
      runLoop(input, day, state, from + a, from + b);
    expect(day.soc).toEqual(whole.soc.slice(from, from + 144));
    expect(day.chargerW).toEqual(whole.chargerW.slice(from, from + 144));
  }
});
