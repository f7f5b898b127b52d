import tzLookup from '@photostructure/tz-lookup';
import { closest } from '../quantity/index.js';
import { ConfigError, type MonthlyClimate } from '../rig/index.js';
import { extraterrestrialMonths } from '../sky/index.js';
import { greatCircleKm } from './great-circle.js';
import { PLACE_SOURCES, PLACES_TABLE } from './places-table.js';
import type { ClimatePlace, Place } from './types.js';

/** How air cools with height [K/m]. Source: ICAO standard atmosphere, ISO 2533. */
const LAPSE_K_PER_M = 0.0065;

/** A place of the table; its time zone is looked up when asked for. */
type Row = Omit<ClimatePlace, 'zone'>;

let table: readonly Row[] | undefined;

function rows(): readonly Row[] {
  table ??= PLACES_TABLE.trim()
    .split('\n')
    .map((line) => {
      const [name, country, lat, lon, elevation, ghi, high, low, source] = line.split('|') as string[];
      const numbers = (text: string) => text.split(' ').map(Number);
      return {
        name: name!,
        country: country!,
        latDeg: Number(lat),
        lonDeg: Number(lon),
        elevationM: Number(elevation),
        climate: { ghiKwhM2Day: numbers(ghi!), tMaxC: numbers(high!), tMinC: numbers(low!) },
        source: `${source}: ${PLACE_SOURCES[source!]}`,
      };
    });
  return table;
}

/** Folds case, accents and punctuation: "São Paulo" -> "sao paulo". */
function fold(text: string): string {
  return text
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .replace(/ø/gi, 'o')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, ' ')
    .trim();
}

/** How a name may be written, folded: whole, without and within its parentheses. */
function keysOf({ name }: Row): string[] {
  const inner = /\(([^)]*)\)/.exec(name);
  const keys = [fold(name), fold(name.replace(/\([^)]*\)/, ''))];
  if (inner !== null) keys.push(fold(inner[1]!));
  return [...new Set(keys)];
}

const COUNTRY_SHORT: Readonly<Record<string, string>> = {
  usa: 'united states',
  us: 'united states',
  uk: 'united kingdom',
  england: 'united kingdom',
  scotland: 'united kingdom',
};

function asPlace(row: Row): ClimatePlace {
  return { ...row, zone: zoneAt(row.latDeg, row.lonDeg) };
}

/** Every place of the table, by country and name. */
export function allPlaces(): ClimatePlace[] {
  return rows().map(asPlace);
}

/** The IANA time zone at a position on land or sea. */
export function zoneAt(latDeg: number, lonDeg: number): string {
  return tzLookup(latDeg, lonDeg);
}

/**
 * A place of the table by its name, or "Name, Country"; case, accents and punctuation do not matter.
 * @throws ConfigError with the nearest known name when there is none
 */
export function findPlace(name: string): ClimatePlace {
  const comma = name.lastIndexOf(',');
  const wanted = fold(comma < 0 ? name : name.slice(0, comma));
  const region = comma < 0 ? '' : fold(name.slice(comma + 1));
  const country = COUNTRY_SHORT[region] ?? region;
  const named = rows().filter((row) => keysOf(row).includes(wanted));
  const found = named.filter((row) => country === '' || fold(row.country) === country || keysOf(row).includes(region));
  // a whole name goes before one in parentheses: "Vancouver" before "Abbotsford (Vancouver region)"
  const best = found.sort((a, b) => keysOf(a).indexOf(wanted) - keysOf(b).indexOf(wanted))[0];
  if (best !== undefined) return asPlace(best);
  const known = named[0] ?? nearestName(wanted);
  throw new ConfigError([
    {
      code: 'unknown_place',
      path: '',
      message: `no place called "${name}" in the table of ${rows().length} places; give its position instead (at: [latitude, longitude])`,
      ...(known !== undefined && { hint: `did you mean ${known.name}, ${known.country}?` }),
    },
  ]);
}

/** "IWEC: typical year …" as the end of a sentence: the key of the table means nothing to a reader. */
function sourceText(source: string): string {
  const [key, what] = [source.slice(0, source.indexOf(':')), source.slice(source.indexOf(':') + 2)];
  return key === 'memory'
    ? 'recalled from published climate normals and not read again: take its months as rough'
    : `from: ${what}`;
}

function nearestName(wanted: string): Row | undefined {
  const key = closest(wanted, rows().flatMap(keysOf));
  return rows().find((row) => key !== undefined && keysOf(row).includes(key));
}

function checkPosition(latDeg: number, lonDeg: number): void {
  if (!(latDeg >= -90 && latDeg <= 90)) throw new RangeError(`latDeg must be -90 to 90, got ${latDeg}`);
  if (!(lonDeg >= -180 && lonDeg <= 180)) throw new RangeError(`lonDeg must be -180 to 180, got ${lonDeg}`);
}

/** The n places of the table that are nearest by great circle, nearest first. */
export function nearestPlaces(
  latDeg: number,
  lonDeg: number,
  n: number,
): { place: ClimatePlace; distanceKm: number }[] {
  return nearestRows(rows(), latDeg, lonDeg, n).map(({ row, km }) => ({ place: asPlace(row), distanceKm: km }));
}

function nearestRows(among: readonly Row[], latDeg: number, lonDeg: number, n: number): { row: Row; km: number }[] {
  checkPosition(latDeg, lonDeg);
  return among
    .map((row) => ({ row, km: greatCircleKm(latDeg, lonDeg, row.latDeg, row.lonDeg) }))
    .sort((a, b) => a.km - b.km)
    .slice(0, n);
}

/**
 * A place from a position. Elevation absent = that of the nearest place of the table; zone absent = looked up.
 * @throws RangeError when the position is not on Earth
 */
export function placeFor(at: {
  latDeg: number;
  lonDeg: number;
  elevationM?: number;
  name?: string;
  zone?: string;
}): Place {
  const { latDeg, lonDeg } = at;
  checkPosition(latDeg, lonDeg);
  const near = nearestRows(rows(), latDeg, lonDeg, 1)[0]!;
  return {
    name: at.name ?? `${latDeg.toFixed(2)}, ${lonDeg.toFixed(2)}`,
    latDeg,
    lonDeg,
    elevationM: at.elevationM ?? near.row.elevationM,
    zone: at.zone ?? zoneAt(latDeg, lonDeg),
  };
}

/** Monthly means of a place from the rows of the table around it. */
export interface ClimateEstimate {
  readonly climate: MonthlyClimate;
  /** what it was made from, nearest first; weights add up to 1 */
  readonly places: readonly { readonly place: ClimatePlace; readonly distanceKm: number; readonly weight: number }[];
  readonly note: string;
}

/** A row this near is the place itself [km]. */
const SAME_PLACE_KM = 25;
const NEIGHBOURS = 4;

/**
 * Monthly climate of a position: that of a place within 25 km, else interpolated between the nearest four, weighted by one over
 * distance squared. Clearness (not irradiation) is interpolated, and temperature brought to the elevation at 6.5 K/km.
 * Accuracy, each of 212 places left out in turn: a month's irradiation 6.2 % off (mean of absolute errors; the nearest place as it
 * stands 8.0 %), a year's 4.7 % (5.7 %), temperature 1.5 K (1.9 K).
 * @param elevationM absent = the neighbours' own, so that no correction is made
 */
export function climateAt(latDeg: number, lonDeg: number, elevationM?: number): ClimateEstimate {
  return climateFrom(rows(), latDeg, lonDeg, elevationM);
}

/** As `climateAt`, from places of your own. */
export function climateFrom(
  among: readonly Omit<ClimatePlace, 'zone'>[],
  latDeg: number,
  lonDeg: number,
  elevationM?: number,
): ClimateEstimate {
  const near = nearestRows(among, latDeg, lonDeg, NEIGHBOURS);
  const used = near[0]!.km <= SAME_PLACE_KM ? near.slice(0, 1) : near;
  const raw = used.map(({ km }) => 1 / Math.max(1, km) ** 2);
  const total = raw.reduce((a, b) => a + b, 0);
  const outside = extraterrestrialMonths(latDeg);
  const ghi = new Array<number>(12).fill(0);
  const high = new Array<number>(12).fill(0);
  const low = new Array<number>(12).fill(0);
  used.forEach(({ row }, i) => {
    const weight = raw[i]! / total;
    const there = extraterrestrialMonths(row.latDeg);
    const rise = elevationM === undefined ? 0 : (row.elevationM - elevationM) * LAPSE_K_PER_M;
    for (let m = 0; m < 12; m++) {
      // in polar night there is no clearness to carry over
      const clearness = there[m]! > 0.1 ? Math.min(0.85, row.climate.ghiKwhM2Day[m]! / there[m]!) : 0.3;
      ghi[m]! += weight * clearness * outside[m]!;
      high[m]! += weight * (row.climate.tMaxC[m]! + rise);
      low[m]! += weight * (row.climate.tMinC[m]! + rise);
    }
  });
  const places = used.map(({ row, km }, i) => ({ place: asPlace(row), distanceKm: km, weight: raw[i]! / total }));
  const first = places[0]!;
  const named = (p: (typeof places)[number]) => `${p.place.name} (${Math.round(p.distanceKm)} km)`;
  const note =
    places.length === 1
      ? `climate of ${first.place.name}, ${first.place.country}${first.distanceKm < 0.5 ? '' : `, ${Math.round(first.distanceKm)} km away`}, ${sourceText(first.place.source)}`
      : `climate interpolated between ${places.map(named).join(', ')}`;
  return { climate: { ghiKwhM2Day: ghi, tMaxC: high, tMinC: low }, places, note };
}
