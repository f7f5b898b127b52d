import { describe, expect, test } from 'vitest';
import {
  allPlaces,
  type ClimatePlace,
  climateAt,
  climateFrom,
  findPlace,
  greatCircleKm,
  nearestPlaces,
  placeFor,
} from '../../../packages/core/src/place/index.js';
import { ConfigError } from '../../../packages/core/src/rig/index.js';
import { extraterrestrialMonths } from '../../../packages/core/src/sky/index.js';

// The table is made once: this test, the first of the room to ask for it, looks at a row whole.
test('a place of the table is given whole, under each way to write its name', () => {
  // NREL's typical years have Albuquerque at 35.04 N, 106.62 W, 1619 m
  const place = findPlace('albuquerque');
  expect(place).toMatchObject({ name: 'Albuquerque (New Mexico)', country: 'United States', zone: 'America/Denver' });
  expect([place.latDeg, place.lonDeg, place.elevationM]).toEqual([35.04, -106.62, 1619]);
  expect(place.source).toMatch(/^\w+: .{10}/);
  expect(Object.keys(place.climate).sort()).toEqual(['ghiKwhM2Day', 'tMaxC', 'tMinC']);
  // a sunny desert with frost in winter; atlases: 5.6 kWh/m² a day over the year (from memory)
  const mean = place.climate.ghiKwhM2Day.reduce((a, b) => a + b, 0) / 12;
  expect(Math.abs(mean - 5.6)).toBeLessThan(0.4);
  expect(Math.abs(place.climate.tMaxC[6]! - 33)).toBeLessThan(2);
  expect(Math.abs(place.climate.tMinC[0]! + 4)).toBeLessThan(3);
  for (const months of Object.values(place.climate)) expect(months).toHaveLength(12);
  for (const name of ['New Mexico', 'Albuquerque (New Mexico)']) expect(findPlace(name)).toEqual(place);
  expect(allPlaces()).toContainEqual(place);
});

describe('the table of places', () => {
  test('has at least 160 places on each inhabited continent, each with twelve months and a source', () => {
    const places = allPlaces();
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
    const places = allPlaces();
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
    const places = allPlaces();
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
    ['  new   MEXICO! ', 'Albuquerque (New Mexico)'],
    ['Albuquerque (New Mexico)', 'Albuquerque (New Mexico)'],
    ['albuquerque new mexico', 'Albuquerque (New Mexico)'],
    ['Tromsø', 'Tromso'],
    ['TROMSØ', 'Tromso'],
    ['Krest-Khaldzhay, Russia', 'Krest-Khaldzhay (Yakutia)'],
    ['Tucson, US', 'Tucson'],
    ['Tucson, United States', 'Tucson'],
    ['Aberdeen, Scotland', 'Aberdeen'],
    ['Plymouth, England', 'Plymouth'],
    ['Belfast, UK', 'Belfast'],
    ['Abidjan, Côte d’Ivoire', 'Abidjan (Anguededou)'],
  ])('%s is %s', (asked, name) => {
    expect(findPlace(asked).name).toBe(name);
  });

  test.each([
    ['Lisboa', /did you mean Lisbon, Portugal/],
    ['Porto, Spain', /did you mean Porto, Portugal/],
    ['Qqqqqqq', /no place called "Qqqqqqq" in the table of \d+ places; give its position/],
    ['', /no place called ""/],
    ['Tucson, Scotland', /did you mean Tucson, United States/],
    ['Aberdeen, Texas', /did you mean Aberdeen, United Kingdom/],
  ])('%s is not known', (asked, message) => {
    expect(() => findPlace(asked)).toThrow(ConfigError);
    expect(() => findPlace(asked)).toThrow(message);
  });
});

test('an unknown name is told with how many places there are, and one that is like none without a guess', () => {
  const places = allPlaces();
  const issueOf = (name: string) => {
    try {
      findPlace(name);
    } catch (error) {
      return (error as ConfigError).issues[0]!;
    }
    throw new Error('found');
  };
  expect(issueOf('Qqqqqqq')).toMatchObject({ code: 'unknown_place', path: '' });
  expect(issueOf('Qqqqqqq').message).toContain(`table of ${places.length} places`);
  expect(issueOf('Qqqqqqq').hint).toBeUndefined();
  expect(issueOf('Lisboa').hint).toBe('did you mean Lisbon, Portugal?');
});

describe('the nearest places', () => {
  test('are in order of their distance, as many as asked for', () => {
    const places = allPlaces();
    const near = nearestPlaces(41.15, -8.61, 5);
    expect(near).toHaveLength(5);
    expect(near[0]!.place.name).toBe('Porto');
    near.forEach(({ place, distanceKm }, i) => {
      // spherical law of cosines
      const rad = Math.PI / 180;
      const cosine =
        Math.sin(41.15 * rad) * Math.sin(place.latDeg * rad) +
        Math.cos(41.15 * rad) * Math.cos(place.latDeg * rad) * Math.cos((place.lonDeg + 8.61) * rad);
      expect(distanceKm).toBeCloseTo(6371.0088 * Math.acos(cosine), 1);
      if (i > 0) expect(distanceKm).toBeGreaterThanOrEqual(near[i - 1]!.distanceKm);
    });
    const beyond = near[4]!.distanceKm;
    expect(nearestPlaces(41.15, -8.61, places.length).filter((one) => one.distanceKm <= beyond)).toHaveLength(5);
  });

  test.each([
    [-90.01, 0, 'latDeg must be -90 to 90, got -90.01'],
    [90.01, 0, 'latDeg must be -90 to 90, got 90.01'],
    [Number.NaN, 0, 'latDeg'],
    [0, -180.01, 'lonDeg must be -180 to 180, got -180.01'],
    [0, 180.01, 'lonDeg must be -180 to 180, got 180.01'],
  ])('of latitude %d and longitude %d there are none', (latDeg, lonDeg, message) => {
    expect(() => nearestPlaces(latDeg, lonDeg, 1)).toThrow(RangeError);
    expect(() => nearestPlaces(latDeg, lonDeg, 1)).toThrow(message);
    expect(() => placeFor({ latDeg, lonDeg })).toThrow(message);
  });

  test('are found at the poles and on the date line', () => {
    for (const [lat, lon] of [
      [90, 180],
      [-90, -180],
      [0, 180],
    ] as const)
      expect(nearestPlaces(lat, lon, 1)).toHaveLength(1);
    expect(placeFor({ latDeg: -90, lonDeg: 180, zone: 'UTC' }).latDeg).toBe(-90);
  });
});

describe('climate from places of your own', () => {
  const row = (latDeg: number, lonDeg: number, clearness: number, more: Partial<ClimatePlace> = {}) => ({
    name: `${latDeg} ${lonDeg}`,
    country: 'Nowhere',
    latDeg,
    lonDeg,
    elevationM: 0,
    source: 'IWEC: typical year',
    climate: {
      ghiKwhM2Day: extraterrestrialMonths(latDeg).map((outside) => clearness * outside),
      tMaxC: new Array<number>(12).fill(20),
      tMinC: new Array<number>(12).fill(10),
    },
    ...more,
  });
  const north = (km: number) => km / (6371.0088 * (Math.PI / 180));

  test('weighs them by one over distance squared', () => {
    const [a, b] = [row(north(100), 0, 0.6), row(-north(200), 0, 0.3)];
    const estimate = climateFrom([b, a], 0, 0);
    expect(estimate.places.map(({ place }) => place.name)).toEqual([a.name, b.name]);
    expect(estimate.places.map(({ distanceKm }) => Math.round(distanceKm))).toEqual([100, 200]);
    expect(estimate.places[0]!.weight).toBeCloseTo(0.8, 9);
    expect(estimate.places[1]!.weight).toBeCloseTo(0.2, 9);
    // clearness is what is mixed: 0.8 · 0.6 + 0.2 · 0.3
    extraterrestrialMonths(0).forEach((outside, m) => {
      expect(estimate.climate.ghiKwhM2Day[m]! / outside).toBeCloseTo(0.54, 9);
    });
    expect(estimate.note).toBe(`climate interpolated between ${a.name} (100 km), ${b.name} (200 km)`);
  });

  test('takes the nearest four and no more', () => {
    const rows = [100, 200, 300, 400, 500, 600].map((km) => row(0, north(km), 0.5));
    expect(climateFrom(rows, 0, 0).places.map(({ distanceKm }) => Math.round(distanceKm))).toEqual([
      100, 200, 300, 400,
    ]);
  });

  test('carries clearness, not irradiation, from another latitude', () => {
    const { climate } = climateFrom([row(50, 0, 0.5), row(50, 20, 0.5)], 40, 10);
    extraterrestrialMonths(40).forEach((outside, m) => {
      expect(climate.ghiKwhM2Day[m]! / outside).toBeCloseTo(0.5, 9);
    });
  });

  test('takes a table that is clearer than any air as 0.85, and a month without sun as 0.3', () => {
    const { climate } = climateFrom([row(0, 0, 1.2)], 0, 0);
    extraterrestrialMonths(0).forEach((outside, m) => {
      expect(climate.ghiKwhM2Day[m]! / outside).toBeCloseTo(0.85, 9);
    });
    const dark = climateFrom([row(80, 0, 0.7)], 60, 0).climate.ghiKwhM2Day;
    const [there, here] = [extraterrestrialMonths(80), extraterrestrialMonths(60)];
    expect(there[11]).toBe(0);
    dark.forEach((ghi, m) => {
      expect(ghi / here[m]!).toBeCloseTo(there[m]! > 0.1 ? 0.7 : 0.3, 9);
    });
  });

  test('warms by 6.5 K for each km down to a lower place, and cools on the way up', () => {
    const high = row(0, 0, 0.5, { elevationM: 2000 });
    const at = (elevationM?: number) => climateFrom([high], 0, 0.1, elevationM).climate;
    for (const [elevationM, rise] of [
      [undefined, 0],
      [2000, 0],
      [0, 13],
      [3000, -6.5],
    ] as const) {
      expect(at(elevationM).tMaxC[5]).toBeCloseTo(20 + rise, 9);
      expect(at(elevationM).tMinC[5]).toBeCloseTo(10 + rise, 9);
    }
  });

  test('is that of a place within 25 km alone, with how far it is and what stands behind it', () => {
    const far = row(0, 5, 0.2);
    const near = climateFrom([row(north(24.9), 0, 0.6), far], 0, 0);
    expect(near.places).toHaveLength(1);
    expect(near.places[0]!.weight).toBe(1);
    expect(near.note).toMatch(/^climate of .*, Nowhere, 25 km away, from: typical year$/);
    expect(climateFrom([row(north(25.1), 0, 0.6), far], 0, 0).places).toHaveLength(2);
    // the place itself, and one nearer than half a kilometre, are at no distance
    for (const km of [0, 0.4]) expect(climateFrom([row(north(km), 0, 0.6)], 0, 0).note).not.toContain('km');
    expect(climateFrom([row(north(0.6), 0, 0.6)], 0, 0).note).toContain(', 1 km away');
    const recalled = climateFrom([row(0, 0, 0.6, { source: 'memory: recalled' })], 0, 0).note;
    expect(recalled).toContain('rough');
    expect(recalled).not.toContain('memory:');
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
    const places = allPlaces();
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

test('great circle: a quarter of a meridian, half of the equator, Paris to Washington', () => {
  // mean radius 6371.0088 km (IUGG): a quarter is 10007.56 km
  expect(greatCircleKm(0, 20, 90, 0)).toBeCloseTo(10007.56, 1);
  expect(greatCircleKm(0, 0, 0, 180)).toBeCloseTo(20015.11, 1);
  expect(greatCircleKm(10, 179.5, 10, -179.5)).toBeLessThan(111);
  // Meeus, Astronomical Algorithms, 2nd ed. 1998, example 11.c: 6166 km on the sphere, 6181.6 km on the ellipsoid; from memory
  const [paris, washington] = [
    [48 + 50 / 60 + 11 / 3600, 2 + 20 / 60 + 14 / 3600],
    [38 + 55 / 60 + 17 / 3600, -(77 + 3 / 60 + 56 / 3600)],
  ] as const;
  expect(Math.abs(greatCircleKm(...paris, ...washington) - 6166)).toBeLessThan(1);
  expect(greatCircleKm(...washington, ...paris)).toBeCloseTo(greatCircleKm(...paris, ...washington), 9);
  // opposite points, where rounding must not leave the sine above 1
  for (let lat = -90; lat <= 90; lat += 7) expect(greatCircleKm(lat, 12.3, -lat, 12.3 - 180)).toBeCloseTo(20015.11, 1);
});
