import { CONVERTER, type LoopInput, PWM, RELAY } from '../../../packages/core/src/simulate/loop/loop.js';

const STEPS = 30;
/** Of a PWM lane's table: from this voltage on, so many points half a volt apart; one ends within the bus's voltages. */
const PWM_TABLES: readonly { readonly fromV: number; readonly points: number }[] = [
  { fromV: 8, points: 25 },
  { fromV: 11.5, points: 6 },
];

/** Numbers that depend on nothing but `lot`. Source: Marsaglia 2003, Xorshift RNGs, J. Stat. Softw. 8(14). */
function drawing(lot: number): () => number {
  let state = (lot * 2654435761 + 88675123) >>> 0 || 1;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state = (state ^ (state << 5)) >>> 0;
    return state / 2 ** 32;
  };
}

/**
 * A battery, loads, fridges and chargers as no rig would join them: few points with bends between them, steps in which much of the charge
 * moves, limits that are met. So that a few steps pass what a usual rig meets once a year.
 */
export function randomLoop(lot: number): LoopInput {
  const random = drawing(lot);
  for (let n = 0; n < 8; n++) random();
  const real = (min: number, max: number) => min + (max - min) * random();
  const one = <T>(...values: readonly T[]) => values[Math.floor(random() * values.length)]!;
  const chance = (share: number) => random() < share;
  const columnOf = (length: number, value: (i: number) => number) => Float64Array.from({ length }, (_, i) => value(i));
  /** held for some steps, then another */
  const held = (value: () => number, changes = 0.3) => {
    let now = value();
    return columnOf(STEPS, () => {
      if (chance(changes)) now = value();
      return now;
    });
  };
  const lanes = (count: number, lane: (k: number) => Float64Array) => {
    const all = new Float64Array(count * STEPS);
    for (let k = 0; k < count; k++) all.set(lane(k), k * STEPS);
    return all;
  };

  const points = one(6, 11, 41, 201);
  const capacityAh = real(2, 30);
  const rise = real(0.3, 3) / points;
  let volts = real(10.5, 12.8);
  const ocvV = columnOf(points, (n) => {
    if (n > 0) volts += chance(0.2) ? 0 : rise * real(0, 2);
    return volts;
  });
  let held0 = 0;
  const energyWh = columnOf(points, (n) => {
    if (n > 0) held0 += (capacityAh / (points - 1)) * 0.5 * (ocvV[n - 1]! + ocvV[n]!);
    return held0;
  });
  const ohm = real(0.002, 0.08);
  const [outSlope, inSlope] = [real(0, 2), real(0, 3)];
  const ofSoc = (n: number) => n / (points - 1);
  const least = real(0.7, 1);
  const stepOhm = one(0, real(0, 0.02));
  const [bendV, bendA] = [one(0, real(0, 0.5)), real(0.02, 0.5) * capacityAh];
  const bySoc = chance(0.6);
  const disconnectSoc = real(0, 0.4);
  const disconnectV = real(ocvV[0]! - 1, ocvV[points - 1]!);
  const sizeA = capacityAh * one(0.1, 0.3, 1);
  const fridges = one(0, 0, 1, 2);
  const sharesCompressor = fridges === 2 && chance(0.5);
  const fridgeLossWPerK = lanes(fridges, () => held(() => real(0.2, 2)));
  const fridgeFoodKgPerH = lanes(fridges, () => held(() => one(0, 0, real(0, 2))));
  const kinds = one<readonly number[]>(
    [],
    [CONVERTER],
    [PWM],
    [RELAY],
    [CONVERTER, PWM],
    [CONVERTER, CONVERTER, RELAY],
    [RELAY, PWM, CONVERTER],
  );
  const cableOhm = real(0, 0.05);
  const plainW = held(() => (chance(0.3) ? 0 : real(0, 13 * sizeA)));
  const topV = ocvV[points - 1]! + real(0, 1.5);
  const cutOutV = columnOf(fridges, () => real(ocvV[0]! - 1.5, ocvV[points - 1]! - 0.2));
  const hasWells = chance(0.5);
  const wellReserveAh = hasWells ? real(0, 0.4) * capacityAh : 0;
  const startSoc = one(0, 1, real(0, 1), real(0, 1), real(0, 1));
  const tracksBoth = chance(0.5);
  const pwm = one(...PWM_TABLES);

  return {
    steps: STEPS,
    stepH: one(1 / 60, 1 / 6, 0.5, 1),
    points,
    ocvV,
    energyWh,
    dischargeOhm: columnOf(points, (n) => ohm * (1 + outSlope * (1 - ofSoc(n)) ** 2)),
    chargeOhm: columnOf(points, (n) => ohm * (1 + inSlope * ofSoc(n) ** 3)),
    chargeSteepOhm: columnOf(points, (n) => ohm * (1 + inSlope * ofSoc(n) ** 3) + (bendV / bendA) * (1.2 - ofSoc(n))),
    chargeStepOhm: columnOf(points, (n) => stepOhm * ofSoc(n)),
    chargeBendV: columnOf(points, (n) => bendV * (1.2 - ofSoc(n))),
    chargeEfficiency: columnOf(points, (n) => 1 - (1 - least) * ofSoc(n) ** 2),
    capacityAh,
    lowestV: one(0, ocvV[0]! - 0.5, real(ocvV[0]! - 0.5, ocvV[points - 1]!)),
    kneeV: one(0, real(0, 1)),
    kneeA: real(0.01, 0.3) * capacityAh,
    wellReserveAh,
    emptySoc: one(0, -wellReserveAh / capacityAh),
    mainOhm: one(0, real(0, 0.02)),
    startSoc,
    maxDischargeA: one(Infinity, real(1, 4) * sizeA),
    resistanceFactor: held(() => real(0.8, 3)),
    chargeFactor: held(() => real(0.8, 4)),
    wellShare: held(() => (hasWells ? real(0.2, 0.8) : 1)),
    wellPerH: held(() => real(0.2, 3)),
    chargeLimitA: held(() => (chance(0.15) ? 0 : real(0, 2) * capacityAh)),
    coldLimited: held(() => one(0, 1)),
    selfDischargeA: held(() => one(0, real(0, 0.02) * capacityAh)),
    disconnectSoc: bySoc ? disconnectSoc : -1,
    disconnectV: bySoc ? 0 : disconnectV,
    reconnectSoc: bySoc ? disconnectSoc + real(0.02, 0.2) : 2,
    reconnectV: bySoc ? 1e9 : disconnectV + real(0.1, 1),
    plainW,
    plainQuad: plainW.map((watts) => cableOhm * watts ** 2),
    plainCube: plainW.map((watts) => 2 * cableOhm ** 2 * watts ** 3),
    plainFourth: plainW.map((watts) => 5 * cableOhm ** 3 * watts ** 4),
    plainA: held(() => one(0, real(0, sizeA))),
    unswitchedW: held(() => one(0, real(0, 3 * sizeA))),
    fridges,
    fridgeOhm: columnOf(fridges, () => real(0, 1.5) / sizeA),
    fridgeCutOutV: cutOutV,
    fridgeCutInV: cutOutV.map((cut) => cut + real(0.1, 1.3)),
    fridgeSetC: columnOf(fridges, () => real(-18, 8)),
    fridgeStartC: columnOf(fridges, () => real(-18, 30)),
    fridgeSwingK: 0,
    fridgePartner: columnOf(fridges, (k) => (sharesCompressor ? 1 - k : -1)),
    fridgeContentKg: columnOf(fridges, () => real(0, 20)),
    fridgeLinerWhPerK: columnOf(fridges, () => real(0.3, 3)),
    fridgeLossWPerK,
    fridgeFoodKgPerH,
    fridgeInflowW: fridgeLossWPerK.map((loss, i) => loss * real(-5, 40) + fridgeFoodKgPerH[i]! * real(-20, 40)),
    fridgeCoolingW: lanes(fridges, () => held(() => one(0, real(0, 80), real(0, 80)))),
    fridgeRunW: lanes(fridges, () => held(() => real(0, 8 * sizeA))),
    ...heavyLoads(drawing(lot + 1e6), ocvV, sizeA),
    chargers: kinds.length,
    chargerKind: Float64Array.from(kinds),
    chargerOhm: columnOf(kinds.length, () => real(0.001, 0.5) / sizeA),
    absorptionV: columnOf(kinds.length, () => topV),
    floatV: columnOf(kinds.length, () => topV - real(0.1, 1)),
    holdH: columnOf(kinds.length, () => real(0.02, 4)),
    tailA: columnOf(kinds.length, () => one(0, real(0, 0.3) * sizeA)),
    restartBelowV: columnOf(kinds.length, () => topV - real(0.8, 2)),
    compensationV: lanes(kinds.length, () => held(() => one(0, real(-0.3, 0.5)))),
    sharesWith: columnOf(kinds.length, (j) => (j > 0 && tracksBoth ? j - 1 : -1)),
    drive: lanes(kinds.length, (j) =>
      held(() => {
        if (chance(0.15)) return 0;
        return kinds[j] === RELAY ? topV + real(-2, 1) : kinds[j] === PWM ? 1 : real(0, 30) * sizeA;
      }),
    ),
    limitA: lanes(kinds.length, () => held(() => (chance(0.05) ? 0 : real(0.2, 3) * sizeA))),
    chargerShare: lanes(kinds.length, () => held(() => one(1, 1, real(0, 1), 0))),
    pwmOhm: columnOf(kinds.length, () => real(0, 1) / sizeA),
    relayBackA: columnOf(kinds.length, () => one(0, real(0, 2) * sizeA)),
    relayJoinV: columnOf(kinds.length, () => one(0, ocvV[points - 1]! + real(-0.5, 0.5))),
    relayPartV: columnOf(kinds.length, () => one(0, ocvV[points - 1]! - real(0.2, 1))),
    relayDrawA: columnOf(kinds.length, () => one(0, real(0, 0.5) * sizeA)),
    pwmDropV: one(0, real(0, 0.3)),
    pwmFromV: pwm.fromV,
    pwmStepV: 0.5,
    pwmPoints: pwm.points,
    pwmA: kinds.map((kind) => (kind === PWM ? pwmTable(pwm, real, sizeA) : new Float64Array(0))),
  };
}

/** None, one or two, from numbers of their own. */
function heavyLoads(random: () => number, ocvV: Float64Array, sizeA: number) {
  for (let n = 0; n < 8; n++) random();
  const real = (min: number, max: number) => min + (max - min) * random();
  const topV = ocvV[ocvV.length - 1]!;
  const heavies = Math.floor(random() * 4) % 3; // none more often
  const lanes = (value: () => number) => Float64Array.from({ length: heavies }, value);
  const columns = (value: () => number) => {
    let now = 0;
    return Float64Array.from({ length: heavies * STEPS }, (_, i) => {
      if (i % STEPS === 0 || random() < 0.3) now = value();
      return now;
    });
  };
  const cutOutV = lanes(() => (random() < 0.5 ? 0 : real(ocvV[0]! - 1.5, topV - 0.2)));
  return {
    heavies,
    heavyOhm: lanes(() => real(0, 1.5) / sizeA),
    heavyCutOutV: cutOutV,
    heavyCutInV: cutOutV.map((cut) => (cut > 0 ? cut + real(0.1, 1.3) : 0)),
    heavyW: columns(() => real(0, 8 * sizeA)),
    heavyRuns: columns(() => (random() < 0.4 ? 0 : random() < 0.6 ? 1 : random())),
  };
}

/** Each step an array's current over the voltage, flat at first and then falling more and more, below nothing above its open voltage. */
function pwmTable(
  { fromV, points }: (typeof PWM_TABLES)[number],
  real: (min: number, max: number) => number,
  sizeA: number,
): Float64Array {
  const table = new Float64Array(STEPS * points);
  for (let i = 0; i < STEPS; i++) {
    const shortA = real(0, 2) * sizeA;
    const openV = real(11, 22);
    for (let n = 0; n < points; n++) table[i * points + n] = shortA * (1 - ((fromV + 0.5 * n) / openV) ** 8);
  }
  return table;
}
