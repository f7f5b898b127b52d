/** Where an expected value comes from: see the catalogue's own words in each `source`. */
export type Origin =
  | 'published'
  | 'recomputed from the published formula'
  | 'from memory'
  | 'common practice, no source';

/** One quantity of the model held against one outside source. The accuracy tables in README.md are made from these. */
export interface PublishedCheck {
  readonly quantity: string;
  readonly unit: string;
  /** author, title or standard, year, table or equation */
  readonly source: string;
  readonly origin: Origin;
  /** largest difference that the source's own precision allows, in `unit`, or as a ratio when `relative` */
  readonly tolerance: number;
  readonly relative?: boolean;
  /** what is wrong with the model where it is known to miss this source: the test is then to fail, and says so when it no longer does */
  readonly fault?: string;
  readonly cases: readonly { readonly at: string; readonly expected: number; readonly got: () => number }[];
}

export function errorOf(check: PublishedCheck, index: number): number {
  const { expected, got } = check.cases[index]!;
  const difference = Math.abs(got() - expected);
  return check.relative ? difference / Math.abs(expected) : difference;
}

/** Checks that a value lies in a range: what is compared is how far it lies outside, so that inside is no error. */
export function rangeChecks(
  quantity: string,
  unit: string,
  source: string,
  origin: PublishedCheck['origin'],
  rows: readonly (readonly [string, number, number, () => number])[],
): PublishedCheck[] {
  return rows.map(([at, low, high, value]) => ({
    quantity: `${quantity}, ${at}: outside of ${Number(low.toPrecision(4))} to ${Number(high.toPrecision(4))}`,
    unit,
    source,
    origin,
    tolerance: 1e-12,
    cases: [{ at, expected: 0, got: () => Math.max(0, low - value(), value() - high) }],
  }));
}

/** Checks that the model is known to miss, and why. */
export const missed = (fault: string, checks: readonly PublishedCheck[]): PublishedCheck[] =>
  checks.map((check) => ({ ...check, fault }));
