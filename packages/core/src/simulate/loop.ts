import { ABSORPTION, FLOAT, nextStage } from '../charge/index.js';
import {
  CONVERTER,
  LIMIT_COLD,
  LIMIT_FULL,
  LIMIT_NONE,
  LIMIT_RATING,
  LIMIT_SOURCE,
  LIMIT_VOLTAGE,
  type LoopInput,
  type LoopOutput,
  PWM,
  RELAY,
} from './loop-columns.js';
import {
  ALL_OFF,
  ALL_ON,
  LOADS_OFF,
  type LoopState,
  NOW_AMPS,
  NOW_AVAILABLE,
  NOW_BUS_V,
  NOW_LEVEL,
  NOW_SOC,
  TABLE_EFFICIENCY,
  TABLE_ENERGY,
  TABLE_IN_OHM,
  TABLE_OCV,
  TABLE_OUT_OHM,
  TABLE_WIDTH,
} from './loop-state.js';

export * from './loop-columns.js';
export { type LoopState, loopState } from './loop-state.js';

/** Current to which the bus is solved; through the battery's resistance it is below a microvolt [A]. */
const CURRENT_TOLERANCE_A = 1e-5;
const MOST_ROUNDS = 60;
/** Of a step: a phase shorter than this is not worth solving. */
const SHORTEST_PHASE = 1e-6;
/** How often a phase is shortened until the available well lasts through it. */
const MOST_SHORTENINGS = 20;
/**
 * An emptied battery counts as alive again this far above empty, else it would switch at every step.
 * Common practice, no source: the width of the usual disconnect and reconnect.
 */
const REVIVAL_SOC = 0.05;

/**
 * The step loop: the one place with feedback. Battery, bus, charger stages, fridge thermostats and cut-outs, over
 * columns that were computed whole beforehand. Hot: no allocation, no calls out, no throw; every column a Float64Array.
 *
 * One scalar equation is solved per step. The unknown is the battery's terminal current I, positive = charging:
 *     supply(V) − demand(V) = I,   V = OCV̄(soc → soc′) + I·(R + Rmain)
 * OCV̄ is the mean of the open-circuit voltage over the charge moved in the step, so that stored energy E(soc) = ∫ OCV dQ,
 * heat I²·R and bus power close to rounding whatever the step. Supply falls and demand hardly rises with V, so the
 * left side less I is strictly decreasing: Newton inside a bracket finds its single root.
 * A step in which the battery reaches its cut-off, or is empty, is split there into phases: before with the draws, after
 * without.
 *
 * @param from first step, where `state` stands; `state` is left at the end of step `to` − 1
 */
export function runLoop(input: LoopInput, out: LoopOutput, state: LoopState, from = 0, to = input.steps): void {
  const { steps, stepH, points, capacityAh, wellShare, wellPerH, wellReserveAh, mainOhm, maxDischargeA } = input;
  const { resistanceFactor, emptySoc, chargeLimitA, coldLimited, selfDischargeA } = input;
  const { disconnectSoc, disconnectV, reconnectSoc, reconnectV } = input;
  const { plainW, plainQuad, plainCube, plainFourth, plainA, alwaysW } = input;
  const { fridges, fridgeOhm, fridgeCutOutV, fridgeCutInV, fridgeSetC, fridgePerH } = input;
  const { fridgeIdleC, fridgeCoolK, fridgeRunW } = input;
  const { chargers, chargerKind, chargerOhm, absorptionV, floatV, absorptionH, tailA, rebulkV } = input;
  const { compensationV, sharesWith, drive, limitA, chargerShare } = input;
  const { pwmOhm, pwmDropV, pwmFromV, pwmStepV, pwmPoints, pwmA } = input;
  const { now, table, stage, stageH, chargerA, fridgeOn, fridgeNowC, fridgeKeep, fridgeFreeC, fridgePullK } = state;
  const { fridgeDuty, running, runW, runA, live, liveSetV, liveHeld, liveMostA } = state;
  const { rows } = out;
  const last = points - 1;
  const oneWell = wellShare >= 1;
  const fullWellAh = wellShare * (capacityAh + wellReserveAh);

  let soc = now[NOW_SOC]!;
  let available = now[NOW_AVAILABLE]!;
  let level = now[NOW_LEVEL]!;
  let batteryA = now[NOW_AMPS]!;
  let busV = now[NOW_BUS_V]!;
  let wellDtH = -1; // the phase for which the three coefficients of the two wells below hold
  let wellKeep = 0;
  let wellShift = 0;
  let wellGainH = 1;

  for (let i = from, row = from % rows; i < to; i++, row = row + 1 < rows ? row + 1 : 0) {
    let restH = stepH;
    let meanV = 0;
    let meanA = 0;
    let lossW = 0;
    let mainW = 0;
    let onH = 0;
    let alwaysH = 0;
    let onV = 0;
    let limit = LIMIT_NONE;

    for (let k = 0; k < fridges; k++) {
      const at = k * rows + row;
      out.fridgeW[at] = 0;
      out.fridgeBusW[at] = 0;
      out.fridgeOnShare[at] = 0;
      out.fridgeV[at] = 1e9;
      out.fridgeCut[at] = 0;
      if (fridgeOn[k] === 0 && busV >= fridgeCutInV[k]!) fridgeOn[k] = 1;
    }
    let lives = 0;
    for (let j = 0; j < chargers; j++) {
      const at = j * steps + i;
      out.chargerW[j * rows + row] = 0;
      out.chargerBusW[j * rows + row] = 0;
      const given = drive[at]!;
      if (given > 0 && limitA[at]! > 0 && chargerShare[at]! > 0) {
        live[lives++] = j;
        liveSetV[j] =
          chargerKind[j] === RELAY ? given : (stage[j] === FLOAT ? floatV[j]! : absorptionV[j]!) + compensationV[at]!;
      } else {
        // Without a source the next one begins with bulk again: each morning, each drive.
        stage[j] = 0;
        stageH[j] = 0;
        chargerA[j] = 0;
      }
      if (chargerKind[j] === PWM) {
        out.arrayW[j * rows + row] = 0;
        out.arrayAvailableW[j * rows + row] = 0;
      }
    }

    const empty = emptySoc[i]!;
    if (level !== ALL_ON) {
      // What is bound must have flowed across before the loads come back, else they would at every step.
      const head = available / fullWellAh;
      const rested = oneWell || soc < head ? soc : head;
      if (rested >= empty + REVIVAL_SOC) level = rested >= reconnectSoc || busV >= reconnectV ? ALL_ON : LOADS_OFF;
    }

    while (restH > SHORTEST_PHASE * stepH) {
      let dtH = restH;
      let ends = false; // the phase is already shortened to end at the cut-off
      let shortenings = 0;

      // What stays the same while this phase is solved.
      const x0 = soc * last;
      const n0 = x0 >= last ? last - 1 : x0 | 0;
      const low = n0 * TABLE_WIDTH;
      const f0 = x0 - n0;
      const ocvLow = table[low + TABLE_OCV]!;
      const ocvRise = table[low + TABLE_WIDTH + TABLE_OCV]! - ocvLow; // to the next point
      const ocv0 = ocvLow + ocvRise * f0;
      const lowEfficiency = table[low + TABLE_EFFICIENCY]!;
      const efficiency = lowEfficiency + (table[low + TABLE_WIDTH + TABLE_EFFICIENCY]! - lowEfficiency) * f0;
      const factor = resistanceFactor[i]!;
      const lowInOhm = table[low + TABLE_IN_OHM]!;
      const inOhm = factor * (lowInOhm + (table[low + TABLE_WIDTH + TABLE_IN_OHM]! - lowInOhm) * f0);
      // Discharge resistance follows the available well when that is the emptier: the knee comes early at high rates.
      const well = oneWell ? x0 : (available / fullWellAh) * last;
      const reach = well < x0 ? well : x0;
      const nr = reach >= last ? last - 1 : reach | 0;
      const lowOut = nr * TABLE_WIDTH + TABLE_OUT_OHM;
      const outOhm = factor * (table[lowOut]! + (table[lowOut + TABLE_WIDTH]! - table[lowOut]!) * (reach - nr));
      const leakA = soc * selfDischargeA[i]!; // a share of the charge that is held

      for (;;) {
        // Solve the bus for dtH with the draws as they stand; come back when a cut-out changes that.
        const perAmp = (dtH / capacityAh) * last; // table points moved by an ampere
        let highA = chargeLimitA[i]!;
        let highIsFull = false;
        const room = last - x0;
        if ((efficiency * highA - leakA) * perAmp > room) {
          highA = (room / perAmp + leakA) / efficiency;
          highIsFull = true;
        }
        let lowA = -maxDischargeA;
        let lowIsWell = false;
        if (!oneWell) {
          // Manwell & McGowan 1993: the largest currents that keep the available well between empty and full.
          if (dtH !== wellDtH) {
            wellDtH = dtH;
            const kt = wellPerH * dtH;
            const left = -Math.expm1(-kt);
            wellKeep = 1 - left;
            wellShift = wellShare * left;
            wellGainH = (left + wellShare * (kt - left)) / wellPerH;
          }
          const held = wellKeep * available + wellShift * (soc * capacityAh + wellReserveAh);
          const mostOutA = held / wellGainH - leakA;
          if (-mostOutA > lowA) {
            lowA = mostOutA > 0 ? -mostOutA : 0;
            lowIsWell = true;
          }
          const mostInA = ((fullWellAh - held) / wellGainH + leakA) / efficiency;
          if (mostInA < highA) {
            highA = mostInA > 0 ? mostInA : 0;
            highIsFull = true;
          }
        }
        let runs = 0;
        for (let k = 0; k < fridges; k++) {
          const at = k * steps + i;
          const keep = dtH === stepH ? fridgeKeep[k]! : Math.exp(-dtH * fridgePerH[k]!);
          const idleC = fridgeIdleC[at]!;
          const freeC = idleC + (fridgeNowC[k]! - idleC) * keep;
          const pullK = fridgeCoolK[at]! * (1 - keep);
          const tooWarmK = freeC - fridgeSetC[k]!;
          fridgeFreeC[k] = freeC;
          fridgePullK[k] = pullK;
          fridgeDuty[k] = 0;
          if (tooWarmK > 0 && pullK > 0 && level === ALL_ON && fridgeOn[k] === 1) {
            fridgeDuty[k] = tooWarmK < pullK ? tooWarmK / pullK : 1;
            running[runs] = k;
            runW[runs++] = fridgeRunW[at]!;
          }
        }
        const ahead = level === ALL_OFF ? 0 : alwaysW[i]!;
        const loadW = level === ALL_ON ? plainW[i]! : 0;
        const loadQuad = level === ALL_ON ? plainQuad[i]! : 0;
        const loadCube = level === ALL_ON ? plainCube[i]! : 0;
        const loadFourth = level === ALL_ON ? plainFourth[i]! : 0;
        const loadA = level === ALL_ON ? plainA[i]! : 0;

        let bracketLow = lowA;
        let bracketHigh = highA;
        let lowTried = false; // the ends of the bracket are roots of a kind: overload and curtailment
        let highTried = false;
        let amps = batteryA < lowA ? lowA : batteryA > highA ? highA : batteryA;
        let ocvMean = ocv0;
        let volts = ocv0;
        let busVolts = ocv0;
        let ocvPerA = 0;
        let supplyA = 0;
        let demandA = 0;
        let curtailed = false;
        let overloaded = false;
        for (let round = 0; round < MOST_ROUNDS; round++) {
          // The battery's voltage at this current.
          const charges = amps > 0;
          const gain = charges ? efficiency : 1;
          const x1 = x0 + (gain * amps - leakA) * perAmp;
          const n1 = x1 >= last ? last - 1 : x1 > 0 ? x1 | 0 : 0;
          if (n1 === n0) {
            ocvMean = ocv0 + 0.5 * ocvRise * (x1 - x0);
            ocvPerA = 0.5 * ocvRise * perAmp * gain;
          } else {
            const at = n1 * TABLE_WIDTH;
            const knotV = table[at + TABLE_OCV]!;
            const rise = table[at + TABLE_WIDTH + TABLE_OCV]! - knotV;
            const endV = knotV + rise * (x1 - n1);
            const perX = 1 / (x1 - x0);
            if (n1 === n0 + 1) ocvMean = 0.5 * ((ocv0 + knotV) * (n1 - x0) + (knotV + endV) * (x1 - n1)) * perX;
            else if (n1 === n0 - 1) ocvMean = 0.5 * ((ocv0 + ocvLow) * (x0 - n0) + (ocvLow + endV) * (n0 - x1)) * -perX;
            else {
              const pointAh = capacityAh / last;
              const e0 = table[low + TABLE_ENERGY]! + 0.5 * pointAh * f0 * (ocvLow + ocv0);
              const e1 = table[at + TABLE_ENERGY]! + 0.5 * pointAh * (x1 - n1) * (knotV + endV);
              ocvMean = ((e1 - e0) / pointAh) * perX;
            }
            ocvPerA = (endV - ocvMean) * perX * perAmp * gain;
          }
          const ohm = charges ? inOhm : outOhm;
          volts = ocvMean + amps * ohm;
          busVolts = volts + amps * mainOhm;
          const u = 1 / busVolts;
          const u2 = u * u;

          demandA = u * (ahead + loadW + u2 * (loadQuad + u2 * (loadCube + u2 * loadFourth))) + loadA;
          let slope = u2 * (ahead + loadW + u2 * (3 * loadQuad + u2 * (5 * loadCube + u2 * 7 * loadFourth)));
          for (let r = 0; r < runs; r++) {
            const k = running[r]!;
            const watts = runW[r]!;
            const drop = fridgeOhm[k]! * watts;
            const under = busVolts * busVolts - 4 * drop;
            const fullA = under > 0 ? (2 * watts) / (busVolts + Math.sqrt(under)) : 2 * watts * u;
            const dutyA = fridgeDuty[k]! * fullA;
            runA[r] = fullA;
            demandA += dutyA;
            slope += dutyA * u * (1 + 2 * drop * u2);
          }

          supplyA = 0;
          for (let n = 0; n < lives; n++) {
            const j = live[n]!;
            const at = j * steps + i;
            const kind = chargerKind[j]!;
            const ohms = chargerOhm[j]!;
            const share = chargerShare[at]!;
            const partner = sharesWith[j]!;
            let mostA = limitA[at]!;
            if (partner >= 0) {
              mostA -= chargerA[partner]!;
              if (mostA < 0) mostA = 0;
            }
            liveMostA[j] = mostA;
            let givenA = mostA;
            let fall = 0; // of the current with the voltage
            if (kind === CONVERTER) {
              const watts = drive[at]!;
              const drop = ohms * watts;
              givenA = (2 * watts) / (busVolts + Math.sqrt(busVolts * busVolts + 4 * drop));
              fall = givenA * u * (1 - 2 * drop * u2);
            } else if (kind === PWM) {
              // Where the load line of the cables meets the array's curve, straight between its points.
              const curve = pwmA[j]!;
              const first = i * pwmPoints;
              const ohmsAll = ohms + pwmOhm[j]!;
              const place0 = (busVolts + pwmDropV - pwmFromV) / pwmStepV; // of the array's voltage without current
              const perOhm = ohmsAll / pwmStepV;
              const place = place0 + chargerA[j]! * perOhm;
              let n0pwm = place >= pwmPoints - 1 ? pwmPoints - 2 : place > 0 ? place | 0 : 0;
              for (let tries = 0; tries < pwmPoints; tries++) {
                const left = curve[first + n0pwm]!;
                const difference = curve[first + n0pwm + 1]! - left;
                const bend = 1 / (1 - difference * perOhm);
                givenA = (left + difference * (place0 - n0pwm)) * bend;
                fall = (-difference / pwmStepV) * bend;
                const solved = place0 + givenA * perOhm;
                if (solved < n0pwm && n0pwm > 0) n0pwm--;
                else if (solved > n0pwm + 1 && n0pwm < pwmPoints - 2) n0pwm++;
                else break;
              }
              if (givenA < 0) {
                givenA = 0;
                fall = 0;
              }
            }
            if (givenA >= mostA) {
              givenA = mostA;
              fall = 0;
            }
            const heldA = (liveSetV[j]! - busVolts) / ohms;
            if (heldA < givenA) {
              liveHeld[j] = 1;
              givenA = heldA > 0 ? heldA : 0;
              fall = heldA > 0 ? 1 / ohms : 0;
            } else liveHeld[j] = 0;
            chargerA[j] = givenA;
            supplyA += share * givenA;
            slope -= share * fall;
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
          let next = amps + excess / (1 - slope * (ohm + mainOhm + ocvPerA));
          if (!(next > bracketLow && next < bracketHigh)) {
            if (next >= bracketHigh && !highTried) next = bracketHigh;
            else if (next <= bracketLow && !lowTried) next = bracketLow;
            else next = 0.5 * (bracketLow + bracketHigh);
          }
          // A table's knot or a limit between two rounds: the bracket has closed, so both sides are the root.
          if (next === amps) break;
          amps = next;
        }

        if (overloaded && level !== ALL_OFF) {
          // More is asked than the battery can give. What its available well holds lasts a part of the phase.
          const share = lowA / (supplyA - demandA);
          if (lowIsWell && share > SHORTEST_PHASE && shortenings < MOST_SHORTENINGS) {
            dtH *= share;
            ends = true;
            shortenings++;
            continue;
          }
          level--;
          dtH = restH;
          ends = false;
          continue;
        }
        if (level !== ALL_OFF && !ends && amps < 0) {
          const cutSoc = level === ALL_ON && disconnectSoc > empty ? disconnectSoc : empty;
          const movedSoc = ((amps - leakA) * dtH) / capacityAh;
          if (soc + movedSoc < cutSoc) {
            const share = (cutSoc - soc) / movedSoc;
            if (share <= SHORTEST_PHASE) {
              level--;
              continue;
            }
            if (share < 1 - SHORTEST_PHASE) {
              dtH *= share;
              ends = true;
              continue;
            }
          }
        }
        if (level === ALL_ON && busVolts < disconnectV) {
          level = LOADS_OFF;
          dtH = restH;
          ends = false;
          continue;
        }
        let again = false;
        for (let r = 0; r < runs; r++) {
          const k = running[r]!;
          // While it runs the bus sags by what the mean over the step hides.
          const sagV = busVolts - (1 - fridgeDuty[k]!) * runA[r]! * (outOhm + mainOhm);
          const tooThin = busVolts * busVolts <= 4 * fridgeOhm[k]! * runW[r]!;
          if (tooThin || sagV - runA[r]! * fridgeOhm[k]! < fridgeCutOutV[k]!) {
            fridgeOn[k] = 0;
            out.fridgeCut[k * rows + row] = sagV >= fridgeCutOutV[k]! ? 2 : 1;
            again = true;
          }
        }
        if (again) {
          dtH = restH;
          ends = false;
          continue;
        }

        // Settled: book this phase.
        const part = dtH / stepH;
        const solvedA = amps;
        let scale = 1;
        let strongest = LIMIT_NONE;
        if (curtailed) {
          scale = supplyA > 0 ? (amps + demandA) / supplyA : 0;
          strongest = highIsFull ? LIMIT_FULL : coldLimited[i] === 1 ? LIMIT_COLD : LIMIT_RATING;
        } else amps = supplyA - demandA;
        for (let n = 0; n < lives; n++) {
          const j = live[n]!;
          const at = j * rows + row;
          const share = chargerShare[j * steps + i]!;
          const givenA = chargerA[j]! * scale;
          const isHeld = liveHeld[j] === 1;
          const terminalV = busVolts + givenA * chargerOhm[j]!;
          const partA = givenA * share * part;
          out.chargerW[at] = out.chargerW[at]! + partA * terminalV;
          out.chargerBusW[at] = out.chargerBusW[at]! + partA * busVolts;
          if (chargerKind[j] === PWM) {
            const curve = pwmA[j]!;
            const arrayV = terminalV + givenA * pwmOhm[j]! + pwmDropV;
            const place = (arrayV - pwmFromV) / pwmStepV;
            const n1 = place >= pwmPoints - 1 ? pwmPoints - 2 : place > 0 ? place | 0 : 0;
            const left = curve[i * pwmPoints + n1]!;
            const offeredA = left + (curve[i * pwmPoints + n1 + 1]! - left) * (place - n1);
            out.arrayW[at] = out.arrayW[at]! + partA * arrayV;
            out.arrayAvailableW[at] =
              out.arrayAvailableW[at]! + (offeredA > givenA ? offeredA : givenA) * arrayV * share * part;
          }
          if (isHeld) {
            if (strongest < LIMIT_VOLTAGE) strongest = LIMIT_VOLTAGE;
          } else if (!curtailed) {
            const why = givenA >= liveMostA[j]! * (1 - 1e-9) ? LIMIT_RATING : LIMIT_SOURCE;
            if (why > strongest) strongest = why;
          }
          if (chargerKind[j] !== RELAY) {
            // Held back by a full battery the charger sees its set voltage too; held back by the cold it does not.
            const held = isHeld || (curtailed && highIsFull) ? 1 : 0;
            const was = stage[j]!;
            const hours = held * share * dtH;
            const all = stageH[j]! + hours;
            const next = nextStage(was, all, held, amps, busVolts, 0, absorptionH[j]!, tailA[j]!, rebulkV[j]!);
            stage[j] = next;
            stageH[j] = next === was ? all : next === ABSORPTION ? hours : 0;
          }
        }
        if (strongest > limit) limit = strongest;

        // The last correction of the current, below the tolerance, moves the mean open-circuit voltage along its slope.
        const storedA = (amps > 0 ? efficiency * amps : amps) - leakA;
        const ocvUsed = ocvMean + ocvPerA * (amps - solvedA);
        // Heat is what enters at the terminals and is not stored: I²·R, what the charge reaction wastes, self-discharge.
        lossW += (amps * volts - storedA * ocvUsed) * part;
        mainW += amps * (busVolts - volts) * part;
        meanV += volts * part;
        meanA += amps * part;
        if (!oneWell) {
          available = wellKeep * available + wellShift * (soc * capacityAh + wellReserveAh) + wellGainH * storedA;
          if (available < 0) available = 0;
        }
        soc += (storedA * dtH) / capacityAh;
        if (soc > 1)
          soc = 1; // rounding only: the current was limited to what fits
        else if (soc < 0) soc = 0;
        for (let k = 0; k < fridges; k++) {
          fridgeNowC[k] = fridgeFreeC[k]! - fridgeDuty[k]! * fridgePullK[k]!;
          if (level === ALL_ON && fridgeOn[k] === 1)
            out.fridgeOnShare[k * rows + row] = out.fridgeOnShare[k * rows + row]! + part;
        }
        for (let r = 0; r < runs; r++) {
          const k = running[r]!;
          const at = k * rows + row;
          const dutyPart = fridgeDuty[k]! * part;
          const seenV = busVolts - runA[r]! * (fridgeOhm[k]! + (1 - fridgeDuty[k]!) * (outOhm + mainOhm));
          out.fridgeW[at] = out.fridgeW[at]! + dutyPart * runW[r]!;
          out.fridgeBusW[at] = out.fridgeBusW[at]! + dutyPart * runA[r]! * busVolts;
          if (seenV < out.fridgeV[at]!) out.fridgeV[at] = seenV;
        }
        if (level !== ALL_OFF) alwaysH += dtH;
        if (level === ALL_ON) {
          onH += dtH;
          onV = busVolts;
        }
        batteryA = amps;
        busV = busVolts;
        break;
      }
      restH -= dtH;
      if (ends) level--;
    }

    out.soc[row] = soc;
    out.busV[row] = onH > 0 ? onV : busV;
    out.batteryV[row] = meanV;
    out.batteryA[row] = meanA;
    out.batteryLossW[row] = lossW;
    out.mainLossW[row] = mainW;
    out.onShare[row] = onH / stepH;
    out.alwaysShare[row] = alwaysH / stepH;
    out.limit[row] = limit;
    for (let k = 0; k < fridges; k++) out.fridgeC[k * rows + row] = fridgeNowC[k]!;
  }
  now[NOW_SOC] = soc;
  now[NOW_AVAILABLE] = available;
  now[NOW_LEVEL] = level;
  now[NOW_AMPS] = batteryA;
  now[NOW_BUS_V] = busV;
}
