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
  /** null = no standard rating does; `reason` says why */
  readonly fuseA: number | null;
  readonly reason: string;
}

/**
 * The smallest standard fuse that carries the load and still protects the cable:
 * 1.25 · load <= fuse <= ampacity. Source: IEC 60364-4-43 clause 433.1 with FUSE_MARGIN, from memory.
 */
export function fuseFor({ loadA, ampacityA }: { readonly loadA: number; readonly ampacityA: number }): FuseChoice {
  if (!(loadA >= 0)) throw new RangeError(`loadA must be 0 or more, got ${loadA}`);
  if (!(ampacityA >= 0)) throw new RangeError(`ampacityA must be 0 or more, got ${ampacityA}`);
  const fuseA = FUSE_RATINGS_A.find((rating) => rating >= FUSE_MARGIN * loadA * (1 - 1e-9));
  const largest = FUSE_RATINGS_A[FUSE_RATINGS_A.length - 1]!;
  if (fuseA === undefined)
    return { fuseA: null, reason: `no fuse up to ${largest} A carries ${amps(loadA)} for good: split the circuit` };
  if (fuseA > ampacityA)
    return {
      fuseA: null,
      reason: `the smallest fuse that carries ${amps(loadA)} is ${fuseA} A, more than the cable's ${amps(ampacityA)}`,
    };
  return { fuseA, reason: `carries ${amps(loadA)}, protects a cable of ${amps(ampacityA)}` };
}

/** Three significant digits with the unit. */
export function amps(currentA: number): string {
  return `${Number(currentA.toPrecision(3))} A`;
}
