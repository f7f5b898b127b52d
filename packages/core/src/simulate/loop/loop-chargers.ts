import { ABSORPTION, FLOAT, nextStage } from '../../charge/index.js';
import {
  CONVERTER,
  LIMIT_NONE,
  LIMIT_RATING,
  LIMIT_SOURCE,
  LIMIT_VOLTAGE,
  type LoopInput,
  type LoopOutput,
  OUT_ARRAY_AVAILABLE_W,
  OUT_ARRAY_W,
  OUT_CHARGER,
  OUT_CHARGER_BUS_W,
  OUT_CHARGER_W,
  PWM,
  RELAY,
} from './loop-columns.js';
import {
  ABSORPTION_H,
  ABSORPTION_V,
  ALL_OFF,
  BACK_A,
  CHARGER_OHM,
  CHARGER_STEP_WIDTH,
  CHARGER_WIDTH,
  COMPENSATION_V,
  DRAW_A,
  DRIVE,
  FLOAT_V,
  GIVEN_A,
  HELD,
  JOIN_V,
  JOINED,
  KIND,
  LIMIT_A,
  LIVE,
  MAX_A,
  NOW_ABOVE_A,
  NOW_ABOVE_FALL,
  NOW_ABOVE_V,
  NOW_AMPS,
  NOW_BELOW_A,
  NOW_BELOW_FALL,
  NOW_BELOW_V,
  NOW_BUS_V,
  NOW_FALL,
  NOW_LEVEL,
  NOW_PART,
  NOW_SCALE,
  NOW_SUPPLY_A,
  PART_V,
  PARTNER,
  PWM_OHM,
  RESTART_BELOW_V,
  SET_V,
  SHARE,
  STAGE,
  STAGE_H,
  TAIL_A,
} from './loop-rows.js';
import type { LoopState } from './loop-state.js';

// The chargers' part of the step loop. Numbers go in and out by `state.now`: as arguments each would be an allocation.

/** Which chargers have something to give in a step, and the voltage each makes for. @returns how many */
export function activateChargers(out: LoopOutput, state: LoopState, row: number, stepAt: number): number {
  const { chargers, steps, now } = state;
  const { all, rows } = out;
  const lanes = chargers.length / CHARGER_WIDTH;
  const next = lanes * rows; // from a lane column to the next one
  let activeCount = 0;
  let at = all.length - OUT_CHARGER * next + row;
  for (let c = 0, s = stepAt; c < chargers.length; c += CHARGER_WIDTH, s += CHARGER_STEP_WIDTH, at += rows) {
    all[at + OUT_CHARGER_W * next] = 0;
    all[at + OUT_CHARGER_BUS_W * next] = 0;
    if (chargers[c + KIND] === PWM) {
      all[at + OUT_ARRAY_W * next] = 0;
      all[at + OUT_ARRAY_AVAILABLE_W * next] = 0;
    }
    const drive = steps[s + DRIVE]!;
    let isJoined = true;
    if (chargers[c + KIND] === RELAY && steps[s + SHARE]! > 0) {
      const busV = now[NOW_BUS_V]!;
      const higherV = drive > busV ? drive : busV;
      isJoined = higherV >= (chargers[c + JOINED] === 1 ? chargers[c + PART_V]! : chargers[c + JOIN_V]!);
      chargers[c + JOINED] = isJoined ? 1 : 0;
    }
    if (drive === 0 && chargers[c + KIND] === RELAY && isJoined && steps[s + SHARE]! > 0) {
      chargers[c + LIVE] = 2;
      activeCount++;
    } else if (isJoined && drive > 0 && steps[s + LIMIT_A]! > 0 && steps[s + SHARE]! > 0) {
      const setV = chargers[c + STAGE] === FLOAT ? chargers[c + FLOAT_V]! : chargers[c + ABSORPTION_V]!;
      chargers[c + SET_V] = chargers[c + KIND] === RELAY ? drive : setV + steps[s + COMPENSATION_V]!;
      chargers[c + LIVE] = 1;
      activeCount++;
    } else {
      // Without a source the next one begins with bulk again: each morning, each drive.
      chargers[c + LIVE] = 0;
      chargers[c + STAGE] = 0;
      chargers[c + STAGE_H] = 0;
      chargers[c + GIVEN_A] = 0;
    }
  }
  return activeCount;
}

/** What the chargers give at the bus voltage `now` holds: its mean over the step, and how it falls with the voltage. */
export function chargerCurrents(input: LoopInput, state: LoopState, step: number, stepAt: number): void {
  const { chargers, steps, now } = state;
  const busV = now[NOW_BUS_V]!;
  const u = 1 / busV;
  let supplyA = 0;
  let supplyFall = 0;
  let belowV = -Infinity;
  let aboveV = Infinity;
  for (let c = 0, s = stepAt; c < chargers.length; c += CHARGER_WIDTH, s += CHARGER_STEP_WIDTH) {
    if (chargers[c + LIVE] === 0) continue;
    const kind = chargers[c + KIND]!;
    if (chargers[c + LIVE] === 2) {
      const givenA = now[NOW_LEVEL] === ALL_OFF ? 0 : -chargers[c + DRAW_A]!;
      chargers[c + HELD] = 0;
      chargers[c + MAX_A] = 0;
      chargers[c + GIVEN_A] = givenA;
      supplyA += steps[s + SHARE]! * givenA;
      continue;
    }
    const ohm = chargers[c + CHARGER_OHM]!;
    const partner = chargers[c + PARTNER]!;
    let maxA = steps[s + LIMIT_A]!;
    if (partner >= 0) {
      const leftA = maxA - chargers[partner + GIVEN_A]!;
      maxA = leftA > 0 ? leftA : 0;
    }
    let givenA = maxA;
    let fall = 0; // of the current with the voltage
    if (kind === CONVERTER) {
      const watts = steps[s + DRIVE]!;
      const drop = ohm * watts;
      givenA = (2 * watts) / (busV + Math.sqrt(busV * busV + 4 * drop));
      fall = givenA * u * (1 - 2 * drop * u * u);
    } else if (kind === PWM) {
      // Where the load line of the cables meets the array's curve, which is straight between its points.
      const curve = input.pwmA[c / CHARGER_WIDTH]!;
      const { pwmDropV, pwmFromV, pwmStepV, pwmPoints } = input;
      const from = step * pwmPoints;
      const perAmp = (ohm + chargers[c + PWM_OHM]!) / pwmStepV;
      const idle = (busV + pwmDropV - pwmFromV) / pwmStepV; // the array's place on its curve without current
      const guess = idle + chargers[c + GIVEN_A]! * perAmp;
      let n = guess >= pwmPoints - 1 ? pwmPoints - 2 : guess > 0 ? guess | 0 : 0;
      for (let tries = 0; tries < pwmPoints; tries++) {
        const left = curve[from + n]!;
        const rise = curve[from + n + 1]! - left;
        const bend = 1 / (1 - rise * perAmp);
        givenA = (left + rise * (idle - n)) * bend;
        fall = (-rise / pwmStepV) * bend;
        const place = idle + givenA * perAmp;
        if (place < n && n > 0) n--;
        else if (place > n + 1 && n < pwmPoints - 2) n++;
        else break;
      }
      if (givenA < 0) {
        givenA = 0;
        fall = 0;
      }
    }
    if (givenA >= maxA) {
      givenA = maxA;
      fall = 0;
    }
    const heldA = (chargers[c + SET_V]! - busV) / ohm;
    if (heldA < givenA) {
      chargers[c + HELD] = 1;
      // A relay lets the current flow back, as far as the vehicle takes it.
      const leastA = kind === RELAY && now[NOW_LEVEL] !== ALL_OFF ? -chargers[c + BACK_A]! : 0;
      givenA = heldA > leastA ? heldA : leastA;
      fall = heldA > leastA ? 1 / ohm : 0;
      if (heldA <= leastA && chargers[c + SET_V]! > belowV) {
        belowV = chargers[c + SET_V]!;
        now[NOW_BELOW_A] = steps[s + SHARE]! * (heldA - leastA);
        now[NOW_BELOW_FALL] = steps[s + SHARE]! / ohm;
      }
    } else {
      chargers[c + HELD] = 0;
      if (chargers[c + SET_V]! < aboveV) {
        aboveV = chargers[c + SET_V]!;
        now[NOW_ABOVE_A] = steps[s + SHARE]! * (heldA - givenA);
        now[NOW_ABOVE_FALL] = steps[s + SHARE]! * (1 / ohm - fall);
      }
    }
    chargers[c + MAX_A] = maxA;
    chargers[c + GIVEN_A] = givenA;
    supplyA += steps[s + SHARE]! * givenA;
    supplyFall += steps[s + SHARE]! * fall;
  }
  now[NOW_SUPPLY_A] = supplyA;
  now[NOW_FALL] = supplyFall;
  now[NOW_BELOW_V] = belowV;
  now[NOW_ABOVE_V] = aboveV;
}

/**
 * Records what the chargers gave in a phase, and moves their stages on.
 * @param isCurtailed the battery's largest charging current holds them back
 * @returns what held them back, by the chargers themselves
 */
export function recordChargers(
  input: LoopInput,
  out: LoopOutput,
  state: LoopState,
  step: number,
  row: number,
  stepAt: number,
  isCurtailed: boolean,
): number {
  const { chargers, steps, now } = state;
  const { all, rows } = out;
  const busV = now[NOW_BUS_V]!;
  const amps = now[NOW_AMPS]!;
  const part = now[NOW_PART]!;
  const dtH = part * input.stepH;
  let limit = LIMIT_NONE;
  const next = input.chargers * rows; // from a lane column to the next one
  let at = all.length - OUT_CHARGER * next + row;
  for (let c = 0, s = stepAt; c < chargers.length; c += CHARGER_WIDTH, s += CHARGER_STEP_WIDTH, at += rows) {
    if (chargers[c + LIVE] === 0) continue;
    const kind = chargers[c + KIND]!;
    const share = steps[s + SHARE]!;
    const givenA = chargers[c + GIVEN_A]! * now[NOW_SCALE]!;
    const terminalV = busV + givenA * chargers[c + CHARGER_OHM]!;
    const partA = givenA * share * part;
    add(all, at + OUT_CHARGER_W * next, partA * terminalV);
    add(all, at + OUT_CHARGER_BUS_W * next, partA * busV);
    if (kind === PWM) {
      const curve = input.pwmA[c / CHARGER_WIDTH]!;
      const { pwmDropV, pwmFromV, pwmStepV, pwmPoints } = input;
      const arrayV = terminalV + givenA * chargers[c + PWM_OHM]! + pwmDropV;
      const place = (arrayV - pwmFromV) / pwmStepV;
      const n = place >= pwmPoints - 1 ? pwmPoints - 2 : place > 0 ? place | 0 : 0;
      const left = curve[step * pwmPoints + n]!;
      const offeredA = left + (curve[step * pwmPoints + n + 1]! - left) * (place - n);
      add(all, at + OUT_ARRAY_W * next, partA * arrayV);
      add(all, at + OUT_ARRAY_AVAILABLE_W * next, (offeredA > givenA ? offeredA : givenA) * share * part * arrayV);
    }
    const isHeld = chargers[c + HELD] === 1;
    if (givenA < 0) continue;
    if (isHeld) limit = LIMIT_VOLTAGE;
    else if (!isCurtailed) {
      const why = givenA >= chargers[c + MAX_A]! * (1 - 1e-9) ? LIMIT_RATING : LIMIT_SOURCE;
      if (why > limit) limit = why;
    }
    if (kind !== RELAY) {
      const held = isHeld ? 1 : 0;
      const was = chargers[c + STAGE]!;
      const hours = held * share * dtH;
      const hoursSoFar = chargers[c + STAGE_H]! + hours;
      const holdH = chargers[c + ABSORPTION_H]!;
      const stage = nextStage(
        was,
        hoursSoFar,
        held,
        amps,
        busV,
        0,
        holdH,
        chargers[c + TAIL_A]!,
        chargers[c + RESTART_BELOW_V]!,
      );
      chargers[c + STAGE] = stage;
      chargers[c + STAGE_H] = stage === was ? hoursSoFar : stage === ABSORPTION ? hours : 0;
    }
  }
  return limit;
}

function add(column: Float64Array, at: number, value: number): void {
  column[at] = column[at]! + value;
}
