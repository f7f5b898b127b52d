import { KNEE_SHARE } from '../../battery/index.js';
import { activateChargers, chargerCurrents, recordChargers } from './loop-chargers.js';
import {
  LIMIT_COLD,
  LIMIT_FULL,
  LIMIT_NONE,
  LIMIT_RATING,
  LIMIT_VOLTAGE,
  type LoopInput,
  type LoopOutput,
  OUT_ALWAYS_SHARE,
  OUT_BATTERY_A,
  OUT_BATTERY_LOSS_W,
  OUT_BATTERY_V,
  OUT_BUS_V,
  OUT_FRIDGE,
  OUT_FRIDGE_BUS_W,
  OUT_FRIDGE_C,
  OUT_FRIDGE_CUT,
  OUT_FRIDGE_ON_SHARE,
  OUT_FRIDGE_V,
  OUT_FRIDGE_W,
  OUT_HEAVY_CUT,
  OUT_HEAVY_ON_SHARE,
  OUT_LIMIT,
  OUT_MAIN_LOSS_W,
  OUT_ON_SHARE,
  OUT_SOC,
  OUT_WHOLE,
} from './loop-columns.js';
import { fridgeElsewhere, fridgeKeep, shareCompressor } from './loop-fridges.js';
import {
  AIM_C,
  ALL_OFF,
  ALL_ON,
  BATTERY_STEP_WIDTH,
  CHARGE_FACTOR,
  CHARGE_LIMIT_A,
  CHARGER_STEP_WIDTH,
  COLD,
  COOL_K,
  CUT_IN_V,
  CUT_OUT_V,
  DUTY,
  EFFICIENCY,
  END_C,
  ENERGY_WH,
  FRIDGE_OHM,
  FRIDGE_ON,
  FRIDGE_STEP_WIDTH,
  FRIDGE_WIDTH,
  HEAVY_A,
  HEAVY_IN_V,
  HEAVY_OHM,
  HEAVY_ON,
  HEAVY_OUT_V,
  HEAVY_SHARE,
  HEAVY_STEP_WIDTH,
  HEAVY_W,
  HEAVY_WIDTH,
  HOME_HIGH_C,
  HOME_LOW_C,
  IDLE_C,
  IN_BEND_V,
  IN_OHM,
  IN_STEEP_OHM,
  IN_STEP_OHM,
  INSIDE_C,
  KEEP,
  LEAK_A,
  LOAD_A,
  LOAD_CUBE,
  LOAD_FOURTH,
  LOAD_QUAD,
  LOAD_W,
  LOAD_WIDTH,
  LOADS_OFF,
  NOW_ABOVE_A,
  NOW_ABOVE_FALL,
  NOW_ABOVE_V,
  NOW_AMPS,
  NOW_BELOW_A,
  NOW_BELOW_FALL,
  NOW_BELOW_V,
  NOW_BUS_V,
  NOW_DEPLETED_SOC,
  NOW_FALL,
  NOW_HEAD,
  NOW_HELD,
  NOW_LEVEL,
  NOW_PART,
  NOW_READY_H,
  NOW_SCALE,
  NOW_SOC,
  NOW_SUPPLY_A,
  OCV_V,
  OHM_FACTOR,
  OUT_OHM,
  PARTNER_ROOM,
  RUN_A,
  RUN_W,
  SET_C,
  TABLE_WIDTH,
  TERMINAL_V,
  UNSWITCHED_W,
  WELL_EVENS,
  WELL_GAIN_H,
  WELL_PER_H,
  WELL_SHARE,
} from './loop-rows.js';
import type { LoopState } from './loop-state.js';

export * from './loop-columns.js';
export { type BatteryRows, batteryRows, copyState, type LoopState, layOutSteps, loopState } from './loop-state.js';

/** Current to which the bus is solved; through the battery's resistance it is below a microvolt [A]. */
export const CURRENT_TOLERANCE_A = 1e-5;
const MAX_ROUNDS = 60;
/** Of a step: a phase shorter than this is not worth solving. */
const SHORTEST_PHASE = 1e-6;
/** How often a phase is shortened until the available well, or all of the charge, lasts through it. */
const MAX_SHORTENINGS = 20;
/** Of the rested voltage: below it the bus has collapsed. Any true root lies above half. */
const COLLAPSED = 0.1;
/**
 * An emptied battery counts as alive again this far above empty, else it would switch at every step.
 * Common practice, no source: the width of the usual disconnect and reconnect.
 */
const REVIVAL_SOC = 0.05;
/**
 * So long the bus must have stood at the reconnect before the loads come back, or a charge that lifts the voltage at once would switch
 * them at every step [h]. Common practice, no source.
 */
const RECONNECT_H = 0.3;
/** Rounding of a temperature [K]. */
const SAME_K = 1e-9;
/** Rounding of a state of charge. */
const SAME_SOC = 1e-12;
/** A charger that holds its voltage is held back by a full battery from here on, below by its acceptance. */
const FULL_SOC = 0.99;

/**
 * The step loop: the one place with feedback. Battery, bus, charger stages, fridge thermostats and cut-outs, over
 * columns that were computed whole beforehand. Hot: no allocation, no calls out, no throw; every column a Float64Array.
 *
 * One scalar equation is solved per step. The unknown is the battery's terminal current I, positive = charging:
 *     supply(V) − demand(V) = I,   V = OCV̄(soc → soc′) + I·(R + Rmain)
 * OCV̄ is the mean of the open-circuit voltage over the charge moved in the step, so that stored energy E(soc) = ∫ OCV dQ,
 * heat I²·R and bus power close to rounding whatever the step. Supply falls and demand hardly rises with V, so the
 * left side less I is strictly decreasing: Newton inside a bracket finds its single root. R is smaller beyond a bend of the
 * voltage, either way, than before it.
 * A step in which the battery reaches its cut-off, or is empty, is split there into phases: before with the draws, after
 * without.
 *
 * @param from first step, where `state` stands; `state` is left at the end of step `to` − 1
 */
export function runLoop(input: LoopInput, out: LoopOutput, state: LoopState, from = 0, to = input.steps): void {
  const { stepH, capacityAh, wellReserveAh, emptySoc, mainOhm, maxDischargeA, lowestV, kneeV, kneeA } = input;
  const { disconnectSoc, disconnectV, reconnectSoc, reconnectV } = input;
  const { steps, battery, table, now, fridges, heavies } = state;
  const { all, rows } = out;
  const last = input.points - 1;
  const swingK = input.fridgeSwingK;
  const wholeAh = capacityAh + wellReserveAh; // both wells, full
  const perWholeAh = 1 / wholeAh;
  const placesPerAh = last / capacityAh;
  const placesAWhole = (wholeAh / capacityAh) * last; // in the tables, of both wells
  const placesReserved = (wellReserveAh / capacityAh) * last;
  const kneeOhm = kneeV / kneeA;
  const perKnee = 1 / KNEE_SHARE;
  const fridgeRows = fridges.length;
  const heavyRows = heavies.length;
  const heaviesAt = LOAD_WIDTH + input.fridges * FRIDGE_STEP_WIDTH; // in a row of `steps`
  const chargersAt = heaviesAt + input.heavies * HEAVY_STEP_WIDTH;
  const stepWidth = chargersAt + input.chargers * CHARGER_STEP_WIDTH;
  const firstFridge = OUT_WHOLE * rows;
  const nextFridge = input.fridges * rows; // from a lane column to the next one
  const firstHeavy = firstFridge + OUT_FRIDGE * nextFridge;
  const nextHeavy = input.heavies * rows;

  let soc = now[NOW_SOC]!;
  let head = now[NOW_HEAD]!;
  let level = now[NOW_LEVEL]! | 0;
  let batteryA = now[NOW_AMPS]!;
  let busV = now[NOW_BUS_V]!;

  for (let i = from, row = from % rows; i < to; i++, row = row + 1 < rows ? row + 1 : 0) {
    const b = i * BATTERY_STEP_WIDTH;
    const s = i * stepWidth;
    let restH = stepH;
    let meanV = 0;
    let meanA = 0;
    let lossW = 0;
    let mainW = 0;
    let onH = 0;
    let alwaysH = 0;
    let onV = 0;
    let limit = LIMIT_NONE;

    for (let f = 0, at = firstFridge + row; f < fridgeRows; f += FRIDGE_WIDTH, at += rows) {
      all[at + OUT_FRIDGE_W * nextFridge] = 0;
      all[at + OUT_FRIDGE_BUS_W * nextFridge] = 0;
      all[at + OUT_FRIDGE_ON_SHARE * nextFridge] = 0;
      all[at + OUT_FRIDGE_V * nextFridge] = 1e9;
      all[at + OUT_FRIDGE_CUT * nextFridge] = 0;
      if (busV >= fridges[f + CUT_IN_V]!) fridges[f + FRIDGE_ON] = 1;
    }
    for (let k = 0, at = firstHeavy + row; k < heavyRows; k += HEAVY_WIDTH, at += rows) {
      all[at + OUT_HEAVY_ON_SHARE * nextHeavy] = 0;
      all[at + OUT_HEAVY_CUT * nextHeavy] = 0;
      if (busV >= heavies[k + HEAVY_IN_V]!) heavies[k + HEAVY_ON] = 1;
    }
    now[NOW_BUS_V] = busV;
    const activeCount = activateChargers(out, state, row, s + chargersAt);

    const factor = battery[b + OHM_FACTOR]!;
    const inFactor = battery[b + CHARGE_FACTOR]!;
    const wellShare = battery[b + WELL_SHARE]!;
    const wellPerH = battery[b + WELL_PER_H]!;
    const wellAh = wellShare * wholeAh; // the available well, full
    const perWellAh = 1 / wellAh;
    if (level !== ALL_ON) {
      const readyH = busV >= reconnectV ? now[NOW_READY_H]! + stepH : 0;
      now[NOW_READY_H] = readyH;
      // What is bound must have flowed across before the loads come back, else they would at every step.
      const filled = (soc * capacityAh + wellReserveAh) / wholeAh;
      const rested = head < filled ? (head * wholeAh - wellReserveAh) / capacityAh : soc;
      if (rested >= now[NOW_DEPLETED_SOC]! + REVIVAL_SOC)
        level = rested >= reconnectSoc || readyH >= RECONNECT_H ? ALL_ON : LOADS_OFF;
    }

    while (restH > SHORTEST_PHASE * stepH) {
      let dtH = restH;
      let ends = false; // the phase is shortened to end where a level does: at the cut-off, or as a well runs out
      let endsAtCut = false;
      let isShortened = false; // just now
      let shortenings = 0;

      // What stays the same while this phase is solved.
      const x0 = soc * last;
      const n0 = x0 >= last ? last - 1 : x0 > 0 ? x0 | 0 : 0; // below the first point its straight line goes on
      const low = n0 * TABLE_WIDTH;
      const f0 = x0 - n0;
      const ocvLow = table[low + OCV_V]!;
      const ocvRise = table[low + TABLE_WIDTH + OCV_V]! - ocvLow; // to the next point
      const ocv0 = ocvLow + ocvRise * f0;
      const lowEfficiency = table[low + EFFICIENCY]!;
      const efficiency = lowEfficiency + (table[low + TABLE_WIDTH + EFFICIENCY]! - lowEfficiency) * f0;
      const leakA = soc > 0 ? soc * battery[b + LEAK_A]! : 0; // a share of the charge that is held
      // Charging, the voltage lies above the rested one by the lesser of two straight lines over the current.
      const lowStepOhm = table[low + IN_STEP_OHM]!;
      const inStepOhm = lowStepOhm + (table[low + TABLE_WIDTH + IN_STEP_OHM]! - lowStepOhm) * f0;
      const lowInOhm = table[low + IN_OHM]!;
      const inOhm = inFactor * (lowInOhm + (table[low + TABLE_WIDTH + IN_OHM]! - lowInOhm) * f0) + inStepOhm;
      const lowSteepOhm = table[low + IN_STEEP_OHM]!;
      const inSteepOhm =
        inFactor * (lowSteepOhm + (table[low + TABLE_WIDTH + IN_STEEP_OHM]! - lowSteepOhm) * f0) + inStepOhm;
      const lowBendV = table[low + IN_BEND_V]!;
      const inBendV = lowBendV + (table[low + TABLE_WIDTH + IN_BEND_V]! - lowBendV) * f0;
      // Discharging too, below it; there the available well rules when it is the emptier: the knee comes early at high rates.
      const totalAh = soc * capacityAh + wellReserveAh;
      const filled = totalAh * perWholeAh;
      const reach = head < filled ? head : filled;
      const placed = reach * placesAWhole - placesReserved;
      const xr = placed > 0 ? placed : 0;
      const nr = xr >= last ? last - 1 : xr | 0;
      const lowOut = nr * TABLE_WIDTH + OUT_OHM;
      const outOhm = factor * (table[lowOut]! + (table[lowOut + TABLE_WIDTH]! - table[lowOut]!) * (xr - nr));
      const bend = 1 - reach * perKnee;
      const bent = bend > 0 ? bend * bend : 0;
      const outBendV = kneeV * bent;
      const outSteepOhm = outOhm + factor * kneeOhm * bent;
      const availableAh = head * wellAh < totalAh ? head * wellAh : totalAh;
      const highA = battery[b + CHARGE_LIMIT_A]!;
      // Beyond half its voltage a battery gives less power the more current it gives: there the bus collapses.
      let lowA = -maxDischargeA;
      if (lowA * (outOhm + mainOhm) < -0.5 * ocv0) lowA = (-0.5 * ocv0) / (outOhm + mainOhm);

      for (;;) {
        // Solve the bus for dtH with the draws as they stand; come back when it was shortened, or a cut-out changes the draws:
        // then for all that is left of the step again.
        if (!isShortened) {
          dtH = restH;
          ends = false;
          endsAtCut = false;
        }
        isShortened = false;
        const perAmp = dtH * placesPerAh; // table points moved by an ampere
        // Manwell & McGowan 1993. What the available well cannot hold of a charge flows on into the other at once: a charge is
        // limited by its voltage, not by the wells.
        let evens = battery[b + WELL_EVENS]!;
        let wellGainH = battery[b + WELL_GAIN_H]!;
        if (dtH !== stepH) {
          evens = -Math.expm1(-wellPerH * dtH);
          wellGainH = (evens + wellShare * (wellPerH * dtH - evens)) / wellPerH;
        }
        const heldAh = availableAh + evens * (wellShare * totalAh - availableAh);
        for (let f = 0, sf = s + LOAD_WIDTH; f < fridgeRows; f += FRIDGE_WIDTH, sf += FRIDGE_STEP_WIDTH) {
          const fromC = fridges[f + INSIDE_C]!;
          const lowC = fridges[f + HOME_LOW_C]!;
          const highC = fridges[f + HOME_HIGH_C]!;
          const idleC = steps[sf + IDLE_C]!;
          const keep = dtH === stepH ? steps[sf + KEEP]! : fridgeKeep(input, state, f, i, dtH);
          const coastC = idleC + (fromC - idleC) * keep;
          const mayRun = level === ALL_ON && fridges[f + FRIDGE_ON]! > 0;
          if (fromC >= lowC && fromC <= highC && coastC >= lowC && coastC <= highC) {
            const setC = fridges[f + SET_C]!;
            const tooWarmK = coastC - (coastC > setC + swingK ? setC - swingK : fridges[f + AIM_C]!);
            const coolingK = steps[sf + COOL_K]! * (1 - keep);
            const duty = mayRun && tooWarmK > 0 && coolingK > 0 ? (tooWarmK < coolingK ? tooWarmK / coolingK : 1) : 0;
            fridges[f + DUTY] = duty;
            fridges[f + END_C] = coastC - duty * coolingK;
          } else fridgeElsewhere(input, state, f, i, dtH, mayRun);
          if (fridges[f + PARTNER_ROOM]! >= 0) shareCompressor(input, state, f, i, dtH);
        }
        const ahead = level === ALL_OFF ? 0 : steps[s + UNSWITCHED_W]!;
        now[NOW_LEVEL] = level;

        let bracketLow = lowA;
        let bracketHigh = highA;
        let lowTried = false; // the ends of the bracket are roots of a kind: overload and curtailment
        let highTried = false;
        let amps = batteryA;
        if (now[NOW_HELD]! > 0 && activeCount > 0) {
          // What the battery takes of the voltage that was held: nearly the root when it still is.
          const ocvRiseV = x0 < last ? 0.5 * ocvRise * perAmp : 0;
          const overV = busV - ocv0 + ocvRiseV * leakA;
          const steepA = overV / (inSteepOhm + mainOhm + ocvRiseV * efficiency);
          const beyondA = (overV - inBendV) / (inOhm + mainOhm + ocvRiseV * efficiency);
          const heldA = steepA > beyondA ? steepA : beyondA;
          if (heldA > 0) amps = heldA;
        }
        amps = amps < lowA ? lowA : amps > highA ? highA : amps;
        let x1 = x0;
        let ocvMean = ocv0;
        let volts = ocv0;
        let busVolts = ocv0;
        let ocvPerA = 0;
        let slope = 1;
        let supplyA = 0;
        let demandA = 0;
        let isCurtailed = false;
        let isOverloaded = false;
        for (let round = 0; round < MAX_ROUNDS; round++) {
          // The battery's voltage at this current.
          let gain = 1;
          let ohm: number;
          let aboveV: number;
          if (amps > 0) {
            gain = efficiency;
            ohm = inSteepOhm;
            aboveV = amps * ohm;
            if (aboveV > inBendV + amps * inOhm) {
              ohm = inOhm;
              aboveV = inBendV + amps * ohm;
            }
            x1 = x0 + (gain * amps - leakA) * perAmp;
            if (x1 > last) {
              // A full battery stores nothing more: what it takes at its charger's voltage is gas and heat.
              x1 = last;
              gain = 0;
            }
          } else {
            ohm = outSteepOhm;
            aboveV = amps * ohm;
            if (aboveV < amps * outOhm - outBendV) {
              ohm = outOhm;
              aboveV = amps * ohm - outBendV;
            }
            x1 = x0 + (amps - leakA) * perAmp;
          }
          const n1 = x1 >= last ? last - 1 : x1 > 0 ? x1 | 0 : 0;
          if (n1 === n0) {
            ocvMean = ocv0 + 0.5 * ocvRise * (x1 - x0);
            ocvPerA = 0.5 * ocvRise * perAmp * gain;
          } else {
            const at = n1 * TABLE_WIDTH;
            const knotV = table[at + OCV_V]!;
            const endV = knotV + (table[at + TABLE_WIDTH + OCV_V]! - knotV) * (x1 - n1);
            const perX = 1 / (x1 - x0);
            if (n1 === n0 + 1) ocvMean = 0.5 * ((ocv0 + knotV) * (n1 - x0) + (knotV + endV) * (x1 - n1)) * perX;
            else if (n1 === n0 - 1) ocvMean = 0.5 * ((ocv0 + ocvLow) * (x0 - n0) + (ocvLow + endV) * (n0 - x1)) * -perX;
            else {
              const pointAh = capacityAh / last;
              const e0 = table[low + ENERGY_WH]! + 0.5 * pointAh * f0 * (ocvLow + ocv0);
              const e1 = table[at + ENERGY_WH]! + 0.5 * pointAh * (x1 - n1) * (knotV + endV);
              ocvMean = ((e1 - e0) / pointAh) * perX;
            }
            ocvPerA = (endV - ocvMean) * perX * perAmp * gain;
          }
          volts = ocvMean + aboveV;
          busVolts = volts + amps * mainOhm;
          const u = 1 / busVolts;
          const u2 = u * u;

          demandA = ahead * u;
          let fall = -demandA * u; // of supply less demand with the voltage
          if (level === ALL_ON) {
            const watts = steps[s + LOAD_W]!;
            const quad = steps[s + LOAD_QUAD]!;
            const cube = steps[s + LOAD_CUBE]!;
            const fourth = steps[s + LOAD_FOURTH]!;
            demandA += u * (watts + u2 * (quad + u2 * (cube + u2 * fourth))) + steps[s + LOAD_A]!;
            fall -= u2 * (watts + u2 * (3 * quad + u2 * (5 * cube + u2 * 7 * fourth)));
            for (let f = 0, sf = s + LOAD_WIDTH; f < fridgeRows; f += FRIDGE_WIDTH, sf += FRIDGE_STEP_WIDTH) {
              const duty = fridges[f + DUTY]!;
              if (duty === 0) continue;
              const runW = steps[sf + RUN_W]!;
              const drop = fridges[f + FRIDGE_OHM]! * runW;
              const under = busVolts * busVolts - 4 * drop;
              const runA = under > 0 ? (2 * runW) / (busVolts + Math.sqrt(under)) : 2 * runW * u;
              fridges[f + RUN_A] = runA;
              demandA += duty * runA;
              fall -= duty * runA * u * (1 + 2 * drop * u2);
            }
            for (let k = 0, sk = s + heaviesAt; k < heavyRows; k += HEAVY_WIDTH, sk += HEAVY_STEP_WIDTH) {
              const share = steps[sk + HEAVY_SHARE]!;
              if (share === 0 || heavies[k + HEAVY_ON] === 0) continue;
              // Exact: V·I = P + R·I², and of its slope with the voltage too, as the drop is no small part of it.
              const runW = steps[sk + HEAVY_W]!;
              const under = busVolts * busVolts - 4 * heavies[k + HEAVY_OHM]! * runW;
              const root = under > 0 ? Math.sqrt(under) : 0;
              const runA = root > 0 ? (2 * runW) / (busVolts + root) : 2 * runW * u;
              heavies[k + HEAVY_A] = runA;
              demandA += share * runA;
              fall -= root > 0.1 * busVolts ? (share * runA) / root : share * runA * u;
            }
          }
          if (activeCount > 0) {
            now[NOW_BUS_V] = busVolts;
            chargerCurrents(input, state, i, s + chargersAt);
            supplyA = now[NOW_SUPPLY_A]!;
            fall += now[NOW_FALL]!;
          }

          const excess = supplyA - demandA - amps;
          slope = 1 + fall * (ohm + mainOhm + ocvPerA);
          if (excess <= CURRENT_TOLERANCE_A && excess >= -CURRENT_TOLERANCE_A) break;
          if (excess > 0) {
            if (amps >= highA) {
              isCurtailed = true;
              break;
            }
            bracketLow = amps;
            lowTried = true;
          } else {
            if (amps <= lowA) {
              isOverloaded = true;
              break;
            }
            bracketHigh = amps;
            highTried = true;
          }
          let next = amps + excess / slope;
          if (activeCount > 0) {
            // A charger that holds its voltage does so along a steep line: where Newton would pass it, it is followed.
            const riseV = ohm + mainOhm + ocvPerA; // for an ampere
            const nextV = busVolts + (next - amps) * riseV;
            let aim = next;
            if (nextV < now[NOW_BELOW_V]!)
              aim = amps + (excess + now[NOW_BELOW_A]!) / (slope + now[NOW_BELOW_FALL]! * riseV);
            else if (nextV > now[NOW_ABOVE_V]!)
              aim = amps + (excess + now[NOW_ABOVE_A]!) / (slope + now[NOW_ABOVE_FALL]! * riseV);
            if (aim > bracketLow && aim < bracketHigh) next = aim;
          }
          if (!(next > bracketLow && next < bracketHigh)) {
            // Near full, where the battery hardly takes any, the slope can mislead: go where the excess points, and from
            // charge to rest first, as a battery that could carry the load may not at its most current.
            if (excess > 0 && !highTried) next = bracketHigh;
            else if (excess < 0 && !lowTried) next = amps > 0 ? 0 : bracketLow;
            else next = 0.5 * (bracketLow + bracketHigh);
          }
          // A table's knot or a limit between two rounds: the bracket has closed, so both sides are the root.
          if (next === amps) break;
          amps = next;
        }

        const movedSoc = ((amps - leakA) * dtH) / capacityAh;
        // No current brings that power: what was found is no root but where the voltage is nothing. A phase that runs
        // past empty is first shortened to end there, as its voltage is that of a battery more than empty.
        if (!isCurtailed && !(busVolts > COLLAPSED * ocv0)) {
          const short = (1 - 2 * SHORTEST_PHASE) * movedSoc;
          if (!(soc + short < emptySoc)) isOverloaded = true;
        }
        // Neither goes it below its lowest voltage, nor does its available well give more than it holds.
        const isTooLow = amps < 0 && ocv0 + volts - ocvMean < lowestV;
        const isDrained =
          !isOverloaded && !isTooLow && amps < 0 && heldAh + wellGainH * (amps + CURRENT_TOLERANCE_A - leakA) < 0;
        if (isTooLow || isDrained) isOverloaded = true;
        if (heavyRows > 0 && level === ALL_ON && !isDrained) {
          // What the battery is too weak for switches itself off before all is cut: by its voltage while it runs, below the mean.
          let isCut = false;
          for (let k = 0, sk = s + heaviesAt, at = firstHeavy + row; k < heavyRows; k += HEAVY_WIDTH, at += rows) {
            const share = steps[sk + HEAVY_SHARE]!;
            sk += HEAVY_STEP_WIDTH;
            if (share === 0 || heavies[k + HEAVY_ON] === 0) continue;
            const runA = heavies[k + HEAVY_A]!;
            const sagV = busVolts - (1 - share) * runA * (outOhm + mainOhm);
            const dropV = runA * heavies[k + HEAVY_OHM]!;
            const cutV = heavies[k + HEAVY_OUT_V]!;
            if (sagV - dropV >= cutV && 2 * dropV < sagV) continue;
            heavies[k + HEAVY_ON] = 0;
            all[at + OUT_HEAVY_CUT * nextHeavy] = sagV >= cutV ? 2 : 1;
            isCut = true;
          }
          if (isCut) continue;
        }
        if (isOverloaded && level !== ALL_OFF) {
          // More is asked than the battery can give. What its available well holds lasts a part of the phase.
          const share = isDrained ? (heldAh / wellGainH - leakA) / -amps : 0;
          if (share > SHORTEST_PHASE && shortenings < MAX_SHORTENINGS) {
            dtH *= share;
            ends = true;
            isShortened = true;
            shortenings++;
            continue;
          }
          // Too weak for the load, in the cold or by its management system, it is tried again with the next step's; run down, it rests.
          if (isDrained || (isTooLow && bend > 0))
            now[NOW_DEPLETED_SOC] = (reach * wholeAh - wellReserveAh) / capacityAh;
          level--;
          continue;
        }
        if (level !== ALL_OFF && amps < 0) {
          const cutSoc = level === ALL_ON && disconnectSoc > emptySoc ? disconnectSoc : emptySoc;
          // In a shorter phase the voltage falls less and the current is another: what is not there is not given.
          if (soc + movedSoc < (endsAtCut ? emptySoc - SAME_SOC : cutSoc)) {
            const share = (cutSoc - soc) / movedSoc;
            if (share <= SHORTEST_PHASE || shortenings === MAX_SHORTENINGS) {
              level--;
              continue;
            }
            if (endsAtCut || share < 1 - SHORTEST_PHASE) {
              if (endsAtCut) shortenings++;
              dtH *= share;
              ends = true;
              endsAtCut = true;
              isShortened = true;
              continue;
            }
          }
        }
        if (level === ALL_ON && busVolts < disconnectV) {
          level = LOADS_OFF;
          now[NOW_READY_H] = 0;
          continue;
        }
        let again = false;
        for (let f = 0, at = firstFridge + row; f < fridgeRows; f += FRIDGE_WIDTH, at += rows) {
          const duty = fridges[f + DUTY]!;
          if (duty === 0) continue;
          // While it runs the bus sags by what the mean over the step hides.
          const runA = fridges[f + RUN_A]!;
          const partner = fridges[f + PARTNER_ROOM]!;
          const share = partner < 0 ? duty : duty + fridges[partner + DUTY]!;
          const sagV = busVolts - (1 - share) * runA * (outOhm + mainOhm);
          const seenV = sagV - runA * fridges[f + FRIDGE_OHM]!;
          fridges[f + TERMINAL_V] = seenV;
          // Less than half the voltage arrives: no current brings the power through that cable.
          if (seenV < fridges[f + CUT_OUT_V]! || 2 * runA * fridges[f + FRIDGE_OHM]! >= busVolts) {
            fridges[f + FRIDGE_ON] = 0;
            if (partner >= 0) fridges[partner + FRIDGE_ON] = 0;
            all[at + OUT_FRIDGE_CUT * nextFridge] = sagV >= fridges[f + CUT_OUT_V]! ? 2 : 1;
            again = true;
          }
        }
        if (again) {
          continue;
        }

        // Settled: record this phase.
        const part = dtH / stepH;
        const solvedA = amps;
        const scale = !isCurtailed ? 1 : supplyA > 0 ? (amps + demandA) / supplyA : 0;
        if (isCurtailed) {
          const why = battery[b + COLD] === 1 ? LIMIT_COLD : LIMIT_RATING;
          if (why > limit) limit = why;
        } else amps = supplyA - demandA;
        now[NOW_HELD] = 0;
        if (activeCount > 0) {
          now[NOW_BUS_V] = busVolts;
          now[NOW_AMPS] = amps;
          now[NOW_SCALE] = scale;
          now[NOW_PART] = part;
          const why = recordChargers(input, out, state, i, row, s + chargersAt, isCurtailed);
          if (why > limit) limit = why;
          if (why === LIMIT_VOLTAGE) now[NOW_HELD] = 1;
          if (why === LIMIT_VOLTAGE && x1 >= FULL_SOC * last) limit = LIMIT_FULL;
        }

        // The last correction of the current, below the tolerance, moves the mean open-circuit voltage along its slope.
        const ocvUsed = ocvMean + ocvPerA * (amps - solvedA);
        let storedA = (amps > 0 ? efficiency * amps : amps) - leakA;
        if (soc + (storedA * dtH) / capacityAh > 1) {
          storedA = ((1 - soc) * capacityAh) / dtH;
          soc = 1;
        } else soc += (storedA * dtH) / capacityAh;
        if (soc < emptySoc) soc = emptySoc; // rounding only: the phase was limited to what is there
        // Heat is what enters at the terminals and is not stored: I²·R, what the charge reaction wastes, self-discharge.
        lossW += (amps * volts - storedA * ocvUsed) * part;
        mainW += amps * (busVolts - volts) * part;
        meanV += volts * part;
        meanA += amps * part;
        head = (heldAh + wellGainH * storedA) * perWellAh;
        if (head > 1) head = 1;
        else if (head < 0) head = 0;
        for (
          let f = 0, sf = s + LOAD_WIDTH, at = firstFridge + row;
          f < fridgeRows;
          f += FRIDGE_WIDTH, sf += FRIDGE_STEP_WIDTH, at += rows
        ) {
          const duty = fridges[f + DUTY]!;
          const insideC = fridges[f + END_C]!;
          fridges[f + INSIDE_C] = insideC;
          const coldC = fridges[f + SET_C]! - swingK;
          if (insideC <= coldC + SAME_K) fridges[f + AIM_C] = coldC + 2 * swingK;
          else if (duty > 0) fridges[f + AIM_C] = coldC;
          const onAt = at + OUT_FRIDGE_ON_SHARE * nextFridge;
          if (level === ALL_ON && fridges[f + FRIDGE_ON]! > 0) all[onAt] = all[onAt]! + part;
          if (duty === 0) continue;
          const wattsAt = at + OUT_FRIDGE_W * nextFridge;
          const busAt = at + OUT_FRIDGE_BUS_W * nextFridge;
          const voltsAt = at + OUT_FRIDGE_V * nextFridge;
          all[wattsAt] = all[wattsAt]! + duty * part * steps[sf + RUN_W]!;
          all[busAt] = all[busAt]! + duty * part * fridges[f + RUN_A]! * busVolts;
          if (fridges[f + TERMINAL_V]! < all[voltsAt]!) all[voltsAt] = fridges[f + TERMINAL_V]!;
        }
        if (level === ALL_ON)
          for (let k = 0, at = firstHeavy + row; k < heavyRows; k += HEAVY_WIDTH, at += rows)
            if (heavies[k + HEAVY_ON]! > 0) all[at] = all[at]! + part;
        if (level !== ALL_OFF) alwaysH += dtH;
        if (level === ALL_ON) {
          onH += dtH;
          onV = busVolts;
        }
        batteryA = solvedA + (amps - solvedA) / slope; // nearer to the root than the current that closes the books
        busV = busVolts;
        break;
      }
      restH -= dtH;
      if (ends) {
        now[NOW_DEPLETED_SOC] = 0;
        level--;
      }
    }

    all[OUT_SOC * rows + row] = soc;
    all[OUT_BUS_V * rows + row] = onH > 0 ? onV : busV;
    all[OUT_BATTERY_V * rows + row] = meanV;
    all[OUT_BATTERY_A * rows + row] = meanA;
    all[OUT_BATTERY_LOSS_W * rows + row] = lossW;
    all[OUT_MAIN_LOSS_W * rows + row] = mainW;
    all[OUT_ON_SHARE * rows + row] = onH / stepH;
    all[OUT_ALWAYS_SHARE * rows + row] = alwaysH / stepH;
    all[OUT_LIMIT * rows + row] = limit;
    for (let f = 0, at = firstFridge + OUT_FRIDGE_C * nextFridge + row; f < fridgeRows; f += FRIDGE_WIDTH, at += rows)
      all[at] = fridges[f + INSIDE_C]!;
  }
  now[NOW_SOC] = soc;
  now[NOW_HEAD] = head;
  now[NOW_LEVEL] = level;
  now[NOW_AMPS] = batteryA;
  now[NOW_BUS_V] = busV;
}
