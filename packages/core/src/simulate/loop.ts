import { ABSORPTION, FLOAT, nextStage } from '../charge/index.js';

/**
 * The step loop: the one place with feedback. Battery, bus, charger stages, fridge thermostats and cut-outs, over
 * columns that were computed whole beforehand. Hot: no allocation, no closures, no throw; every array is a Float64Array.
 *
 * One scalar equation is solved per step. The unknown is the battery's terminal current I, positive = charging:
 *     supply(V) − demand(V) = I,   V = OCV̄(soc → soc′) + I·(R + Rmain)
 * OCV̄ is the mean of the open-circuit voltage over the charge moved in the step, so that stored energy E(soc) = ∫ OCV dQ,
 * heat I²·R and bus power close to rounding whatever the step. Supply falls and demand hardly rises with V, so the
 * left side less I is strictly decreasing: Newton inside a bracket finds its single root.
 * A step in which the battery reaches its cut-off is split there: loads on before, off after.
 */

/** What a charger lane is; it says what `drive` means. */
export const CONVERTER = 0; // drive: most it can put out [W]
export const PWM = 1; // drive: above 0 when lit; current from the lane's I-V table
export const RELAY = 2; // drive: voltage of its source [V]

export const LIMIT_NONE = 0;
export const LIMIT_SOURCE = 1;
export const LIMIT_RATING = 2;
export const LIMIT_VOLTAGE = 3;
export const LIMIT_COLD = 4;
export const LIMIT_FULL = 5;

/** Columns hold `steps` values; lane columns hold lanes × steps, lane by lane. Never written by the loop. */
export interface LoopInput {
  readonly steps: number;
  readonly stepH: number;

  /** tables on a uniform grid of SoC 0..1, for the whole bank at 25 °C */
  readonly points: number;
  readonly ocvV: Float64Array;
  readonly energyWh: Float64Array;
  readonly dischargeOhm: Float64Array;
  readonly chargeOhm: Float64Array;
  readonly chargeEfficiency: Float64Array;
  readonly capacityAh: number;
  /** two wells: share of the available one, (0, 1]; 1 = a single well */
  readonly wellShare: number;
  /** two wells: rate constant k = k′/(c(1 − c)) [1/h] */
  readonly wellPerH: number;
  /** two wells: charge that is still bound when the rated capacity is out [Ah] */
  readonly wellReserveAh: number;
  readonly mainOhm: number;
  readonly startSoc: number;
  readonly maxDischargeA: number;
  readonly resistanceFactor: Float64Array;
  readonly emptySoc: Float64Array;
  readonly chargeLimitA: Float64Array;
  /** the limit in that column is the cold's, not the rating's: 1 or 0 */
  readonly coldLimited: Float64Array;
  readonly selfDischargeA: Float64Array;

  /** loads go off at or below, on again at or above; −1 and 2 = not by SoC, 0 and 1e9 = not by voltage */
  readonly disconnectSoc: number;
  readonly disconnectV: number;
  readonly reconnectSoc: number;
  readonly reconnectV: number;

  /** loads on the bus, current u·(w + u²·(quad + u²·(cube + u²·fourth))) + amps with u = 1/V: cable loss as a series */
  readonly plainW: Float64Array;
  readonly plainQuad: Float64Array;
  readonly plainCube: Float64Array;
  readonly plainFourth: Float64Array;
  readonly plainA: Float64Array;
  /** drawn ahead of the disconnect: controllers' own draw, battery heater [W] */
  readonly alwaysW: Float64Array;

  readonly fridges: number;
  readonly fridgeOhm: Float64Array;
  readonly fridgeCutOutV: Float64Array;
  readonly fridgeCutInV: Float64Array;
  readonly fridgeSetC: Float64Array;
  readonly fridgeStartC: Float64Array;
  /** heat leak [W/K] and heat capacity [Wh/K] */
  readonly fridgeLeakWPerK: Float64Array;
  readonly fridgeHeatWhPerK: Float64Array;
  /** lane columns: room [°C], heat put in [W], cooling and electrical power while the compressor runs [W] */
  readonly fridgeRoomC: Float64Array;
  readonly fridgeGainW: Float64Array;
  readonly fridgeCoolW: Float64Array;
  readonly fridgeRunW: Float64Array;

  readonly chargers: number;
  readonly chargerKind: Float64Array;
  readonly chargerOhm: Float64Array;
  /** set points at 25 °C and their correction column */
  readonly absorptionV: Float64Array;
  readonly floatV: Float64Array;
  readonly absorptionH: Float64Array;
  readonly tailA: Float64Array;
  readonly rebulkV: Float64Array;
  readonly compensationV: Float64Array;
  /** lane that shares this lane's current limit, or −1 */
  readonly sharesWith: Float64Array;
  /** lane columns */
  readonly drive: Float64Array;
  readonly limitA: Float64Array;
  /** PWM: ohms between array and controller, and array current at voltages pwmFromV + n·pwmStepV, step by step */
  readonly pwmOhm: Float64Array;
  /** PWM: what its switches drop [V] */
  readonly pwmDropV: number;
  readonly pwmFromV: number;
  readonly pwmStepV: number;
  readonly pwmPoints: number;
  /** one table a lane (empty for the other kinds), `pwmPoints` values a step */
  readonly pwmA: readonly Float64Array[];
}

/** What a run leaves. Means over the step unless said otherwise; reused from run to run when the shape is the same. */
export interface LoopOutput {
  /** at the end of the step */
  readonly soc: Float64Array;
  /** where loads meet: while they are connected in a step that is split */
  readonly busV: Float64Array;
  readonly batteryV: Float64Array;
  readonly batteryA: Float64Array;
  readonly batteryLossW: Float64Array;
  readonly mainLossW: Float64Array;
  /** share of the step with the loads connected */
  readonly onShare: Float64Array;
  /** share of the step in which the draws ahead of the disconnect were met */
  readonly alwaysShare: Float64Array;
  readonly limit: Float64Array;
  readonly fridgeW: Float64Array;
  readonly fridgeBusW: Float64Array;
  /** share of the step the fridge's own electronics were on and fed */
  readonly fridgeOnShare: Float64Array;
  /** at the end of the step */
  readonly fridgeC: Float64Array;
  /** lowest voltage at the fridge while its compressor ran; 1e9 when it did not */
  readonly fridgeV: Float64Array;
  /** 1 in a step in which its own cut-out acted, 2 when the bus alone was above the cut-out */
  readonly fridgeCut: Float64Array;
  /** lane columns: at the charger's terminals, and what reaches the bus */
  readonly chargerW: Float64Array;
  readonly chargerBusW: Float64Array;
  /** PWM lanes: power at the array's terminals, and what it had to give at that voltage */
  readonly arrayW: Float64Array;
  readonly arrayAvailableW: Float64Array;
}

export function loopOutput(steps: number, fridges: number, chargers: number): LoopOutput {
  const column = (lanes = 1) => new Float64Array(lanes * steps);
  return {
    soc: column(),
    busV: column(),
    batteryV: column(),
    batteryA: column(),
    batteryLossW: column(),
    mainLossW: column(),
    onShare: column(),
    alwaysShare: column(),
    limit: column(),
    fridgeW: column(fridges),
    fridgeBusW: column(fridges),
    fridgeOnShare: column(fridges),
    fridgeC: column(fridges),
    fridgeV: column(fridges),
    fridgeCut: column(fridges),
    chargerW: column(chargers),
    chargerBusW: column(chargers),
    arrayW: column(chargers),
    arrayAvailableW: column(chargers),
  };
}

/** Adds watts that depend on the state of charge (an expression in `soc`); rare, so off the fast path. */
export type SocDraw = (step: number, soc: number) => number;

/** Current in amperes to which the bus is solved; through the battery's resistance it is below a microvolt. */
const CURRENT_TOLERANCE_A = 1e-7;
const MOST_ITERATIONS = 60;

/** Scratch lanes, so that nothing is allocated while stepping. */
export interface LoopScratch {
  readonly stage: Float64Array;
  readonly stageH: Float64Array;
  readonly chargerA: Float64Array;
  readonly voltageLimited: Float64Array;
  readonly fridgeOn: Float64Array;
  readonly fridgeNowC: Float64Array;
  readonly fridgeDuty: Float64Array;
  /** share of a temperature difference that is left after a whole step */
  readonly fridgeKeep: Float64Array;
  /** this step's fridges that may run, and what the solver needs of them */
  readonly running: Int32Array;
  readonly runW: Float64Array;
  /** this step's chargers that have something to give, and what the solver needs of them */
  readonly live: Int32Array;
  readonly liveKind: Float64Array;
  readonly liveOhm: Float64Array;
  readonly liveSetV: Float64Array;
  readonly liveMostA: Float64Array;
  readonly liveDrive: Float64Array;
}

export function loopScratch(fridges: number, chargers: number): LoopScratch {
  return {
    stage: new Float64Array(chargers),
    stageH: new Float64Array(chargers),
    chargerA: new Float64Array(chargers),
    voltageLimited: new Float64Array(chargers),
    fridgeOn: new Float64Array(fridges),
    fridgeNowC: new Float64Array(fridges),
    fridgeDuty: new Float64Array(fridges),
    fridgeKeep: new Float64Array(fridges),
    running: new Int32Array(fridges),
    runW: new Float64Array(fridges),
    live: new Int32Array(chargers),
    liveKind: new Float64Array(chargers),
    liveOhm: new Float64Array(chargers),
    liveSetV: new Float64Array(chargers),
    liveMostA: new Float64Array(chargers),
    liveDrive: new Float64Array(chargers),
  };
}

/**
 * Runs the loop over every step.
 * @param socDraw extra watts on the bus that depend on the state of charge, with `socDrawW` to receive them
 */
export function runLoop(
  input: LoopInput,
  out: LoopOutput,
  scratch: LoopScratch,
  socDraw?: SocDraw,
  socDrawW?: Float64Array,
): void {
  const {
    steps,
    stepH,
    points,
    ocvV,
    energyWh,
    dischargeOhm,
    chargeOhm,
    chargeEfficiency,
    capacityAh,
    wellShare,
    wellPerH,
    wellReserveAh,
  } = input;
  const { mainOhm, maxDischargeA, resistanceFactor, emptySoc, chargeLimitA, coldLimited, selfDischargeA } = input;
  const {
    disconnectSoc,
    disconnectV,
    reconnectSoc,
    reconnectV,
    plainW,
    plainQuad,
    plainCube,
    plainFourth,
    plainA,
    alwaysW,
  } = input;
  const { fridges, fridgeOhm, fridgeCutOutV, fridgeCutInV, fridgeSetC, fridgeLeakWPerK, fridgeHeatWhPerK } = input;
  const { fridgeRoomC, fridgeGainW, fridgeCoolW, fridgeRunW } = input;
  const {
    chargers,
    chargerKind,
    chargerOhm,
    absorptionV,
    floatV,
    absorptionH,
    tailA,
    rebulkV,
    compensationV,
    sharesWith,
  } = input;
  const { drive, limitA, pwmOhm, pwmDropV, pwmFromV, pwmStepV, pwmPoints, pwmA } = input;
  const { stage, stageH, chargerA, voltageLimited, fridgeOn, fridgeNowC, fridgeDuty, fridgeKeep } = scratch;
  const { running, runW, live, liveKind, liveOhm, liveSetV, liveMostA, liveDrive } = scratch;
  const {
    soc: outSoc,
    busV: outBusV,
    batteryV: outBatteryV,
    batteryA: outBatteryA,
    batteryLossW: outBatteryLossW,
    mainLossW: outMainLossW,
    onShare: outOnShare,
    alwaysShare: outAlwaysShare,
    limit: outLimit,
  } = out;
  const {
    fridgeW: outFridgeW,
    fridgeBusW: outFridgeBusW,
    fridgeOnShare: outFridgeOnShare,
    fridgeC: outFridgeC,
    fridgeV: outFridgeV,
    fridgeCut: outFridgeCut,
    chargerW: outChargerW,
    chargerBusW: outChargerBusW,
    arrayW: outArrayW,
    arrayAvailableW: outArrayAvailableW,
  } = out;
  const last = points - 1;
  const oneWell = wellShare >= 1;

  let soc = input.startSoc;
  const fullWellAh = wellShare * (capacityAh + wellReserveAh);
  let available = wellShare * (soc * capacityAh + wellReserveAh); // the available well [Ah]
  let wellDtH = -1; // the step for which the three coefficients of the two wells below hold
  let wellKeep = 0;
  let wellShift = 0;
  let wellGainH = 1;
  let on = 1;
  let batteryA = 0;
  let busV = ocvV[Math.min(last, Math.floor(soc * last))]!;
  for (let k = 0; k < fridges; k++) {
    fridgeOn[k] = 1;
    fridgeNowC[k] = input.fridgeStartC[k]!;
    fridgeKeep[k] = Math.exp((-stepH * fridgeLeakWPerK[k]!) / fridgeHeatWhPerK[k]!);
  }
  for (let j = 0; j < chargers; j++) {
    stage[j] = 0;
    stageH[j] = 0;
    chargerA[j] = 0;
  }

  outFridgeW.fill(0);
  outFridgeBusW.fill(0);
  outFridgeOnShare.fill(0);
  outFridgeV.fill(1e9);
  outFridgeCut.fill(0);
  outChargerW.fill(0);
  outChargerBusW.fill(0);
  outArrayW.fill(0);
  outArrayAvailableW.fill(0);

  for (let i = 0; i < steps; i++) {
    let restH = stepH;
    let meanV = 0;
    let meanA = 0;
    let lossW = 0;
    let mainW = 0;
    let onH = 0;
    let alwaysH = 0;
    let onV = 0;
    let limit = LIMIT_NONE;
    let extraWh = 0;
    for (let k = 0; k < fridges; k++) if (fridgeOn[k] === 0 && busV >= fridgeCutInV[k]!) fridgeOn[k] = 1;
    const plainNowW = plainW[i]!;
    const plainNowQuad = plainQuad[i]!;
    const plainNowCube = plainCube[i]!;
    const plainNowFourth = plainFourth[i]!;
    const plainNowA = plainA[i]!;
    let lives = 0;
    for (let j = 0; j < chargers; j++) {
      const at = j * steps + i;
      const mostA = limitA[at]!;
      const given = drive[at]!;
      if (mostA > 0 && given > 0) {
        const kind = chargerKind[j]!;
        live[lives] = j;
        liveKind[lives] = kind;
        liveOhm[lives] = chargerOhm[j]!;
        liveSetV[lives] =
          kind === RELAY ? given : (stage[j] === FLOAT ? floatV[j]! : absorptionV[j]!) + compensationV[at]!;
        liveMostA[lives] = mostA;
        liveDrive[lives] = given;
        lives++;
      } else {
        // Without a source the next one begins with bulk again: each morning, each drive.
        stage[j] = 0;
        stageH[j] = 0;
        chargerA[j] = 0;
      }
    }
    const empty = emptySoc[i]!;
    const cutSoc = disconnectSoc > empty ? disconnectSoc : empty;
    if (on === 0 && (soc >= reconnectSoc || busV >= reconnectV) && soc > cutSoc + 1e-6) on = 1;

    while (restH > 1e-9 * stepH) {
      let dtH = restH;
      let partial = false; // dtH already shortened to end at the cut-off

      // What stays the same while this phase is solved.
      const x0 = soc * last;
      let k0 = x0 | 0;
      if (k0 < 0) k0 = 0;
      else if (k0 >= last) k0 = last - 1;
      const ocvLow = ocvV[k0]!;
      const slope0 = ocvV[k0 + 1]! - ocvLow; // per table interval
      const ocv0 = ocvLow + slope0 * (x0 - k0);
      const efficiency = chargeEfficiency[k0]! + (chargeEfficiency[k0 + 1]! - chargeEfficiency[k0]!) * (x0 - k0);
      // Discharge resistance follows the available well when that is the emptier: the knee comes early at high rates.
      const well = oneWell ? x0 : (available / fullWellAh) * last;
      const reach = well < x0 ? well : x0;
      const kr = reach >= last ? last - 1 : reach | 0;
      const factor = resistanceFactor[i]!;
      const outOhm = factor * (dischargeOhm[kr]! + (dischargeOhm[kr + 1]! - dischargeOhm[kr]!) * (reach - kr));
      const inOhm = factor * (chargeOhm[k0]! + (chargeOhm[k0 + 1]! - chargeOhm[k0]!) * (x0 - k0));
      const leakA = soc * selfDischargeA[i]!; // a share of the charge that is held

      for (;;) {
        // Solve the bus for dtH with the loads as they stand; come back when a cut-out changes that.
        if (!oneWell && dtH !== wellDtH) {
          wellDtH = dtH;
          const kt = wellPerH * dtH;
          const left = -Math.expm1(-kt);
          wellKeep = 1 - left;
          wellShift = wellShare * left;
          wellGainH = (left + wellShare * (kt - left)) / wellPerH;
        }
        let highA = chargeLimitA[i]!;
        let highIsFull = false;
        const roomA = ((1 - soc) * capacityAh) / (efficiency * dtH) + leakA;
        if (roomA < highA) {
          highA = roomA;
          highIsFull = true;
        }
        let lowA = -maxDischargeA;
        if (!oneWell) {
          // Manwell & McGowan 1993: the largest currents that keep the available well between empty and full.
          const held = wellKeep * available + wellShift * (soc * capacityAh + wellReserveAh);
          const mostOutA = held / wellGainH - leakA;
          if (-mostOutA > lowA) lowA = mostOutA > 0 ? -mostOutA : 0;
          const mostInA = ((fullWellAh - held) / wellGainH + leakA) / efficiency;
          if (mostInA < highA) {
            highA = mostInA < 0 ? 0 : mostInA;
            highIsFull = true;
          }
        }
        let runs = 0;
        for (let k = 0; k < fridges; k++) {
          fridgeDuty[k] = 0;
          if (on === 0 || fridgeOn[k] === 0) continue;
          const at = k * steps + i;
          const leak = fridgeLeakWPerK[k]!;
          const keep = dtH === stepH ? fridgeKeep[k]! : Math.exp((-dtH * leak) / fridgeHeatWhPerK[k]!);
          const restC = fridgeRoomC[at]! + fridgeGainW[at]! / leak;
          const freeC = restC + (fridgeNowC[k]! - restC) * keep;
          const pullK = (fridgeCoolW[at]! / leak) * (1 - keep);
          const duty = pullK > 0 ? (freeC - fridgeSetC[k]!) / pullK : 0;
          if (duty > 0) {
            fridgeDuty[k] = duty > 1 ? 1 : duty;
            running[runs] = k;
            runW[runs] = fridgeRunW[at]!;
            runs++;
          }
        }
        const extraW = socDraw !== undefined && on === 1 ? socDraw(i, soc) : 0;
        const isEmpty = soc <= empty && on === 0;
        const ahead = isEmpty ? 0 : alwaysW[i]!;

        let bracketLow = lowA;
        let bracketHigh = highA;
        let lowTried = false; // the ends of the bracket are roots of a kind: overload and curtailment
        let highTried = false;
        let amps = batteryA < lowA ? lowA : batteryA > highA ? highA : batteryA;
        let ocvMean = ocv0;
        let volts = ocv0;
        let busVolts = ocv0;
        let supplyA = 0;
        let demandA = 0;
        let curtailed = false;
        let overloaded = false;
        for (let round = 0; round < MOST_ITERATIONS; round++) {
          // The battery's voltage at this current.
          const moved = ((amps > 0 ? efficiency * amps : amps) - leakA) * dtH;
          const x1 = x0 + (moved / capacityAh) * last;
          let k1 = x1 | 0;
          if (k1 < 0) k1 = 0;
          else if (k1 >= last) k1 = last - 1;
          if (k1 === k0) ocvMean = ocv0 + 0.5 * slope0 * (x1 - x0);
          else if (k1 === k0 + 1) {
            const knot = ocvV[k1]!;
            const end = knot + (ocvV[k1 + 1]! - knot) * (x1 - k1);
            ocvMean = (0.5 * (ocv0 + knot) * (k1 - x0) + 0.5 * (knot + end) * (x1 - k1)) / (x1 - x0);
          } else if (k1 === k0 - 1) {
            const knot = ocvV[k0]!;
            const end = ocvV[k1]! + (knot - ocvV[k1]!) * (x1 - k1);
            ocvMean = (0.5 * (ocv0 + knot) * (x0 - k0) + 0.5 * (knot + end) * (k0 - x1)) / (x0 - x1);
          } else {
            const whole = capacityAh / last;
            const d0 = x0 - k0;
            const d1 = x1 - k1;
            const e0 = energyWh[k0]! + whole * d0 * (ocvLow + 0.5 * slope0 * d0);
            const e1 = energyWh[k1]! + whole * d1 * (ocvV[k1]! + 0.5 * (ocvV[k1 + 1]! - ocvV[k1]!) * d1);
            ocvMean = (e1 - e0) / (whole * (x1 - x0));
          }
          const ohm = amps > 0 ? inOhm : outOhm;
          volts = ocvMean + amps * ohm;
          busVolts = volts + amps * mainOhm;
          const u = 1 / busVolts;
          const voltsPerA = ohm + mainOhm + (0.5 * slope0 * last * dtH * (amps > 0 ? efficiency : 1)) / capacityAh;

          demandA = ahead * u;
          let demandSlope = -demandA * u;
          if (on === 1) {
            const u2 = u * u;
            const series = plainNowW + extraW + u2 * (plainNowQuad + u2 * (plainNowCube + u2 * plainNowFourth));
            demandA += u * series + plainNowA;
            demandSlope -= u2 * series;
            for (let r = 0; r < runs; r++) {
              const k = running[r]!;
              const watts = runW[r]!;
              const under = busVolts * busVolts - 4 * fridgeOhm[k]! * watts;
              const meanA =
                under > 0
                  ? (2 * fridgeDuty[k]! * watts) / (busVolts + Math.sqrt(under))
                  : 2 * fridgeDuty[k]! * watts * u;
              demandA += meanA;
              demandSlope -= meanA * u;
            }
          }

          supplyA = 0;
          let supplySlope = 0;
          for (let n = 0; n < lives; n++) {
            const j = live[n]!;
            const kind = liveKind[n]!;
            const ohms = liveOhm[n]!;
            let mostA = liveMostA[n]!;
            const partner = sharesWith[j]!;
            if (partner >= 0) mostA -= chargerA[partner]!;
            if (mostA < 0) mostA = 0;
            let givenA = mostA;
            let slope = 0;
            if (kind === CONVERTER) {
              const watts = liveDrive[n]!;
              givenA = (2 * watts) / (busVolts + Math.sqrt(busVolts * busVolts + 4 * ohms * watts));
              slope = -givenA * u;
            } else if (kind === PWM) {
              const table = pwmA[j]!;
              let place = (busVolts + chargerA[j]! * (ohms + pwmOhm[j]!) + pwmDropV - pwmFromV) / pwmStepV;
              if (place < 0) place = 0;
              else if (place > pwmPoints - 1) place = pwmPoints - 1;
              let from = place | 0;
              if (from > pwmPoints - 2) from = pwmPoints - 2;
              const left = table[i * pwmPoints + from]!;
              const difference = table[i * pwmPoints + from + 1]! - left;
              givenA = left + difference * (place - from);
              slope = difference / pwmStepV;
              if (givenA < 0) givenA = 0;
            }
            if (givenA >= mostA) {
              givenA = mostA;
              slope = 0;
            }
            const heldA = (liveSetV[n]! - busVolts) / ohms;
            if (heldA < givenA) {
              voltageLimited[j] = 1;
              givenA = heldA < 0 ? 0 : heldA;
              slope = heldA < 0 ? 0 : -1 / ohms;
            } else voltageLimited[j] = 0;
            chargerA[j] = givenA;
            supplyA += givenA;
            supplySlope += slope;
          }

          const excess = supplyA - demandA - amps;
          if (excess <= CURRENT_TOLERANCE_A && excess >= -CURRENT_TOLERANCE_A) break;
          if (excess > 0) {
            if (amps >= highA) {
              curtailed = true;
              break;
            }
            bracketLow = amps;
            lowTried = true;
          } else {
            if (amps <= lowA) {
              overloaded = true;
              break;
            }
            bracketHigh = amps;
            highTried = true;
          }
          let next = amps + excess / (1 - (supplySlope - demandSlope) * voltsPerA);
          if (!(next > bracketLow && next < bracketHigh)) {
            if (next >= bracketHigh && !highTried) next = bracketHigh;
            else if (next <= bracketLow && !lowTried) next = bracketLow;
            else next = 0.5 * (bracketLow + bracketHigh);
          }
          // A table's knot or a limit between two rounds: the bracket has closed, so both sides are the root.
          if (next === amps) break;
          amps = next;
        }

        if (overloaded && on === 1) {
          // More is asked than the battery can give: as much of the step as it can carry, then off.
          const share = lowA < 0 && !partial ? lowA / (supplyA - demandA) : 0;
          if (share > 1e-6) {
            dtH *= share;
            partial = true;
            continue;
          }
          on = 0;
          dtH = restH;
          partial = false;
          continue;
        }
        if (on === 1 && !partial) {
          const endSoc = soc + (((amps > 0 ? efficiency * amps : amps) - leakA) * dtH) / capacityAh;
          if (endSoc < cutSoc && amps < 0) {
            const share = (soc - cutSoc) / (soc - endSoc);
            if (share <= 1e-6) {
              on = 0;
              continue;
            }
            if (share < 1 - 1e-9) {
              dtH *= share;
              partial = true;
              continue;
            }
          }
        }
        if (on === 1 && busVolts < disconnectV) {
          on = 0;
          dtH = restH;
          partial = false;
          continue;
        }
        let again = false;
        for (let r = 0; r < runs; r++) {
          const k = running[r]!;
          const at = k * steps + i;
          const under = busVolts * busVolts - 4 * fridgeOhm[k]! * runW[r]!;
          const runA = under > 0 ? (2 * runW[r]!) / (busVolts + Math.sqrt(under)) : (2 * runW[r]!) / busVolts;
          // While it runs the bus sags by what the mean over the step hides.
          const runBusV = busVolts - (1 - fridgeDuty[k]!) * runA * (outOhm + mainOhm);
          const seenV = runBusV - runA * fridgeOhm[k]!;
          if (under <= 0 || seenV < fridgeCutOutV[k]!) {
            fridgeOn[k] = 0;
            outFridgeCut[at] = runBusV >= fridgeCutOutV[k]! ? 2 : 1;
            again = true;
          } else if (seenV < outFridgeV[at]!) outFridgeV[at] = seenV;
        }
        if (again) {
          dtH = restH;
          partial = false;
          continue;
        }

        // Settled: book this phase.
        let scale = 1;
        if (curtailed) {
          scale = supplyA > 0 ? (amps + demandA) / supplyA : 0;
          limit = highIsFull ? LIMIT_FULL : coldLimited[i] === 1 ? LIMIT_COLD : LIMIT_RATING;
        }
        const solvedA = amps;
        if (!curtailed) amps = supplyA - demandA;
        const shareOfStep = dtH / stepH;
        let strongest = curtailed ? limit : LIMIT_NONE;
        for (let n = 0; n < lives; n++) {
          const j = live[n]!;
          const at = j * steps + i;
          const kind = liveKind[n]!;
          const given = chargerA[j]! * scale;
          const isHeld = voltageLimited[j] === 1;
          const terminalV = busVolts + given * liveOhm[n]!;
          outChargerW[at] = outChargerW[at]! + given * terminalV * shareOfStep;
          outChargerBusW[at] = outChargerBusW[at]! + given * busVolts * shareOfStep;
          if (kind === PWM) {
            const table = pwmA[j]!;
            const arrayV = terminalV + given * pwmOhm[j]! + pwmDropV;
            let place = (arrayV - pwmFromV) / pwmStepV;
            if (place < 0) place = 0;
            else if (place > pwmPoints - 1) place = pwmPoints - 1;
            let from = place | 0;
            if (from > pwmPoints - 2) from = pwmPoints - 2;
            const left = table[i * pwmPoints + from]!;
            const harvest = given * arrayV;
            const offered = (left + (table[i * pwmPoints + from + 1]! - left) * (place - from)) * arrayV;
            outArrayW[at] = outArrayW[at]! + harvest * shareOfStep;
            outArrayAvailableW[at] = outArrayAvailableW[at]! + (offered > harvest ? offered : harvest) * shareOfStep;
          }
          if (isHeld) {
            if (strongest < LIMIT_VOLTAGE) strongest = LIMIT_VOLTAGE;
          } else if (!curtailed) {
            const why = given >= liveMostA[n]! * (1 - 1e-9) ? LIMIT_RATING : LIMIT_SOURCE;
            if (why > strongest) strongest = why;
          }
          if (kind !== RELAY) {
            // Held back by a full battery the charger sees its set voltage too; held back by the cold it does not.
            const held = isHeld || (curtailed && highIsFull) ? 1 : 0;
            const now = stage[j]!;
            const hours = stageH[j]! + held * dtH;
            const next = nextStage(now, hours, held, amps, busVolts, 0, absorptionH[j]!, tailA[j]!, rebulkV[j]!);
            stage[j] = next;
            stageH[j] = next === now ? hours : next === ABSORPTION ? held * dtH : 0;
          }
        }
        if (strongest > limit) limit = strongest;

        // The last correction of the current, below the tolerance, moves the mean open-circuit voltage along its slope.
        const acceptedA = amps > 0 ? efficiency * amps : amps;
        const ocvUsed =
          ocvMean + 0.5 * slope0 * last * (((amps - solvedA) * dtH) / capacityAh) * (amps > 0 ? efficiency : 1);
        // Heat is what enters at the terminals and is not stored: I²·R, what the charge reaction wastes, self-discharge.
        lossW += (amps * volts - (acceptedA - leakA) * ocvUsed) * shareOfStep;
        mainW += amps * (busVolts - volts) * shareOfStep;
        meanV += volts * shareOfStep;
        meanA += amps * shareOfStep;
        if (!isEmpty) alwaysH += dtH;
        extraWh += extraW * dtH;
        const movedAh = (acceptedA - leakA) * dtH;
        if (!oneWell) {
          available =
            wellKeep * available + wellShift * (soc * capacityAh + wellReserveAh) + wellGainH * (acceptedA - leakA);
          if (available < 0) available = 0;
        }
        soc += movedAh / capacityAh;
        if (soc > 1)
          soc = 1; // rounding only: the current was limited to what fits
        else if (soc < 0) soc = 0;
        for (let k = 0; k < fridges; k++) {
          const at = k * steps + i;
          const leak = fridgeLeakWPerK[k]!;
          const keep = dtH === stepH ? fridgeKeep[k]! : Math.exp((-dtH * leak) / fridgeHeatWhPerK[k]!);
          const duty = fridgeDuty[k]!;
          const restC = fridgeRoomC[at]! + (fridgeGainW[at]! - duty * fridgeCoolW[at]!) / leak;
          fridgeNowC[k] = restC + (fridgeNowC[k]! - restC) * keep;
          if (duty > 0) {
            const watts = fridgeRunW[at]!;
            const runA = (2 * watts) / (busVolts + Math.sqrt(busVolts * busVolts - 4 * fridgeOhm[k]! * watts));
            outFridgeW[at] = outFridgeW[at]! + duty * watts * shareOfStep;
            outFridgeBusW[at] = outFridgeBusW[at]! + duty * runA * busVolts * shareOfStep;
          }
          if (on === 1 && fridgeOn[k] === 1) outFridgeOnShare[at] = outFridgeOnShare[at]! + shareOfStep;
        }
        if (on === 1) {
          onH += dtH;
          onV = busVolts;
        }
        batteryA = amps;
        busV = busVolts;
        break;
      }
      restH -= dtH;
      if (partial) on = 0;
    }

    outSoc[i] = soc;
    outBusV[i] = onH > 0 ? onV : busV;
    outBatteryV[i] = meanV;
    outBatteryA[i] = meanA;
    outBatteryLossW[i] = lossW;
    outMainLossW[i] = mainW;
    outOnShare[i] = onH / stepH;
    outAlwaysShare[i] = alwaysH / stepH;
    outLimit[i] = limit;
    for (let k = 0; k < fridges; k++) outFridgeC[k * steps + i] = fridgeNowC[k]!;
    if (socDrawW !== undefined) socDrawW[i] = extraWh / stepH;
  }
}
