import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import {
  KNOWN,
  type Likeness,
  likenessOf,
  MADE_P10_OFF,
  unlikeness,
} from '../../packages/core/src/study/stay/stay-spread.js';
import { DAY_PARAMETERS } from '../../packages/core/src/weather/made/day-parameters.js';
import { parametersText } from './day-parameters-text.js';
import { type Held, held, madeDays } from './made-days.js';
import { fitDayParameters, isNear, knownPlaces, realPlaces } from './real-years.js';

const FOLDER = fileURLToPath(new URL('../../../shared/reference/', import.meta.url));
const isThere = existsSync(`${FOLDER}19-real-daily-years.json`);
/** So many that their own noise is a tenth of the bands. */
const MADE_YEARS = 600;

/** Figures of made years at each place, its own statistics and those of stations next to it left out of the fit. */
function leftOut(): (Held & { readonly at: string })[] {
  const known = knownPlaces(FOLDER);
  return realPlaces(FOLDER).flatMap((place) => {
    const parameters = fitDayParameters(known.filter((other) => !isNear(other, place)));
    return held(place, madeDays(place, MADE_YEARS, parameters)).map((one) => ({ at: place.id, ...one }));
  });
}

// Source: statistics of real daily years of 18 stations, 4 to 41 years each, worked out from the daily weather files of
// experiment stations in an open crop-model data repository (19-real-daily-years.json, recomputed)
describe.skipIf(!isThere)(
  'made years of places left out of the fit (18 stations of 4 to 41 real years; skipped without ../shared)',
  () => {
    const all = isThere ? leftOut() : [];
    const offBy = ({ made, real }: Held) => Math.abs(made / real - 1);

    test('have 87 % of their 13 statistics within the bands (aim 90); of one universal distribution 60 % were', () => {
      const missed = all
        .filter(({ inBand }) => !inBand)
        .map(({ at, what, made, real }) => `${at} ${what} ${made} ${real}`);
      expect(all.length).toBeGreaterThan(200);
      expect(1 - missed.length / all.length, missed.join('\n')).toBeGreaterThanOrEqual(0.87);
    });

    test('have stays that one in ten falls short of within 35 % of real ones, but for one of 54', () => {
      const p10 = all.filter(({ what }) => what.endsWith('P10'));
      expect(p10).toHaveLength(54);
      const off = p10
        .filter((one) => offBy(one) > 0.35)
        .map(({ at, what, made, real }) => `${at} ${what} ${made} ${real}`);
      expect(off.length, off.join('\n')).toBeLessThanOrEqual(1);
      expect(Math.max(...p10.map(offBy))).toBeLessThan(0.45); // 10 days made, 7 real
    });

    test('are not duller or clearer than real ones on the whole: stays of one in ten have no bias of 7 %', () => {
      const logs = all.filter(({ what }) => what.endsWith('P10')).map(({ made, real }) => Math.log(made / real));
      expect(Math.abs(logs.reduce((a, b) => a + b, 0) / logs.length)).toBeLessThan(0.07);
      // the spread that `stay` tells of made years
      expect(Math.sqrt(logs.reduce((a, b) => a + b * b, 0) / logs.length)).toBeLessThan(1.05 * MADE_P10_OFF);
    });
  },
);

// What `stay` tells of places beyond all known ones: the places of one kind left out together, and how far stays there are off
describe.skipIf(!isThere)('places left out with all others of their kind', () => {
  const known = isThere ? knownPlaces(FOLDER).map((place) => ({ place, like: likenessOf(place, place.climate) })) : [];
  const real = isThere ? realPlaces(FOLDER) : [];
  const reach = (likes: readonly Likeness[]): Likeness => ({
    latDeg: Math.max(...likes.map(({ latDeg }) => latDeg)),
    elevationM: Math.max(...likes.map(({ elevationM }) => elevationM)),
    clearest: Math.max(...likes.map(({ clearest }) => clearest)),
    dullest: Math.min(...likes.map(({ dullest }) => dullest)),
    inland: Math.max(...likes.map(({ inland }) => inland)),
  });

  test('are those that the spread is told by', () => {
    const all = reach(known.map(({ like }) => like));
    for (const fact of ['latDeg', 'elevationM', 'clearest', 'dullest', 'inland'] as const)
      expect(Math.abs(KNOWN[fact] / all[fact] - 1)).toBeLessThan(0.01);
  });

  test('are off by what the spread says there', () => {
    const kinds: ((like: Likeness) => boolean)[] = [
      ({ latDeg }) => latDeg > 41,
      ({ elevationM }) => elevationM > 500,
      ({ clearest }) => clearest > 0.62,
      ({ dullest }) => dullest < 0.41,
      ({ inland }) => inland > 3.8,
    ];
    const offs = kinds.flatMap((isOfKind) => {
      const left = known.filter(({ like }) => !isOfKind(like));
      const parameters = fitDayParameters(left.map(({ place }) => place));
      const edge = reach(left.map(({ like }) => like));
      return real.flatMap((place) => {
        const like = likenessOf(place, place.climate);
        if (!isOfKind(like)) return [];
        const told = MADE_P10_OFF * unlikeness(like, edge);
        return held(place, madeDays(place, 100, parameters))
          .filter(({ what }) => what.endsWith('P10'))
          .map(({ made, real: P10 }) => Math.log(made / P10) / told);
      });
    });
    expect(offs.length).toBeGreaterThan(50);
    const rms = Math.sqrt(offs.reduce((sum, off) => sum + off * off, 0) / offs.length);
    expect(rms).toBeGreaterThan(0.75);
    expect(rms).toBeLessThan(1.15);
  });
});

test.skipIf(!isThere)('the parameters of made days are those that the fit gives', () => {
  const fitted = fitDayParameters(knownPlaces(FOLDER));
  for (const name of ['spread', 'clearnessLag', 'airSd', 'airLag', 'warmth'] as const) {
    fitted[name].coefficients.forEach((value, i) => {
      expect(Math.abs(value / DAY_PARAMETERS[name].coefficients[i]! - 1)).toBeLessThan(1e-3);
    });
    expect(fitted[name].errors.every((error) => error > 0 && Number.isFinite(error))).toBe(true);
  }
  expect(parametersText(fitted)).toContain('standard error');
});
