import fc from 'fast-check';
import { expect, test } from 'vitest';
import { createZoneClock } from '../../../packages/core/src/log/clock/zone-clock.js';
import { utcOffsetH } from '../../../packages/core/src/place/index.js';

/** Changes of the clocks by the IANA database, one of them by half an hour. */
const CHANGES: readonly (readonly [zone: string, utcMs: number])[] = [
  ['Europe/Rome', Date.UTC(2026, 2, 29, 1)],
  ['Europe/Rome', Date.UTC(2026, 9, 25, 1)],
  ['America/St_Johns', Date.UTC(2026, 2, 8, 5, 30)],
  ['America/St_Johns', Date.UTC(2026, 10, 1, 4, 30)],
  ['Australia/Lord_Howe', Date.UTC(2026, 3, 4, 15)],
  ['Australia/Lord_Howe', Date.UTC(2026, 9, 3, 15, 30)],
];
const MINUTE = 60_000;
const around = fc.integer({ min: -3 * 1440 * 60, max: 3 * 1440 * 60 }).map((seconds) => seconds * 1000);

test('local times around a change of the clocks go back to themselves by the offset of the instant they became', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...CHANGES),
      fc.array(
        fc.oneof(
          around,
          around.map((ms) => Math.round(ms / 40)),
        ),
        { minLength: 1, maxLength: 60 },
      ),
      ([zone, changeMs], offsets) => {
        const clock = createZoneClock(zone);
        const offsetMs = (ms: number) => utcOffsetH(ms, zone) * 60 * MINUTE;
        let lastMs = Number.NEGATIVE_INFINITY;
        for (const off of offsets) {
          const localMs = Math.round((changeMs + offsetMs(changeMs) + off) / 1000) * 1000;
          const ms = clock.toUtc(localMs, lastMs);
          const [before, after] = [offsetMs(changeMs - 1), offsetMs(changeMs)];
          const skipsIt = localMs - before >= changeMs && localMs - after < changeMs;
          expect(clock.isSkipped).toBe(skipsIt);
          if (!skipsIt) expect(ms + offsetMs(ms)).toBe(localMs);
          else expect(ms).toBe(localMs - before);
          const isTwice = localMs - before < changeMs && localMs - after >= changeMs;
          if (isTwice) expect(ms).toBe(localMs - before > lastMs ? localMs - before : localMs - after);
          lastMs = ms;
        }
      },
    ),
  );
});
