import { describe, expect, test } from 'vitest';
import { errorOf, type PublishedCheck } from './check.js';

const titleOf = ({ quantity, source, origin, fault }: PublishedCheck) =>
  `${quantity} (${source}; ${origin})${fault ? `, known to miss it: ${fault}` : ''}`;

/** Registers one test per check, named by quantity and source, that reports the worst case. */
export function testChecks(topic: string, checks: readonly PublishedCheck[]): void {
  describe(topic, () => {
    for (const check of checks)
      (check.fault ? test.fails : test)(titleOf(check), () => {
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
