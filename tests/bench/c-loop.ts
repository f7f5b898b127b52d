import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type LoopInput, loopOutput, PWM } from '../../packages/core/src/simulate/loop/loop.js';

/** Whether this machine can build the C loop. */
export const hasGcc = spawnSync('gcc', ['--version']).status === 0;

export interface CLoop {
  /** @returns the columns of LoopOutput one after the other, and the fastest repeat in nanoseconds a step */
  run(input: LoopInput, repeats?: number): { all: Float64Array; nsPerStep: number };
  /** @returns the columns of each, from one start of the program */
  runEach(inputs: readonly LoopInput[]): Float64Array[];
  remove(): void;
}

/** Builds tests/bench/loop.c. Products and sums are not fused, so that both round alike. */
export function buildCLoop(): CLoop {
  const folder = mkdtempSync(join(tmpdir(), 'stayput-loop-'));
  const program = join(folder, 'loop');
  const source = fileURLToPath(new URL('./loop.c', import.meta.url));
  execFileSync('gcc', ['-O2', '-ffp-contract=off', '-Wall', '-Wextra', '-Werror', '-o', program, source, '-lm']);
  const outputsOf = (inputs: readonly LoopInput[], repeats: number) => {
    const { status, stdout, stderr } = spawnSync(program, [String(repeats)], {
      input: Buffer.concat(inputs.map(asBytes)),
      maxBuffer: 2 ** 30,
    });
    if (status !== 0) throw new Error(`the C loop ended with ${status}: ${stderr}`);
    const all = new Float64Array(stdout.length / 8);
    new Uint8Array(all.buffer).set(stdout);
    return { all, nsPerStep: Number(String(stderr).trim().split('\n').at(-1)) };
  };
  return {
    run: (input, repeats = 1) => outputsOf([input], repeats),
    runEach(inputs) {
      const { all } = outputsOf(inputs, 1);
      let at = 0;
      return inputs.map((input) => {
        const from = at;
        at += loopOutput(input.steps, input).all.length;
        return all.subarray(from, at);
      });
    },
    remove: () => rmSync(folder, { recursive: true }),
  };
}

/** The input as doubles, in the order of load() in loop.c. */
function asBytes(input: LoopInput): Uint8Array {
  const { steps } = input;
  const parts: Float64Array[] = [];
  const numbers = (...values: number[]) => parts.push(Float64Array.from(values));
  const lane = (column: Float64Array, k: number) => parts.push(column.subarray(k * steps, (k + 1) * steps));
  numbers(steps, input.points, input.fridges, input.heavies, input.chargers, input.pwmPoints);
  numbers(input.stepH, input.capacityAh);
  numbers(input.lowestV, input.kneeV, input.kneeA, input.wellReserveAh, input.emptySoc);
  numbers(input.mainOhm, input.startSoc, input.maxDischargeA);
  numbers(input.disconnectSoc, input.disconnectV, input.reconnectSoc, input.reconnectV);
  numbers(input.pwmDropV, input.pwmFromV, input.pwmStepV);
  parts.push(input.ocvV, input.energyWh, input.dischargeOhm, input.chargeOhm);
  parts.push(input.chargeSteepOhm, input.chargeStepOhm, input.chargeBendV);
  parts.push(input.chargeEfficiency, input.resistanceFactor, input.chargeFactor, input.wellShare, input.wellPerH);
  parts.push(input.chargeLimitA, input.coldLimited, input.selfDischargeA);
  parts.push(input.plainW, input.plainQuad, input.plainCube, input.plainFourth, input.plainA, input.unswitchedW);
  for (let k = 0; k < input.fridges; k++) {
    numbers(input.fridgeOhm[k]!, input.fridgeCutOutV[k]!, input.fridgeCutInV[k]!);
    numbers(input.fridgeSetC[k]!, input.fridgeStartC[k]!, input.fridgePartner[k]!);
    numbers(input.fridgeContentKg[k]!, input.fridgeLinerWhPerK[k]!);
    const { fridgeLossWPerK, fridgeFoodKgPerH, fridgeInflowW, fridgeCoolingW, fridgeRunW } = input;
    for (const column of [fridgeLossWPerK, fridgeFoodKgPerH, fridgeInflowW, fridgeCoolingW, fridgeRunW])
      lane(column, k);
  }
  for (let k = 0; k < input.heavies; k++) {
    numbers(input.heavyOhm[k]!, input.heavyCutOutV[k]!, input.heavyCutInV[k]!);
    lane(input.heavyW, k);
    lane(input.heavyRuns, k);
  }
  for (let j = 0; j < input.chargers; j++) {
    numbers(input.chargerKind[j]!, input.sharesWith[j]!, input.chargerOhm[j]!, input.absorptionV[j]!, input.floatV[j]!);
    numbers(input.holdH[j]!, input.tailA[j]!, input.restartBelowV[j]!, input.pwmOhm[j]!);
    numbers(input.relayBackA[j]!, input.relayJoinV[j]!, input.relayPartV[j]!, input.relayDrawA[j]!);
    for (const column of [input.drive, input.limitA, input.chargerShare, input.compensationV]) lane(column, j);
    if (input.chargerKind[j] === PWM) parts.push(input.pwmA[j]!);
  }
  return Buffer.concat(parts.map((part) => new Uint8Array(part.buffer, part.byteOffset, part.byteLength)));
}
