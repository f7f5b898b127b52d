// npm run fuzz: tries inputs that nobody would write until the time is up, keeps those that break something, and tells.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { parseArgs } from 'node:util';
import { CALLED, faultOfCall } from './command-line.js';
import { corpusOf } from './corpus.js';
import { Lane } from './lane.js';
import type { Ask, Tried } from './protocol.js';
import { inputOf, isTarget, TARGETS, type TargetName } from './targets.js';

const HELP = `npm run fuzz -- [--minutes N | --seconds N] [--seed N] [--only rig,trip,…] [--lanes N] [--no-calls] [--dry]
npm run fuzz -- --replay fuzz-failures/KIND-SEED-NUMBER.input

kinds: ${Object.keys(TARGETS).join(', ')}
--no-calls leaves the built program out, --dry keeps no inputs`;

/** How often each kind is tried. */
const SHARES: Readonly<Record<TargetName, number>> = {
  rig: 4,
  trip: 2,
  parts: 1,
  weather: 3,
  log: 3,
  expression: 2,
  quantity: 1,
  setting: 1,
  broken: 0,
};
/** Generous, for a machine that is busy: a sound input takes milliseconds. */
const LIMITS = { maxMs: 20_000, maxMb: 900 };
const MAX_CALL_MS = 60_000;
/** Inputs kept of faults that look the same. */
const MAX_ALIKE = 3;

/** @returns exit code: 0 when nothing broke, 1 when something did, 2 for a wrong call */
export async function main(args: readonly string[], root: string, childScript: string): Promise<number> {
  const { values } = parseArgs({
    args: [...args],
    options: {
      minutes: { type: 'string' },
      seconds: { type: 'string' },
      seed: { type: 'string' },
      only: { type: 'string' },
      lanes: { type: 'string', default: '2' },
      replay: { type: 'string' },
      'no-calls': { type: 'boolean', default: false },
      dry: { type: 'boolean', default: false },
      help: { type: 'boolean', default: false },
    },
  });
  if (values.help) {
    console.log(HELP);
    return 0;
  }
  if (values.replay !== undefined) return replay(values.replay, root, childScript);
  const seconds = values.seconds === undefined ? 60 * Number(values.minutes ?? 1) : Number(values.seconds);
  const seed = values.seed === undefined ? Math.floor(Date.now() / 1000) % 1e6 : Number(values.seed);
  const only = values.only?.split(',') ?? Object.keys(SHARES);
  const lanes = Number(values.lanes);
  if (!(seconds > 0 && Number.isInteger(seed) && lanes >= 1 && only.every(isTarget))) {
    console.error(HELP);
    return 2;
  }
  console.log(`seed ${seed}, ${seconds} s, ${lanes} processes`);
  const fuzz = new Fuzz(root, childScript, seed, only as TargetName[], values.dry);
  await fuzz.run(seconds, lanes, !values['no-calls']);
  return fuzz.report();
}

class Fuzz {
  private readonly corpus;
  private readonly order: readonly TargetName[];
  private readonly counts = new Map<
    TargetName,
    { tried: number; refused: number; slowestMs: number; slowest: number }
  >();
  private readonly alike = new Map<string, number>();
  private next = 0;
  private calls = 0;
  private peakMb = 0;
  private tookS = 0;

  constructor(
    private readonly root: string,
    private readonly childScript: string,
    private readonly seed: number,
    private readonly only: readonly TargetName[],
    private readonly isDry: boolean,
  ) {
    this.corpus = corpusOf(root);
    const shares = only.length === 1 ? 1 : undefined;
    this.order = only.flatMap((name) => Array<TargetName>(shares ?? SHARES[name]).fill(name));
  }

  async run(seconds: number, lanes: number, withCalls: boolean): Promise<void> {
    const began = performance.now();
    const isTime = () => performance.now() - began < seconds * 1000;
    const callable = this.order.filter((name) => CALLED.includes(name));
    const one = async (index: number) => {
      const lane = new Lane(
        this.childScript,
        this.root,
        this.only[0] === 'broken' ? { ...LIMITS, maxMs: 2500 } : LIMITS,
      );
      let callMs = 0;
      while (isTime()) {
        await this.tryNext(lane);
        // the first lane calls the built program too, for a fifth of its time
        if (index > 0 || !withCalls || callable.length === 0 || callMs > (performance.now() - began) / 5) continue;
        const from = performance.now();
        await this.callNext(callable);
        callMs += performance.now() - from;
      }
      lane.close();
    };
    await Promise.all(Array.from({ length: lanes }, (_, index) => one(index)));
    this.tookS = (performance.now() - began) / 1000;
  }

  private async tryNext(lane: Lane): Promise<void> {
    const number = this.next++;
    const target = this.order[number % this.order.length]!;
    const ask: Ask = { target, seed: this.seed, number };
    const { ms, refused, rssMb, fault } = await lane.try(ask);
    const count = this.counts.get(target) ?? { tried: 0, refused: 0, slowestMs: 0, slowest: 0 };
    this.counts.set(target, count);
    count.tried++;
    if (refused) count.refused++;
    if (ms > count.slowestMs) [count.slowestMs, count.slowest] = [ms, number];
    this.peakMb = Math.max(this.peakMb, rssMb);
    if (fault !== undefined) this.keep(target, number, fault);
  }

  private async callNext(callable: readonly TargetName[]): Promise<void> {
    const number = this.next++;
    const target = callable[this.calls++ % callable.length]!;
    const input = inputOf(target, this.seed, number, this.corpus);
    const fault = await faultOfCall(this.root, target, input, number, MAX_CALL_MS);
    if (fault !== undefined) this.keep(target, number, fault, '-call');
  }

  private keep(target: TargetName, number: number, fault: string, mark = ''): void {
    const [first, ...frames] = fault.split('\n');
    const where = frames.find((line) => /^\s+at /.test(line))?.trim() ?? '';
    const key = `${target}${mark}: ${first!.replace(/\d+(\.\d+)?/g, '#')} ${where}`;
    const seen = (this.alike.get(key) ?? 0) + 1;
    this.alike.set(key, seen);
    if (seen > MAX_ALIKE) return;
    const folder = join(this.root, 'fuzz-failures');
    const name = join(folder, `${target}${mark}-${this.seed}-${number}`);
    if (!this.isDry) {
      mkdirSync(folder, { recursive: true });
      writeFileSync(`${name}.input`, inputOf(target, this.seed, number, this.corpus));
      writeFileSync(`${name}.fault.txt`, `${fault}\n`);
    }
    console.log(`${name}.input\n  ${fault.split('\n').slice(0, 6).join('\n  ')}`);
  }

  report(): number {
    const total = [...this.counts.values()].reduce((sum, { tried }) => sum + tried, 0);
    for (const [name, { tried, refused, slowestMs, slowest }] of this.counts)
      console.log(
        `${name.padEnd(10)} ${String(tried).padStart(7)} tried, ${String(Math.round((100 * (tried - refused)) / tried)).padStart(3)} % read, slowest ${slowestMs.toFixed(0)} ms (number ${slowest})`,
      );
    const rate = Math.round((60 * total) / this.tookS);
    console.log(
      `${total} inputs and ${this.calls} calls of the program in ${this.tookS.toFixed(0)} s (${rate} a minute), at most ${this.peakMb.toFixed(0)} MB`,
    );
    const faults = [...this.alike.values()].reduce((sum, count) => sum + count, 0);
    if (faults === 0) console.log('clean');
    else for (const [key, count] of this.alike) console.log(`${count} x ${key}`);
    return faults === 0 ? 0 : 1;
  }
}

/** Tries a kept input again, as it was tried then. */
async function replay(file: string, root: string, childScript: string): Promise<number> {
  const [, name, call, seed, number] = /^([a-z]+)(-call)?-(\d+)-(\d+)\.input$/.exec(basename(file)) ?? [];
  if (name === undefined || !isTarget(name)) {
    console.error(`${file} is not named KIND-SEED-NUMBER.input`);
    return 2;
  }
  let fault: string | undefined;
  if (call) fault = await faultOfCall(root, name, readFileSync(file), Number(number), MAX_CALL_MS);
  else {
    const lane = new Lane(childScript, root, LIMITS);
    const tried: Tried = await lane.try({ target: name, seed: Number(seed), number: Number(number), file });
    lane.close();
    fault = tried.fault;
    console.log(`${tried.ms.toFixed(0)} ms, ${tried.rssMb.toFixed(0)} MB, ${tried.refused ? 'refused' : 'read'}`);
  }
  console.log(fault ?? 'clean');
  return fault === undefined ? 0 : 1;
}
