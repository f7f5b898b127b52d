import { HOUR_MS } from '../../math/index.js';
import { ConfigError } from '../../rig/index.js';
import type { WeatherNote } from './note.js';
import type { WeatherRows } from './weather-series.js';

/** Columns of a data line, from 0, with the code that means "missing": EnergyPlus weather format, data dictionary. */
const DRY_BULB = { column: 6, missing: 99.9, low: -90, high: 70 };
const GHI = { column: 13, missing: 9999, low: -50, high: 2000 };
const DNI = { column: 14, missing: 9999, low: -50, high: 2000 };
const DHI = { column: 15, missing: 9999, low: -50, high: 2000 };
const WIND = { column: 21, missing: 999, low: 0, high: 100 };
const FIELDS = [DRY_BULB, GHI, DNI, DHI, WIND];

/** An EPW file begins with its LOCATION record, whatever the line ends and the case. */
export function isEpw(text: string): boolean {
  return /^\s*"?location"?\s*,/i.test(text.slice(0, 200));
}

/**
 * Reads an EnergyPlus weather file: any number of header records, then one line per record.
 * Hours 1..24 end at their stamp; with several records an hour the minute field places them. Radiation is the energy
 * of the record's time [Wh/m²], turned into its mean [W/m²]. Missing codes are those of each field.
 * Source: EnergyPlus documentation, Auxiliary Programs, "EnergyPlus weather file (EPW) data dictionary".
 * @throws ConfigError with the line of a broken record
 */
export function readEpw(text: string, file: string): WeatherRows {
  const refuse = (line: number, code: string, message: string): never => {
    throw new ConfigError([{ code, path: '', file, line, message }]);
  };
  const notes: WeatherNote[] = [];
  let position = 0;
  let line = 0;
  let recordsPerHour = 1;
  let site: WeatherRows['site'];
  let utcOffsetH: number | undefined;
  const nextLine = (): string | undefined => {
    if (position >= text.length) return undefined;
    let end = text.indexOf('\n', position);
    if (end < 0) end = text.length;
    const start = position;
    position = end + 1;
    line++;
    return text.charCodeAt(end - 1) === 13 ? text.slice(start, end - 1) : text.slice(start, end);
  };

  let record = nextLine();
  for (; record !== undefined && !isDataRecord(record); record = nextLine()) {
    const cells = record.split(',').map((cell) => cell.trim().replace(/^"|"$/g, ''));
    const key = cells[0]!.toLowerCase();
    if (key === 'location') {
      const [latDeg, lonDeg, zone, elevationM] = [6, 7, 8, 9].map((i) => numberIn(cells[i]));
      if (!(latDeg! >= -90 && latDeg! <= 90 && lonDeg! >= -180 && lonDeg! <= 180))
        refuse(line, 'weather_header', 'LOCATION needs latitude and longitude as its 7th and 8th fields');
      if (!(zone! >= -14 && zone! <= 14))
        refuse(line, 'weather_header', `LOCATION needs hours from UTC as its 9th field, found "${cells[8] ?? ''}"`);
      utcOffsetH = zone!;
      site = { latDeg: latDeg!, lonDeg: lonDeg!, ...(Number.isFinite(elevationM) && { elevationM: elevationM! }) };
    } else if (key === 'data periods') {
      const perHour = numberIn(cells[2]);
      if (perHour! >= 1 && 60 % perHour! === 0) recordsPerHour = perHour!;
    }
  }
  if (record === undefined) refuse(line, 'weather_empty', 'an EPW header without any data line');

  const stepMs = HOUR_MS / recordsPerHour;
  const begin: number[] = [];
  const values = FIELDS.map((): number[] => []);
  let beginningStamps = false;
  for (; record !== undefined; record = nextLine()) {
    if (record.trim() === '') continue;
    let at = 0;
    let column = 0;
    const field = (wanted: number): number => {
      for (; column < wanted; column++) {
        const comma = record!.indexOf(',', at);
        if (comma < 0)
          return refuse(line, 'weather_record', `a data line needs at least 22 fields, this one has ${column + 1}`);
        at = comma + 1;
      }
      const end = record!.indexOf(',', at);
      return numberIn(end < 0 ? record!.slice(at) : record!.slice(at, end));
    };
    const year = field(0);
    const month = field(1);
    const day = field(2);
    const hour = field(3);
    const minute = field(4);
    if (!(year > 0 && month >= 1 && month <= 12 && day >= 1 && day <= 31 && hour >= 0 && hour <= 24))
      refuse(line, 'weather_stamp', `"${record.slice(0, 30)}" does not begin with year, month, day and hour 1 to 24`);
    let start = Date.UTC(year, month - 1, day, hour - 1);
    if (recordsPerHour > 1) {
      if (!(minute >= 0 && minute <= 60)) refuse(line, 'weather_stamp', `minute is 0 to 60, found ${minute}`);
      // minutes 15, 30, 45, 60 end a record; a file that writes 0, 15, 30, 45 stamps their beginning
      if (begin.length === 0) beginningStamps = minute === 0;
      start += minute * 60_000 - (beginningStamps ? 0 : stepMs);
    }
    begin.push(start);
    for (let f = 0; f < FIELDS.length; f++) {
      const { column: wanted, missing, low, high } = FIELDS[f]!;
      const value = field(wanted);
      values[f]!.push(value >= low && value <= high && value !== missing ? value : Number.NaN);
    }
  }
  const [air, ghi, dni, dhi, wind] = values.map((column) => Float64Array.from(column));
  for (const column of [ghi!, dni!, dhi!])
    for (let i = 0; i < column.length; i++) column[i] = Math.max(0, column[i]! * recordsPerHour);
  const columns = { air: air!, ghi: ghi!, dni: dni!, dhi: dhi!, wind: wind! };
  return {
    file,
    beginMs: Float64Array.from(begin),
    stepMs,
    columns: Object.fromEntries(Object.entries(columns).filter(([, column]) => !column.every(Number.isNaN))),
    year: 'typical',
    ...(utcOffsetH !== undefined && { utcOffsetH }),
    ...(site !== undefined && { site }),
    notes,
  };
}

function isDataRecord(record: string): boolean {
  return /^\s*\d{1,4}\s*,\s*\d{1,2}\s*,\s*\d{1,2}\s*,\s*\d{1,2}\s*,/.test(record);
}

function numberIn(cell: string | undefined): number {
  return cell === undefined || cell.trim() === '' ? Number.NaN : Number(cell);
}
