import { readLogFile } from '../../packages/cli/src/commands/log-read.js';
import type { Io } from '../../packages/cli/src/io.js';
import type { LogDay, LogOptions, LogReading } from '../../packages/core/src/log/index.js';
import { ConfigError } from '../../packages/core/src/rig/index.js';
import type { TrueDay } from './truth.js';
import type { Variant } from './variants.js';

export type Verdict = 'right' | 'asked' | 'refused' | 'wrong';
export interface Judged {
  readonly verdict: Verdict;
  readonly why: string;
}

/** A day counts as right within 1 %, or within what one cell in a thousand lost would do … */
const SHARE = 0.01;
const ABSOLUTE: Readonly<Record<Exclude<keyof TrueDay, 'date'>, number>> = {
  chargedAh: 0.15,
  dischargedAh: 0.15,
  harvestWh: 2,
  loadWh: 2,
  lowestSoc: 0.006,
  highestSoc: 0.006,
  lowestV: 0.03,
  highestV: 0.03,
};
/** … and what its own lost cells may hide: a step of a fridge and a pump at once, or of the brightest sun. */
const HIDDEN: Readonly<Record<Exclude<keyof TrueDay, 'date'>, number>> = {
  chargedAh: 1,
  dischargedAh: 0.7,
  harvestWh: 16,
  loadWh: 10,
  lowestSoc: 0.006,
  highestSoc: 0.006,
  lowestV: 0.05,
  highestV: 0.05,
};

export async function judge(variant: Variant): Promise<Judged> {
  const first = await outcome(variant, variant.options);
  if (first.verdict !== 'asked') return first;
  // asked is only as good as the answer: what the owner knows must then lead to the truth, or to a refusal
  const then =
    Object.keys(variant.answers).length > 0
      ? await outcome(variant, { ...variant.options, ...variant.answers })
      : first;
  if (then.verdict === 'wrong') return { verdict: 'wrong', why: `after the answer: ${then.why}` };
  return then.verdict === 'right'
    ? { verdict: 'asked', why: first.why }
    : { verdict: 'refused', why: `${first.why}; ${then.why}` };
}

async function outcome(variant: Variant, options: LogOptions): Promise<Judged> {
  const io = {
    openBytes: async () =>
      (async function* () {
        // pieces of odd length: letters and lines are cut anywhere
        for (let at = 0; at < variant.bytes.length; at += 65_521) yield variant.bytes.subarray(at, at + 65_521);
      })(),
  } as Partial<Io> as Io;
  let reading: LogReading;
  try {
    reading = await readLogFile(io, 'log.csv', { file: 'log.csv', todayMs: Date.UTC(2026, 11, 1), ...options });
  } catch (error) {
    const why = (error as Error).message;
    if (!(error instanceof ConfigError) && (error as Error).name !== 'InputError')
      return { verdict: 'wrong', why: `crash: ${(error as Error).stack}` };
    const isAsked =
      error instanceof ConfigError &&
      error.issues.some(({ advice = [] }) => advice.some((part) => typeof part !== 'string'));
    return { verdict: isAsked ? 'asked' : 'refused', why };
  }
  if (variant.contradicts) return { verdict: 'wrong', why: 'a contradiction was not noticed' };
  const wrong = variant.truth.flatMap((day) =>
    differences(
      day,
      reading.daily.find(({ date }) => date === day.date),
      variant.lost.get(day.date) ?? 0,
    ),
  );
  const extra = reading.daily.length - variant.truth.length;
  if (extra > 0) wrong.push(`${extra} days too many`);
  const warned = reading.warnings.map(({ code }) => code).join(', ');
  return wrong.length === 0
    ? { verdict: 'right', why: '' }
    : { verdict: 'wrong', why: `${wrong.slice(0, 3).join('; ')} [${warned}]` };
}

function differences(truth: TrueDay, day: LogDay | undefined, lost: number): string[] {
  if (day === undefined) return [`no ${truth.date}`];
  return Object.entries(truth).flatMap(([key, was]) => {
    if (key === 'date') return [];
    const name = key as keyof typeof ABSOLUTE;
    const is = day[name];
    if (is === undefined) return [`${truth.date} lacks ${name}`];
    return Math.abs(is - was) <= Math.max(SHARE * Math.abs(was), ABSOLUTE[name]) + lost * HIDDEN[name]
      ? []
      : [`${truth.date} ${name} ${is.toPrecision(4)} for ${was.toPrecision(4)}`];
  });
}
