/** What a column of a weather file holds, read from its heading. */
export type ColumnRole =
  | 'ghi'
  | 'dni'
  | 'dhi'
  | 'air'
  | 'wind'
  | 'clock'
  | 'date'
  | 'year'
  | 'month'
  | 'day'
  | 'dayOfYear'
  | 'minute';

/** value · scale + offset gives W/m², °C or m/s; `energy` values are per interval and still to be divided by its hours. */
export interface ColumnUnit {
  readonly text: string;
  readonly scale: number;
  readonly offset: number;
  readonly energy: boolean;
}

export type StampPosition = 'beginning' | 'centred' | 'ending';

const unit = (text: string, scale = 1, offset = 0, energy = false): ColumnUnit => ({ text, scale, offset, energy });

const LIGHT_UNITS: readonly (readonly [RegExp, ColumnUnit])[] = [
  [/\bk ?wh ?m2\b/, unit('kWh/m2', 1000, 0, true)],
  [/\bwh ?m2\b/, unit('Wh/m2', 1, 0, true)],
  [/\bmj ?m2\b/, unit('MJ/m2', 1e6 / 3600, 0, true)],
  [/\bk ?j ?m2\b/, unit('kJ/m2', 1e3 / 3600, 0, true)],
  [/\bj ?cm2\b/, unit('J/cm2', 1e4 / 3600, 0, true)],
  [/\bj ?m2\b/, unit('J/m2', 1 / 3600, 0, true)],
  [/\bk ?w ?m2\b/, unit('kW/m2', 1000)],
  [/\bw ?m2\b/, unit('W/m2')],
  [/\bwatts? (per )?(square )?(m|metres?|meters?)2?\b/, unit('W/m2')],
];
const AIR_UNITS: readonly (readonly [RegExp, ColumnUnit])[] = [
  [/\b(deg ?f|f|fahrenheit)\b/, unit('F', 5 / 9, -160 / 9)],
  [/\b(deg ?k|k|kelvin)\b/, unit('K', 1, -273.15)],
  [/\b(deg ?c|c|celsius|centigrade)\b/, unit('C')],
];
const WIND_UNITS: readonly (readonly [RegExp, ColumnUnit])[] = [
  [/\b(km ?h|kmh|kph|km per h(our)?)\b/, unit('km/h', 1 / 3.6)],
  [/\b(mph|mi h|miles per hour)\b/, unit('mph', 0.44704)],
  [/\b(kn|kt|kts|knots?)\b/, unit('knots', 1852 / 3600)],
  [/\b(m ?s(1|ec)?|mps|met(er|re)s per second)\b/, unit('m/s')],
];
const UNITS = { ghi: LIGHT_UNITS, dni: LIGHT_UNITS, dhi: LIGHT_UNITS, air: AIR_UNITS, wind: WIND_UNITS } as const;
const ASSUMED = { ghi: unit('W/m2'), dni: unit('W/m2'), dhi: unit('W/m2'), air: unit('C'), wind: unit('m/s') } as const;

const LONGEST_HEADING = 120;

/** Words of a heading: lower case, one blank between them, units flattened: "GHI (W/m^2)" -> "ghi w m2". */
export function wordsOf(heading: string): string {
  return heading
    .replace(/\s+/g, ' ') // long runs of blanks would make the patterns below slow
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .toLowerCase()
    .replace(/([a-z])-(?=[a-z])/g, '$1 ')
    .replace(/[−–](?=\s*\d)/g, '-') // a minus sign or a dash before a number is a minus
    .replace(/²/g, '2')
    .replace(/m\s*\^?\s*-\s*2/g, 'm2')
    .replace(/\bs\s*\^?\s*-\s*1\b/g, 's')
    .replace(/[\^°º]/g, '')
    .replace(/[^a-z0-9%+-]+/g, ' ')
    .trim();
}

const NOT_WEATHER =
  /\b(uncert\w*|source|src|flags?|quality|qc|std|stdev|sd|max|min|maximum|minimum|gusts?|dir|direction|chill|illum\w*|lux|percent|%)\b/;
const NOT_GLOBAL =
  /\b(clear ?sky|clear|extra ?terrestrial|etrn?|toa|top of atmosphere|poa|gti|plane|tilted|inclined|tilt|up ?welling|upward|up|reflected|albedo|infra ?red|longwave|lw|net|uv\w*|par|zenith|angle|elevation|altitude|azimuth)\b/;
const NOT_AIR =
  /\b(dew\w*|wet|module|mod|cell|panel|soil|ground|surface|skin|water|sea|road|feels|apparent|inside|indoor|cabin|logger|battery|black|sky|internal)\b/;
const GLOBAL =
  /\b(ghi|srad|glo|glob|global|swdown|rsds|ssrd|short ?wave|sw|solar (ir)?radi\w*|solar|irradi\w*|radiation|pyranometer|insolation)\b/;
const DIRECT_NORMAL = /\b(dni|bni|(direct|beam) normal|normal direct)\b/;
const DIFFUSE = /\b(dhi|dif|diff|diffuse)\b/;
const DIRECT = /\b(direct|beam|normal|bhi|ebh)\b/;
const AIR = /\b(air ?temp\w*|t ?air|temp\w*|dry ?bulb|t2m|tas|t ?amb(ient)?|ambient|ta)\b/;
const WIND = /\b(wind ?speed|wspd|wind|ws|ws10m|u10|wspeed|windspd)\b/;

/** The role of a heading, or undefined when it is none that a run needs. */
export function roleOf(heading: string): ColumnRole | undefined {
  if (heading.length > LONGEST_HEADING) return undefined;
  const words = wordsOf(heading);
  if (words === '') return undefined;
  const time = timeRoleOf(words);
  if (time !== undefined) return time;
  if (NOT_WEATHER.test(words)) return undefined;
  if (WIND.test(words)) return 'wind';
  const light = LIGHT_UNITS.some(([pattern]) => pattern.test(words));
  if (!NOT_GLOBAL.test(words)) {
    if (DIRECT_NORMAL.test(words)) return 'dni';
    if (DIFFUSE.test(words)) return 'dhi';
    if (!DIRECT.test(words) && (GLOBAL.test(words) || (light && /\blight\b/.test(words)))) return 'ghi';
  }
  if (!light && AIR.test(words) && !NOT_AIR.test(words)) return 'air';
  return undefined;
}

const AIR_MAX =
  /\b(t ?max|max\w* (air )?temp\w*|(air )?temp\w* max\w*|high\w* (air )?temp\w*|(air )?temp\w* high\w*)\b/;
const AIR_MIN = /\b(t ?min|min\w* (air )?temp\w*|(air )?temp\w* min\w*|low\w* (air )?temp\w*|(air )?temp\w* low\w*)\b/;

/** Of a table of days: whether a heading names the day's highest or lowest air temperature. */
export function dailyAirOf(heading: string): 'airMax' | 'airMin' | undefined {
  if (heading.length > LONGEST_HEADING) return undefined;
  const words = wordsOf(heading);
  if (NOT_AIR.test(words)) return undefined;
  return AIR_MAX.test(words) ? 'airMax' : AIR_MIN.test(words) ? 'airMin' : undefined;
}

function timeRoleOf(words: string): ColumnRole | undefined {
  const has = (pattern: RegExp) => pattern.test(words);
  if (has(/\b(sunshine|duration|zone|offset|sunrise|sunset|daylight)\b/)) return undefined;
  if (has(/\bdate ?time\b|\btime ?stamp\b|\bdate (and )?(time|hour)\b/)) return 'clock';
  if (has(/\bdate\b/)) return 'date';
  if (has(/^(year|yyyy|yr)\b/)) return 'year';
  if (has(/^(month|mon|mo|mm)\b/)) return 'month';
  if (has(/\b(day of (the )?year|doy|julian day|yday)\b/)) return 'dayOfYear';
  if (has(/^(day|dd|dom|day of month)\b/)) return 'day';
  if (has(/^(minute|minutes|min)$/)) return 'minute';
  if (has(/\b(time|hour|hr|hh|stamp|utc|gmt)\b/) && !has(/\bw ?m2\b|\bwh ?m2\b|\bwind\b|\btemp/)) return 'clock';
  return undefined;
}

/** The unit that a heading names; `assumed` when it names none: W/m², °C, m/s. */
export function unitOf(
  heading: string,
  role: 'ghi' | 'dni' | 'dhi' | 'air' | 'wind',
): { unit: ColumnUnit; assumed: boolean } {
  const words = wordsOf(heading);
  for (const [pattern, found] of UNITS[role]) if (pattern.test(words)) return { unit: found, assumed: false };
  return { unit: ASSUMED[role], assumed: true };
}

/** Where in its interval a stamp stands, if the heading says so. */
export function stampPositionOf(heading: string): StampPosition | undefined {
  const words = wordsOf(heading);
  if (/\b(ending|end|ends)\b/.test(words)) return 'ending';
  if (/\b(beginning|begin|begins|starting|start|starts)\b/.test(words)) return 'beginning';
  if (/\b(cent(er|re)(ed|d)?|mid|middle|midpoint)\b/.test(words)) return 'centred';
  return undefined;
}

/** Fixed offsets that headings name by letters [h]. The American reading of EST, CST and MST. */
const ZONE_LETTERS: Readonly<Record<string, number>> = {
  utc: 0,
  gmt: 0,
  z: 0,
  wet: 0,
  cet: 1,
  eet: 2,
  msk: 3,
  ist: 5.5,
  jst: 9,
  aest: 10,
  nzst: 12,
  ast: -4,
  est: -5,
  cst: -6,
  mst: -7,
  pst: -8,
  akst: -9,
  hst: -10,
};

/** No clock on Earth is further from UTC. */
const MAX_OFFSET_H = 14;

/** Hours ahead of UTC that a heading names ("time_utc", "hour (UTC+10)", "time_est"), if any. */
export function clockOffsetOf(heading: string): number | undefined {
  const words = wordsOf(heading);
  const signed = /\b(?:utc|gmt)\s*([+-])\s*(\d{1,2})(?: ?(30|45|00))?\b/.exec(words);
  if (signed !== null) {
    const hours = Number(signed[2]) + Number(signed[3] ?? 0) / 60;
    if (hours <= MAX_OFFSET_H) return signed[1] === '-' ? -hours : hours;
  }
  for (const word of words.split(/[ +-]/)) if (Object.hasOwn(ZONE_LETTERS, word)) return ZONE_LETTERS[word];
  return undefined;
}
