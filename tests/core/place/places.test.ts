import { describe, expect, test } from 'vitest';
import {
  allPlaces,
  climateAt,
  climateFrom,
  extraterrestrialMonths,
  findPlace,
  greatCircleKm,
  nearestPlaces,
  placeFor,
} from '../../../packages/core/src/place/index.js';
import { ConfigError } from '../../../packages/core/src/rig/index.js';

const places = allPlaces();

describe('the table of places', () => {
  test('has at least 160 places on each inhabited continent, each with twelve months and a source', () => {
    expect(places.length).toBeGreaterThanOrEqual(160);
    for (const place of places) {
      for (const months of [place.climate.ghiKwhM2Day, place.climate.tMaxC, place.climate.tMinC]) {
        expect(months).toHaveLength(12);
        expect(months.every(Number.isFinite)).toBe(true);
      }
      expect(place.source).not.toContain('undefined');
      expect(place.zone).toMatch(/^[A-Z][A-Za-z_]+(\/[A-Za-z_-]+)*$/);
      expect(place.elevationM).toBeGreaterThan(-450);
      expect(place.elevationM).toBeLessThan(5000);
    }
    const zones = new Set(places.map((place) => place.zone.split('/')[0]));
    for (const continent of ['Africa', 'America', 'Asia', 'Australia', 'Europe', 'Pacific', 'Atlantic'])
      expect(zones).toContain(continent);
  });

  test('gives no more light than a cloudless sky lets through, and maxima above minima', () => {
    for (const place of places) {
      const outside = extraterrestrialMonths(place.latDeg);
      for (let m = 0; m < 12; m++) {
        const clearness = place.climate.ghiKwhM2Day[m]! / outside[m]!;
        if (outside[m]! > 0.5) expect(clearness, `${place.name} ${m + 1}`).toBeLessThan(0.83);
        if (outside[m]! > 2) expect(clearness, `${place.name} ${m + 1}`).toBeGreaterThan(0.12);
        expect(place.climate.tMaxC[m]!).toBeGreaterThan(place.climate.tMinC[m]!);
      }
    }
  });

  test('no two are the same name and country, none within 25 km of another', () => {
    expect(new Set(places.map((p) => `${p.name}, ${p.country}`)).size).toBe(places.length);
    for (const place of places)
      expect(nearestPlaces(place.latDeg, place.lonDeg, 2)[1]!.distanceKm, place.name).toBeGreaterThan(25);
  });
});

describe('finding a place', () => {
  test.each([
    ['porto', 'Porto'],
    ['PORTO, Portugal', 'Porto'],
    ['São Paulo', 'Sao Paulo (Juquitiba)'],
    ['Tucson, USA', 'Tucson'],
    ['Albuquerque, New Mexico', 'Albuquerque (New Mexico)'],
    ['de bilt', 'Amsterdam (De Bilt)'],
    ['Amsterdam', 'Amsterdam (De Bilt)'],
    ['Vancouver', 'Vancouver'],
  ])('%s is %s', (asked, name) => {
    expect(findPlace(asked).name).toBe(name);
  });

  test.each([
    ['Lisboa', /did you mean Lisbon, Portugal/],
    ['Porto, Spain', /did you mean Porto, Portugal/],
    ['Qqqqqqq', /no place called "Qqqqqqq" in the table of \d+ places; give its position/],
    ['', /no place called ""/],
  ])('%s is not known', (asked, message) => {
    expect(() => findPlace(asked)).toThrow(ConfigError);
    expect(() => findPlace(asked)).toThrow(message);
  });
});

describe('a position', () => {
  test('becomes a place with its zone, and the elevation of the nearest when not given', () => {
    expect(placeFor({ latDeg: 35, lonDeg: -106.6 })).toMatchObject({ zone: 'America/Denver', elevationM: 1619 });
    expect(placeFor({ latDeg: 35, lonDeg: -106.6, elevationM: 10, name: 'x', zone: 'UTC' })).toEqual({
      name: 'x',
      latDeg: 35,
      lonDeg: -106.6,
      elevationM: 10,
      zone: 'UTC',
    });
    expect(() => placeFor({ latDeg: 91, lonDeg: 0 })).toThrow(RangeError);
    expect(() => placeFor({ latDeg: 0, lonDeg: Number.NaN })).toThrow(RangeError);
  });

  test('near a place has its climate; between places a mix, colder higher up', () => {
    const near = climateAt(41.2, -8.6);
    expect(near.places.map((p) => p.place.name)).toEqual(['Porto']);
    expect(near.note).toContain('Porto');
    const between = climateAt(43.6, -8.1, 0);
    expect(between.places).toHaveLength(4);
    expect(between.places.reduce((total, p) => total + p.weight, 0)).toBeCloseTo(1, 12);
    expect(between.note).toMatch(/interpolated between .*\(\d+ km\)/);
    const above = climateAt(43.6, -8.1, 1000);
    for (let m = 0; m < 12; m++) expect(between.climate.tMaxC[m]! - above.climate.tMaxC[m]!).toBeCloseTo(6.5, 9);
    expect(above.climate.ghiKwhM2Day).toEqual(between.climate.ghiKwhM2Day);
  });

  test('each place left out in turn: interpolation is nearer than the nearest place', () => {
    let [mixed, nearest, months] = [0, 0, 0];
    places.forEach((place, left) => {
      const others = places.filter((_, i) => i !== left);
      const estimate = climateFrom(others, place.latDeg, place.lonDeg, place.elevationM);
      const [closest] = estimate.places;
      if (place.source.startsWith('memory') || closest!.distanceKm > 800) return;
      for (let m = 0; m < 12; m++) {
        const truth = place.climate.ghiKwhM2Day[m]!;
        if (truth < 0.5) continue;
        mixed += Math.abs(estimate.climate.ghiKwhM2Day[m]! / truth - 1);
        nearest += Math.abs(closest!.place.climate.ghiKwhM2Day[m]! / truth - 1);
        months++;
      }
    });
    expect(months).toBeGreaterThan(2000);
    expect(mixed / months).toBeLessThan(0.07); // 6.2 %
    expect(mixed).toBeLessThan(nearest); // 8.0 %
  });
});

test('great circle: a quarter of a meridian, and half of the equator', () => {
  // mean radius 6371.0088 km (IUGG): a quarter is 10007.56 km
  expect(greatCircleKm(0, 20, 90, 0)).toBeCloseTo(10007.56, 1);
  expect(greatCircleKm(0, 0, 0, 180)).toBeCloseTo(20015.11, 1);
  expect(greatCircleKm(10, 179.5, 10, -179.5)).toBeLessThan(111);
});
