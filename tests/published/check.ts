import { describe, expect, test } from 'vitest';

/** Where an expected value comes from: see the catalogue's own words in each `source`. */
export type Origin =
  | 'published'
  | 'recomputed from the published formula'
  | 'from memory'
  | 'common practice, no source';

/** One quantity of the model held against one outside source. The accuracy table of the README is made from these. */
export interface PublishedCheck {
  readonly quantity: string;
  readonly unit: string;
  /** author, title or standard, year, table or equation */
  readonly source: string;
  readonly origin: Origin;
  /** largest difference that the source's own precision allows, in `unit`, or as a ratio when `relative` */
  readonly tolerance: number;
  readonly relative?: boolean;
  readonly cases: readonly { readonly at: string; readonly expected: number; readonly got: () => number }[];
}

export function errorOf(check: PublishedCheck, index: number): number {
  const { expected, got } = check.cases[index]!;
  const difference = Math.abs(got() - expected);
  return check.relative ? difference / Math.abs(expected) : difference;
}

/** Registers one test per check, named by quantity and source, that reports the worst case. */
export function testChecks(topic: string, checks: readonly PublishedCheck[]): void {
  describe(topic, () => {
    for (const check of checks)
      test(`${check.quantity} (${check.source}; ${check.origin})`, () => {
        expect(check.cases.length).toBeGreaterThan(0);
        check.cases.forEach((one, i) => {
          const error = errorOf(check, i);
          expect(
            error,
            `${one.at}: got ${one.got()}, the source has ${one.expected} ${check.unit}`,
          ).toBeLessThanOrEqual(check.tolerance);
        });
      });
  });
}
