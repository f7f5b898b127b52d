import type { PartsList, Rig, SizeChoice, SizeResult, Trip } from '@stayput/core';
import type { Io } from '../io.js';
import type { ShownFinding } from '../words/finding-words.js';
import { sizeSpreadText } from '../words/spread-words.js';
import { closingLines, findingLines, isDanger } from './findings.js';
import { counted, fixed, percent } from './number.js';
import { bindingWords, partsWords, sizeVerdict, targetWords } from './size-words.js';
import { heatingRemark } from './stay-words.js';
import { oneLine, type Style } from './style.js';
import { type Column, type Tabled, table, wrapped } from './table.js';
import { weatherWords } from './yield-words.js';

export interface Sized {
  readonly rig: Rig;
  readonly parts: PartsList;
  readonly study: SizeResult;
  /** when, in words */
  readonly span: string;
  readonly weather: Trip['weather'];
  readonly findings: readonly ShownFinding[];
  readonly quiet: boolean;
}

/** Rows of the table: more would not be read. */
const MAX_MEETING = 8;
const MAX_MISSING = 4;

/** The result of a sizing for people: the answer first, the trade-off, then why the others lose. */
export function sizeText(sized: Sized, { style, terminal: { width } }: Pick<Io, 'style' | 'terminal'>): string[] {
  const { rig, study, findings, quiet } = sized;
  const mark = study.meets ? style.green : style.red;
  const lines = wrapped(sizeVerdict(study, rig.currency ?? ''), width).map((line) => style.bold(mark(line)));
  if (quiet) return [...lines, ...findingLines(findings.filter(isDanger), width, style)];

  lines.push(...wrapped(aboutSize(sized), width, '  ', '  '), '', ...choiceTable(sized, width, style));
  for (const words of inTheWay(study)) lines.push(...wrapped(`- ${words}`, width, '  '));
  lines.push('', ...table(...worksheetTabled(study), width, style.bold), '', style.bold('To know'));
  for (const remark of sizeRemarks(sized)) lines.push(...wrapped(`- ${oneLine(remark)}`, width, '  '));
  lines.push(
    ...closingLines(
      findings,
      'Next: put a choice into the rig, then stayput check RIG and stayput simulate RIG show how it fares.',
      width,
      style,
    ),
  );
  return lines;
}

export function aboutSize({ rig, parts, study, span, weather }: Sized): string {
  return `${oneLine(rig.name)} with parts of ${oneLine(parts.name)}; ${study.places.map(oneLine).join(', ')}, ${oneLine(span)}; ${weatherWords(weather, study.weatherYears)}; target: ${targetWords(study)}`;
}

/** Which limits keep the list from meeting the target; nothing when it does. */
export function inTheWay({ meets, binding, tooStrongLoad }: SizeResult): string[] {
  if (tooStrongLoad !== undefined)
    return [
      `no battery of the list feeds ${oneLine(tooStrongLoad)} at its full power: use a smaller load, or add a larger battery`,
    ];
  if (meets || binding.length > 0) return binding.map(bindingWords);
  return ['no single limit stands in the way: the list has nothing larger that would do'];
}

function choiceTable(sized: Sized, width: number, style: Style): string[] {
  const [rows, columns] = choicesTabled(sized, style);
  if (rows.length === 0) return ['Nothing in the list is within its limits.'];
  return [...table(rows, columns, width, style.bold), ...wrapped(underChoices(sized.study), width).map(style.dim)];
}

export function choicesTabled({ study, rig }: Sized, style: Style): Tabled<SizeChoice> {
  const rows = shownRows(study);
  const hasArea = rows.some(({ areaM2 }) => areaM2 > 0);
  const columns: Column<SizeChoice>[] = [
    { head: 'nights', cell: ({ nightsWithout }) => fixed(nightsWithout, 0), align: 'right' },
    {
      head: 'h/year',
      cell: ({ unservedHoursYear }) => fixed(unservedHoursYear, unservedHoursYear < 10 ? 1 : 0),
      align: 'right',
      drop: 2,
    },
    { head: 'kg', cell: ({ massKg }) => fixed(massKg, 1), align: 'right' },
    { head: rig.currency ? oneLine(rig.currency) : 'price', cell: ({ price }) => fixed(price, 0), align: 'right' },
    ...(hasArea
      ? [{ head: 'm²', cell: ({ areaM2 }: SizeChoice) => fixed(areaM2, 2), align: 'right', drop: 3 } as const]
      : []),
    { head: 'Ah', cell: ({ batteryAh }) => fixed(batteryAh, 0), align: 'right', drop: 4 },
    { head: 'W', cell: ({ solarW }) => fixed(solarW, 0), align: 'right', drop: 4 },
    {
      head: 'what to buy',
      cell: (row) =>
        [...(row.meets ? [] : ['not quite']), row.marks.join(', '), partsWords(row)].filter(Boolean).join(': '),
      wrap: true,
    },
  ];
  const marked: Column<SizeChoice>[] = columns.map((column) => ({
    ...column,
    mark: (row, text) => (row.marks.length > 0 ? style.bold(style.green(text)) : row.meets ? text : style.dim(text)),
  }));
  return [rows, marked];
}

export function underChoices(study: SizeResult): string {
  const front = study.choices.filter(({ onFront }) => onFront).length;
  const more = front - shownRows(study).filter(({ onFront }) => onFront).length;
  return `nights without power in ${study.weatherYears === 1 ? 'one weather year' : `all ${counted(study.weatherYears, 'weather year')}`}, each from noon to noon; h/year: hours without, a mean year.${more > 0 ? ` ${counted(more, 'more choice')} of the trade-off in --json.` : ''}`;
}

/** What does, lightest first; then what comes near, with the smaller battery of the answer. */
function shownRows({ choices, smaller }: SizeResult): SizeChoice[] {
  const front = choices.filter(({ onFront }) => onFront);
  const meeting = front.filter(({ meets }) => meets);
  const best = meeting.filter(({ marks }) => marks.length > 0);
  const others = meeting.filter(({ marks }) => marks.length === 0).slice(0, Math.max(0, MAX_MEETING - best.length));
  const near = front
    .filter(({ meets }) => !meets)
    .sort((a, b) => b.yearsMet - a.yearsMet || a.unservedHoursYear - b.unservedHoursYear)
    .slice(0, MAX_MISSING);
  const rows = [...best, ...others, ...near];
  const beside = smaller && !rows.some((row) => partsWords(row) === partsWords(smaller)) ? [smaller] : [];
  return [...rows, ...beside].sort(
    (a, b) => Number(b.meets) - Number(a.meets) || a.massKg - b.massKg || a.price - b.price,
  );
}

export function worksheetTabled({ worksheet }: SizeResult): Tabled<SizeResult['worksheet']['lines'][number]> {
  return [
    worksheet.lines,
    [
      { head: 'By hand', cell: ({ what }) => what },
      { head: '', cell: ({ value, unit }) => `${fixed(value, value < 100 ? 1 : 0)} ${unit}`, align: 'right' },
      { head: 'how', cell: ({ how }) => how, wrap: true },
    ],
  ];
}

export function sizeRemarks({ rig, parts, study }: Sized): string[] {
  const { margins, lost, choices, runs, worksheet } = study;
  const because = (reason: string) => lost.filter((one) => one.reason === reason).length;
  const beaten = because('dominated') + choices.filter(({ onFront }) => !onFront).length;
  return [
    ...choices.flatMap(({ spread, ...choice }) => (spread ? [sizeSpreadText({ ...choice, spread })] : [])),
    ...margins.map(
      ({ marks, loadFactor, isAtLeast }) =>
        `the ${marks.join(' and ')} would do with ${isAtLeast ? 'at least ' : ''}${percent(loadFactor - 1)} more load of every kind`,
    ),
    `of ${counted(lost.length + choices.length, 'combination')} of the list, ${because('limit')} weigh, cost or need more than you allow, ${because('farBelowTarget')} leave you without power for more than 5 % of the time,${because('overload') > 0 ? ` ${because('overload')} cannot feed a load at its full power,` : ''} and for ${beaten} another does as well for no more kilograms and money; --json says why for each`,
    `${fixed(runs.made, 0)} of ${fixed(runs.all, 0)} runs through a weather year were needed to know`,
    ...(parts.panels.length > 0
      ? [
          'each panel comes with its share of a controller, as its line of the list says (MPPT where it says nothing); its mass and price count only if they are in those of the panel',
        ]
      : []),
    ...heatingRemark(rig),
    ...worksheet.remarks.map((text) => `the worksheet: ${text}`),
    'the worksheet knows neither the order of dull days nor what the battery refuses; the table above does',
    ...study.notes,
  ];
}
