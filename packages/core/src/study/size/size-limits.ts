import type { Task } from '../../math/index.js';
import type { PartsList, Rig } from '../../rig/index.js';
import { amountOf, brokenLimits, type Combination, type LimitName, limitsOf, picksOf } from './size-list.js';
import type { Runner } from './size-runs.js';
import type { BindingLimit } from './size-types.js';

/** Combinations tried for each limit: an answer to "what stands in the way", not a search for the best. */
const MAX_TRIED = 150;

/**
 * When nothing meets the target: for each limit, whether something would with that limit alone lifted (for numbers of
 * pieces: doubled), and the lightest such found.
 */
export function* bindingLimits(
  rig: Rig,
  parts: PartsList,
  runner: Runner,
  onDone: (done: number) => void,
): Task<BindingLimit[]> {
  const limits = limitsOf(parts);
  const names = (Object.keys(limits) as LimitName[]).filter((name) => limits[name] !== undefined);
  const found: BindingLimit[] = [];
  for (const [k, limit] of names.entries()) {
    for (const one of withoutLimit(rig, parts, limit)) {
      if (!(yield* runner.meets(runner.variant(one)))) continue;
      found.push({
        limit,
        allowed: limits[limit]!,
        given: parts.limits[limit] !== undefined,
        needed: amountOf(one.bill, limit, parts),
        choice: one.bill,
      });
      break;
    }
    onDone(k + 1);
  }
  return found;
}

/** Those that break this limit and no other, lightest first; evenly picked when there are many. */
function withoutLimit(rig: Rig, parts: PartsList, lifted: LimitName): Combination[] {
  const limits = limitsOf(parts);
  const counts = {
    batteries: lifted === 'batteries' ? Math.max(1, 2 * limits.batteries) : limits.batteries,
    panels: lifted === 'panels' ? Math.max(1, 2 * limits.panels) : limits.panels,
  };
  let all: Combination[];
  try {
    all = picksOf(rig, parts, counts);
  } catch {
    return []; // twice as many are too many to try
  }
  const only = all.filter(({ bill }) => {
    const broken = brokenLimits(bill, limits, parts);
    return broken.length === 1 && broken[0] === lifted;
  });
  if (only.length <= MAX_TRIED) return only;
  return Array.from({ length: MAX_TRIED }, (_, k) => only[Math.round((k * (only.length - 1)) / (MAX_TRIED - 1))]!);
}
