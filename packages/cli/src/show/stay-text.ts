import type { Rig, StayMonth, StayStudy, Trip } from '@stayput/core';
import type { Io } from '../io.js';
import type { ShownFinding } from '../words/finding-words.js';
import { certainOverloads } from '../words/overload-words.js';
import { bar } from './bar.js';
import { closingLines, findingLines, isDanger } from './findings.js';
import { counted, dayText, fixed, monthName, percent } from './number.js';
import {
  daysCell,
  endWords,
  engineWords,
  heatingRemark,
  mostlyEndedBy,
  snowRemark,
  stayVerdict,
  unknownWords,
} from './stay-words.js';
import { oneLine, type Style } from './style.js';
import { type Column, type Tabled, table, wrapped } from './table.js';
import { weatherWords } from './yield-words.js';

/** A place that was looked at, under the name it goes by. */
export interface StayPlace {
  readonly key: string;
  readonly name: string;
  readonly study: StayStudy;
}

/** A stop of a trip, in the month of its arrival. */
export interface StopStay extends StayMonth {
  readonly name: string;
  /** local date, ISO */
  readonly from: string;
  readonly nights: number;
  readonly study: StayStudy;
}

/** A target that was asked for, and whether the stays meet it. */
export interface StayTarget {
  readonly target: 'at-least';
  readonly met: boolean;
  readonly text: string;
}

export interface Stayed {
  readonly rig: Rig;
  readonly weather: Trip['weather'];
  readonly places: readonly StayPlace[];
  /** of a trip */
  readonly stops: readonly StopStay[];
  readonly findings: readonly ShownFinding[];
  readonly targets: readonly StayTarget[];
  readonly quiet: boolean;
}

/** Each place's study, under the name it goes by. */
export function namedStudies({ places }: Stayed): StayStudy[] {
  return places.map(({ name, study }) => ({ ...study, place: { ...study.place, name } }));
}

const BAR_CELLS = 14;
/** A bar is full at a month: what is longer is no longer told apart by eye [days]. */
const MAX_BAR_DAYS = 30;

/** The result of a stay study for people: the answer first, then what it rests on. */
export function stayText(stayed: Stayed, { style, terminal }: Pick<Io, 'style' | 'terminal'>): string[] {
  const { rig, places, stops, findings, targets, quiet } = stayed;
  const { width, unicode } = terminal;
  const [{ study }] = places as [StayPlace];
  const mark = certainOverloads(rig).length > 0 ? style.red : style.green;
  const lines = stayVerdicts(stayed).flatMap((said) => wrapped(said, width).map((line) => style.bold(mark(line))));
  for (const { met, text } of targets)
    lines.push(
      ...wrapped(`${met ? 'target met' : 'target missed'}: ${text}`, width).map(met ? style.green : style.red),
    );
  if (quiet) return [...lines, ...findingLines(findings.filter(isDanger), width, style)];

  lines.push(...wrapped(aboutStay(stayed), width, '  ', '  '), '');
  if (stops.length > 0) lines.push(...table(...stopsTabled(stops, style), width, style.bold), '');
  if (places.length > 1) lines.push(...table(...placesTabled(places), width, style.bold), '');
  else
    lines.push(
      ...table(...stayMonthsTabled(study, unicode), width, style.bold),
      '',
      ...table(...moreTabled(rig, study), width, style.bold),
      ...wrapped(oneMoreWords(rig, study), width),
      '',
    );
  lines.push(style.bold('To know'));
  for (const remark of stayRemarks(stayed)) lines.push(...wrapped(`- ${oneLine(remark)}`, width, '  '));
  lines.push(
    ...closingLines(
      findings,
      'Next: stayput simulate RIG --place NAME --from DATE follows one stay hour by hour.',
      width,
      style,
    ),
  );
  return lines;
}

/** Overloads that are certain come first: no number of days is an all-clear above them. */
export function stayVerdicts(stayed: Stayed): string[] {
  const overloads = certainOverloads(stayed.rig);
  const lengths = stayLengthVerdicts(stayed);
  return [
    ...overloads.map((text) => `Overload, on every stay: ${text}.`),
    ...(overloads.length > 0 ? lengths.map((text) => `Apart from that: ${text}`) : lengths),
  ];
}

function stayLengthVerdicts({ rig, places, stops }: Stayed): string[] {
  if (places.length === 1) return [stayVerdict(rig, oneLine(places[0]!.name), places[0]!.study)];
  const shortest = stops.reduce((a, b) => (b.parkedDaysP10 < a.parkedDaysP10 ? b : a));
  const { study } = shortest;
  const month = study.months.filter((row) => row.month === shortest.month);
  return [
    `The hardest of ${stops.length} stops: ${stayVerdict(rig, oneLine(shortest.name), { ...study, months: month, darkDays: shortest.darkDays, darkMonth: shortest.month })}`,
  ];
}

export function aboutStay({ rig, weather, places }: Stayed): string {
  const [{ name, study }] = places as [StayPlace];
  const { place, weatherYears } = study;
  const at = `${fixed(place.latDeg, 2)}, ${fixed(place.lonDeg, 2)}`;
  return [
    ...(places.length > 1
      ? []
      : [`${oneLine(name) === at ? at : `${oneLine(name)} (${at})`}, ${fixed(place.elevationM, 0)} m`]),
    weatherWords(weather, weatherYears),
    `stays from ${study.fromSoc === 1 ? 'a full battery' : `a battery at ${percent(study.fromSoc)}`} with the engine off, ${endedAt(rig, study)}`,
  ].join('; ');
}

function endedAt({ battery }: Rig, { endAt }: StayStudy): string {
  const cut = 'the first load that goes without power';
  return endAt === 'floor' && battery.floor > 0 ? `to the floor of ${percent(battery.floor)} or ${cut}` : `to ${cut}`;
}

export function stayMonthsTabled(study: StayStudy, unicode: boolean): Tabled<StayMonth> {
  const { months, horizonDays } = study;
  const cell = (days: number) => daysCell(days, horizonDays);
  const most = Math.min(MAX_BAR_DAYS, Math.max(...months.map(({ parkedDaysP50 }) => parkedDaysP50)));
  const columns: Column<StayMonth>[] = [
    { head: 'Days', cell: ({ month }) => monthName(month) },
    { head: 'dark', cell: ({ darkDays }) => cell(darkDays), align: 'right' },
    { head: '9 in 10', cell: ({ parkedDaysP10 }) => cell(parkedDaysP10), align: 'right' },
    { head: 'half', cell: ({ parkedDaysP50 }) => cell(parkedDaysP50), align: 'right' },
    {
      head: '',
      cell: ({ parkedDaysP50 }) => bar(parkedDaysP50, most, BAR_CELLS, unicode).padEnd(BAR_CELLS),
      drop: 4,
      isBar: true,
    },
    { head: '1 in 10', cell: ({ parkedDaysP90 }) => cell(parkedDaysP90), align: 'right', drop: 3 },
    {
      head: 'half may be',
      cell: ({ parkedDaysLow, parkedDaysHigh }) => `${cell(parkedDaysLow)} to ${cell(parkedDaysHigh)}`,
      align: 'right',
      drop: 2,
    },
    { head: 'ended by', cell: mostlyEndedBy, drop: 5 },
  ];
  return [months, columns];
}

export function moreTabled(rig: Rig, study: StayStudy): Tabled<StayMonth> {
  const { months, horizonDays, panel } = study;
  const cell = (row: { parkedDaysP10: number; indefinite: boolean } | undefined) =>
    row ? (row.indefinite ? 'no end' : daysCell(row.parkedDaysP10, horizonDays)) : '-';
  const columns: Column<StayMonth>[] = [
    { head: '9 in 10 last', cell: ({ month }) => monthName(month) },
    { head: 'as it is', cell, align: 'right' },
    ...(panel ? [{ head: '+1 panel', cell: (row: StayMonth) => cell(row.oneMorePanel), align: 'right' } as const] : []),
    { head: '+1 battery', cell: ({ oneMoreBattery }) => cell(oneMoreBattery), align: 'right' },
    {
      head: 'dark then',
      cell: ({ oneMoreBattery }) => daysCell(oneMoreBattery.darkDays, horizonDays),
      align: 'right',
      drop: 1,
    },
    ...(rig.alternator
      ? [
          {
            head: 'or engine a day',
            cell: ({ engineMinutes }: StayMonth) => (engineMinutes === undefined ? '-' : engineWords(engineMinutes)),
            align: 'right',
            drop: 2,
          } as const,
        ]
      : []),
  ];
  return [months, columns];
}

export function oneMoreWords(rig: Rig, { panel, battery }: StayStudy): string {
  const one = [...(panel ? [panel] : []), battery].map((more) => `${more.what}${costs(rig, more)}`).join(', ');
  return `One more: ${one}.`;
}

export function costs({ currency }: Rig, { massKg, price }: StayStudy['battery']): string {
  const words = [
    ...(massKg === undefined ? [] : [`${Number(massKg.toPrecision(3))} kg`]),
    ...(price === undefined ? [] : [`${fixed(price, 0)}${currency ? ` ${oneLine(currency)}` : ''}`]),
  ];
  return words.length > 0 ? ` (${words.join(', ')})` : '';
}

export function stopsTabled(stops: readonly StopStay[], style: Style): Tabled<StopStay> {
  return [
    stops,
    [
      { head: 'Stop', cell: ({ name }) => oneLine(name) },
      { head: 'from', cell: ({ from }) => dayText(from) },
      { head: 'nights', cell: ({ nights }) => String(nights), align: 'right' },
      { head: 'dark', cell: ({ darkDays, study }) => daysCell(darkDays, study.horizonDays), align: 'right' },
      {
        head: '9 in 10',
        cell: ({ parkedDaysP10, study }) => daysCell(parkedDaysP10, study.horizonDays),
        align: 'right',
      },
      { head: 'half', cell: ({ parkedDaysP50, study }) => daysCell(parkedDaysP50, study.horizonDays), align: 'right' },
      {
        head: '',
        cell: ({ nights, parkedDaysP10, parkedDaysP50 }) =>
          parkedDaysP10 >= nights ? '' : parkedDaysP50 >= nights ? 'may end early' : 'likely ends early',
        mark: (_, text) => style.yellow(text),
        drop: 1,
      },
    ],
  ];
}

/** Nine stays in ten last so many days, month by place. */
export function placesTabled(places: readonly StayPlace[]): Tabled<StayPlace> {
  const columns: Column<StayPlace>[] = [
    { head: '9 in 10 last', cell: ({ name }) => oneLine(name) },
    ...Array.from(
      { length: 12 },
      (_, k): Column<StayPlace> => ({
        head: monthName(k + 1),
        cell: ({ study }) => {
          const row = study.months.find(({ month }) => month === k + 1);
          return row ? daysCell(row.parkedDaysP10, study.horizonDays) : '-';
        },
        align: 'right',
      }),
    ),
  ];
  return [places, columns];
}

/** How sure the shortest "9 in 10" is, by the count of weather years behind it. */
function spreadRemark({ months, horizonDays, vehicles }: StayStudy, isMade: boolean): string[] {
  const short = months.reduce((a, b) => (b.parkedDaysP10 < a.parkedDaysP10 ? b : a));
  const { parkedDaysP10, parkedDaysP10Low: low, parkedDaysP10High: high, weatherYears } = short;
  if (low === undefined || high === undefined) return [];
  const cell = (days: number) => daysCell(days, horizonDays);
  return [
    `the "9 in 10" of ${monthName(short.month)}, ${cell(parkedDaysP10)} days, rests on ${counted(weatherYears, 'weather year')} and may be ${cell(low)} to ${cell(high)}: ${isMade ? 'so few leave that open, and made years differ from real ones' : 'so few leave that open'}${vehicles === undefined ? '' : '; nor is it known which vehicle it is'}`,
  ];
}

export function stayRemarks({ rig, weather, places, stops }: Stayed): string[] {
  const [{ study }] = places as [StayPlace];
  const { months, horizonDays, unknowns, vehicles, fromSoc, endAt } = study;
  const floor = rig.battery.floor;
  const dark = months.find(({ month }) => month === study.darkMonth)!;
  const spread = dark.darkDaysHigh - dark.darkDaysLow > 0.05;
  return [
    `a stay of ${horizonDays} days counts as one without an end: as long as you like; it runs on into the months after, whose sun, heat and frost count too`,
    '"9 in 10" stays last at least so long, and "half" of them; they begin every third day of each weather year',
    ...(places.length === 1 ? spreadRemark(study, weather.kind === 'climate') : []),
    ...(places.length === 1 && unknowns.length > 0
      ? [`the half "may be" anywhere in that span, as nobody knows better: ${unknowns.map(unknownWords).join(', ')}`]
      : []),
    ...(places.length === 1 && vehicles !== undefined
      ? [`the half "may be" anywhere in that span, 9 times in 10, by ${counted(vehicles, 'vehicle')} that this may be`]
      : []),
    ...(places.length === 1 && spread
      ? [
          `dark in ${monthName(dark.month)}: ${daysCell(dark.darkDaysLow, horizonDays)} to ${daysCell(dark.darkDaysHigh, horizonDays)} days for what is not known of the ${vehicles === undefined ? 'fridge' : 'vehicle'}`,
        ]
      : []),
    ...(fromSoc < 1 && places.length === 1
      ? [
          `from full, ${daysCell(dark.darkDaysFromFull ?? dark.darkDays, horizonDays)} days in the dark in ${monthName(dark.month)}`,
        ]
      : []),
    ...(endAt === 'floor' && floor > 0 && dark.darkEndedBy !== undefined
      ? [`in the dark ${endWords(dark.darkEndedBy)} comes first; --past-floor tells how long until a load goes without`]
      : []),
    ...heatingRemark(rig),
    ...snowRemark(rig),
    ...(rig.alternator
      ? ['engine: driving every morning from 10:00 so long that nine stays in ten have no end; idling takes longer']
      : []),
    ...(stops.length > 0 && places.length > 1 ? ['each stop as if arrived at with that battery'] : []),
    ...study.notes.map(({ text }) => text),
  ];
}
