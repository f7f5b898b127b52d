/**
 * Standard fuse ratings [A], ascending: blade fuses to 40 A (ISO 8820-3), bolt-in fuses above (ISO 8820-5).
 * Source: those standards, from memory.
 */
export const FUSE_RATINGS_A: readonly number[] = [
  1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80, 100, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450,
  500,
];

/** A fuse carries a load that lasts only at 1 / 1.25 of its rating. Common practice; IEC 60364-4-43 has 1. */
export const FUSE_MARGIN = 1.25;

/** The fuse for a circuit, or why there is none. */
export interface FuseChoice {
  /** null = no standard rating does */
  readonly fuseA: number | null;
  /** why there is none: no rating carries the load, or the one that does is more than the cable may carry */
  readonly lacks?: 'rating' | 'ampacity';
  /** the smallest rating that carries the load [A]; null where there is none */
  readonly smallestA: number | null;
}

/**
 * The smallest standard fuse that carries the load and still protects the cable:
 * 1.25 · load <= fuse <= ampacity. Source: IEC 60364-4-43 clause 433.1 with FUSE_MARGIN, from memory.
 * Where the cable allows it the fuse is no smaller than the start-up current either: a blade fuse may open within
 * 0.15 s at twice its rating and within 0.75 s at 1.35 times (ISO 8820-3, from memory), and starts last as long.
 * @param startA short current at the start [A]
 * @throws RangeError for a current below 0 or NaN
 */
export function fuseFor({
  loadA,
  ampacityA,
  startA = 0,
}: {
  readonly loadA: number;
  readonly ampacityA: number;
  readonly startA?: number;
}): FuseChoice {
  for (const [name, current] of Object.entries({ loadA, ampacityA, startA }))
    if (!(current >= 0)) throw new RangeError(`${name} must be 0 or more, got ${current}`);
  const fuseA = FUSE_RATINGS_A.find((rating) => rating >= FUSE_MARGIN * loadA * (1 - 1e-9));
  if (fuseA === undefined) return { fuseA: null, lacks: 'rating', smallestA: null };
  if (fuseA > ampacityA) return { fuseA: null, lacks: 'ampacity', smallestA: fuseA };
  // The start counts as far as the cable is still protected.
  const forStartA = FUSE_RATINGS_A.find((rating) => rating >= startA) ?? FUSE_RATINGS_A.at(-1)!;
  return { fuseA: Math.max(fuseA, Math.min(forStartA, largestFuseA(ampacityA))), smallestA: fuseA };
}

/** The largest standard fuse that still protects a cable of this ampacity, at least the smallest rating [A]. */
export function largestFuseA(ampacityA: number): number {
  return FUSE_RATINGS_A.findLast((rating) => rating <= ampacityA) ?? FUSE_RATINGS_A[0]!;
}
