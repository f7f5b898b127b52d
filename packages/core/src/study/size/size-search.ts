import type { Task } from '../../math/index.js';
import type { Combination } from './size-list.js';
import { Followed, type Runner, type SizeRun, type Target } from './size-runs.js';

/** So far above a limit of hours is above it [h]. */
const NOTHING_H = 1e-9;

/** What a choice that was followed to its end stands for in the search. */
interface Rival {
  readonly followed: Followed;
  readonly price: number;
  readonly hours: number;
  readonly failed: number;
}

/** A choice that cannot be among the best. */
export interface Beaten {
  readonly followed: Followed;
  readonly by: Followed;
}

export interface Searched {
  /** run to their end, in the order of `combinations` */
  readonly whole: readonly Followed[];
  readonly beaten: readonly Beaten[];
  /** left as soon as they had lacked power for longer than `maxHours` */
  readonly farBelowTarget: readonly Followed[];
}

export interface SearchOptions {
  /** without power in all runs together: above it a choice that misses the target is left, whatever its price [h] */
  readonly maxHours: number;
  /** every combination is run to its end */
  readonly exhaustive: boolean;
  readonly onDone?: (done: number) => void;
}

/**
 * Follows each combination only as far as it takes to know whether another is at least as light, as cheap and as reliable.
 * Exact, and without any assumption about the model: hours and failed years only grow as more runs are looked at, so what
 * was counted so far is a bound from below; and nothing is more reliable than what never fails. That more panel or battery
 * never does harm is *not* relied on: it does not hold in the model where a larger bank leaks more, or where what came back
 * earlier after a cut-off falls into a dearer hour.
 * What is farBelowTarget, by the caller's measure, is left without a rival.
 * @param combinations lightest first, then cheapest: what could beat one comes before it
 */
export function* search(
  runner: Runner,
  combinations: readonly Combination[],
  { maxHours, exhaustive, onDone = () => {} }: SearchOptions,
): Task<Searched> {
  const whole: Followed[] = [];
  const beaten: Beaten[] = [];
  const farBelowTarget: Followed[] = [];
  let rivals: Rival[] = [];
  for (const [k, combination] of combinations.entries()) {
    const { price } = combination.bill;
    const cheaper = exhaustive ? [] : rivals.filter((rival) => rival.price <= price);
    const followed = new Followed(combination, runner.target, runner.runs.length);
    const by = yield* follow(runner, followed, cheaper, exhaustive ? Infinity : maxHours);
    if (isFarBelowTarget(followed, maxHours)) farBelowTarget.push(followed);
    else if (by) beaten.push({ followed, by });
    else {
      whole.push(followed);
      const rival = { followed, price, hours: followed.hours, failed: followed.failed };
      rivals = [...rivals.filter((other) => !isNoBetter(other, rival)), rival];
    }
    onDone(k + 1);
  }
  return { whole, beaten, farBelowTarget };
}

function isFarBelowTarget(followed: Followed, maxHours: number): boolean {
  return followed.hours > maxHours && followed.cannotMeet;
}

/** @returns which rival beats it, as soon as that is certain */
function* follow(
  runner: Runner,
  followed: Followed,
  rivals: readonly Rival[],
  maxHours: number,
): Task<Followed | undefined> {
  const { runs, target } = runner;
  const beatenBy = () => rivals.find(({ hours, failed }) => followed.hours >= hours && followed.failed >= failed);
  const before = beatenBy();
  if (before) return before.followed;
  const variant = runner.variant(followed.combination);
  for (const at of runner.order()) {
    const run = runs[at]!;
    const left = followed.cannotMeet ? maxHours + NOTHING_H - followed.hours : Infinity;
    const enough = rivals.reduce((least, rival) => Math.min(least, enoughHours(followed, run, target, rival)), left);
    followed.add(at, run, runner.run(variant, at, enough));
    yield;
    const by = beatenBy();
    if (by) return by.followed;
    if (isFarBelowTarget(followed, maxHours)) return undefined;
  }
  return undefined;
}

/** Hours in this run after which a rival beats it whatever follows; infinite when this run alone cannot settle that. */
function enoughHours(followed: Followed, { caseIndex }: SizeRun, target: Target, rival: Rival): number {
  const missing = rival.hours - followed.hours;
  if (followed.failed >= rival.failed) return missing;
  return followed.failedOf[caseIndex]! + 1 >= rival.failed ? Math.max(missing, target.failingHours) : Infinity;
}

function isNoBetter(one: Rival, than: Rival): boolean {
  // The other came later in the order, so it is no lighter: it can only stand in for one of equal mass.
  return (
    one.followed.combination.bill.massKg >= than.followed.combination.bill.massKg &&
    one.price >= than.price &&
    one.hours >= than.hours &&
    one.failed >= than.failed
  );
}

/** The first of `others` that is at least as light, cheap and reliable, and better in one; of equals the earlier stays. */
export function dominatorOf(one: Followed, others: readonly Followed[]): Followed | undefined {
  const at = others.indexOf(one);
  const a = one.combination.bill;
  return others.find((other, k) => {
    if (other === one) return false;
    const b = other.combination.bill;
    const noWorse =
      b.massKg <= a.massKg && b.price <= a.price && other.hours <= one.hours && other.failed <= one.failed;
    const better = b.massKg < a.massKg || b.price < a.price || other.hours < one.hours || other.failed < one.failed;
    return noWorse && (better || k < at);
  });
}
