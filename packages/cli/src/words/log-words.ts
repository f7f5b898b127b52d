import type { CellReason, LogReading, LogShortfall } from '@stayput/core';
import type { LogNote, LogNoteArgs, ReasonCode, SignFound, UnitEvidence } from '@stayput/core/model';
import { wholePercent } from './figures.js';
import { adviceWords } from './option-words.js';
import { sentence, type Words } from './worded.js';

/** What was wrong with a row and what became of it. */
export const ROW_REASON_WORDS: Readonly<Record<ReasonCode, string>> = {
  blank: 'every cell is empty',
  'headings again': 'the headings come again',
  'no date': 'no date and time can be read',
  'no value': 'nothing was measured',
  duplicate: 'the same row was there already',
  'same time': 'another row has the same time, with other values; the first is kept',
  covered: 'its time lies before rows already read: a repeated export, or a clock set back',
  'clock lost': 'the clock had lost the time, and the true time cannot be worked out',
  'stamp out of line': 'its stamp leaps away and the next comes back',
  'text in a number cell': 'text where a number should be: that cell is left empty',
  'impossible value': 'a value that cannot be: that cell is left empty',
  spike: 'one reading far off both its neighbours: that cell is left empty',
  'out of order': 'out of order: put in its place',
  'clock reset': 'the clock had lost the time: moved to end where the clock is right again',
  'skipped hour': 'a time that daylight saving skips: read as if the clock had not been put forward',
  'cut short': 'the row is cut short: what is missing is left empty',
  'too wide': 'it has more cells than there are headings: which is which cannot be told',
  joined: 'another row of the same time fills other columns: the two are one',
};

/** Why a cell was not used. */
export const CELL_REASON_WORDS: Readonly<Record<CellReason, string>> = {
  empty: 'empty',
  text: 'text where a number should be',
  impossible: 'a value that cannot be',
  'cut short': 'the row ends before it',
  spike: 'far off both its neighbours',
};

const REJECTS = '--rejects FILE lists rows that were not read, if they are in the file';

/** What comes first when much of a log is lost. */
export function shortfallFact({ of, share, reason, heading }: LogShortfall): string {
  const lost = {
    rows: `${wholePercent(share)} of the rows are not used: ${reason && ROW_REASON_WORDS[reason]}`,
    hours: `${wholePercent(share)} of the hours have no rows`,
    cells: `${wholePercent(share)} of one column's cells are not used: "${heading}" holds text or values that cannot be`,
  }[of];
  return `${lost}. What follows is of the rest.`;
}

/** The same with what would help, for who has called the program. */
export function shortfallText(shortfall: LogShortfall): string {
  const { advice } = shortfall;
  return `${shortfallFact(shortfall)} What would help: ${advice ? adviceWords(advice) : REJECTS}.`;
}

/** What decided which way a battery's current counts. */
export function signText({ positive, by }: SignFound): string {
  const isIn = positive === 'charging';
  return {
    option: 'as the option says',
    heading: 'as its heading says',
    'state of charge': `the state of charge ${isIn ? 'rises' : 'falls'} while it is positive`,
    voltage: `the voltage ${isIn ? 'rises' : 'falls'} as it grows`,
    sun: `it is ${isIn ? 'higher' : 'lower'} in the sun than in the dark`,
    assumed: 'the rows do not tell',
  }[by];
}

const quoted = (headings: readonly string[], between = ' + ') => headings.map((one) => `"${one}"`).join(between);

function clockText(hour: number): string {
  const minutes = Math.round(hour * 60) % 1440;
  return `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
}

function evidenceText(by: UnitEvidence): string {
  switch (by.of) {
    case 'product':
      return `${quoted(by.watts)} is ${by.ratio < 1 ? 'a thousandth of' : 'a thousand times'} volts x ${quoted(by.amps)}`;
    case 'capacity':
      return `in ${by.unit} a full turn of the state of charge would be ${by.ah.toPrecision(3)} Ah`;
    case 'size':
      return `in ${by.unit} it would go to ${by.most.toPrecision(3)} ${by.unit}`;
    case 'battery':
      return `the battery's power moves ${by.times.toFixed(0)} times as much`;
  }
}

function nightHarvestText({ dayH, zone, sun, lonDeg = 0 }: LogNoteArgs['log_night_harvest']): string {
  if (sun) {
    const inNight = sun.nightShare > 0.005 ? `, ${wholePercent(sun.nightShare)} of it while the sun is down` : '';
    return `the harvest is centred on ${clockText(dayH)} solar time${inNight}: the time zone ${zone} makes night of day; by the sun the log's clock runs at about ${sun.clock}: --zone ${sun.clock}, or the name of the zone`;
  }
  const where = `${Math.abs(Math.round(lonDeg))} degrees ${lonDeg < 0 ? 'west' : 'east'}`;
  return `the harvest is centred on ${clockText(dayH)} by the clock of ${zone}: either the log stems from about ${where}, or its clock runs in another zone; without --zone or --at its days begin in the wrong hour`;
}

export const LOG_NOTE_WORDS: Words<LogNoteArgs> = {
  log_zone: () => 'nothing says in which time zone the clock ran: taken as UTC; --zone, --at or --place settles it',
  log_newest_first: () => 'the log has its newest row first: it was kept in memory and turned',
  log_sorted: () => 'the rows were not in the order of their times: they were kept in memory and sorted',
  log_held: ({ headings, by }) =>
    `${quoted(headings, ', ')} ${headings.length === 1 ? 'is' : 'are'} empty in many rows, as ${by === 'devices' ? 'several devices write rows of their own' : 'only what changes is written'}: the last value holds`,
  log_on_change: ({ holdH }) =>
    `rows come unevenly, as if written on change: each holds until the next, for ${holdH < 1 ? `${(60 * holdH).toPrecision(2)} min` : `${holdH.toPrecision(2)} h`} at most`,
  log_sign: ({ column, positive }) =>
    `the ${column} was read as positive when ${positive}, as the option says, but the rows show otherwise`,
  log_night_harvest: nightHarvestText,
  log_columns_summed: ({ column, headings }) => `${column} is the sum of ${headings.join(', ')}`,
  log_column_first: ({ column, headings }) =>
    `${headings.length} columns could be the ${column} (${headings.join(', ')}): the first is taken; --column ${column}=HEADING chooses`,
  log_unit: ({ heading, unit }) => `"${heading}" names no unit: taken as ${unit}`,
  log_unit_found: ({ headings, unit, by }) =>
    `${quoted(headings)} names no unit: ${evidenceText(by)}, so it is in ${unit}`,
  log_one_way: ({ column, heading }) =>
    `"${heading}" shows one direction only, and no column the other: not used; --column ${column}=HEADING takes it as both`,
  log_turned: ({ column, headings }) =>
    `${quoted(headings)} is below nought throughout and was turned: ${column.startsWith('solar') ? 'panels give and do not take' : 'loads take and do not give'}`,
  log_solar_side: ({ headings, side, by }) =>
    `${quoted(headings)} is measured on the ${side}'s side of the controller: ${
      by === 'current'
        ? `the battery's current moves with it ${side === 'battery' ? 'ampere for ampere' : 'as that power does'}`
        : `solar power over it is ${side === 'battery' ? "the battery's" : "the panels'"} voltage`
    }`,
};

export const logNoteText = (note: LogNote) => sentence(LOG_NOTE_WORDS, note);

/** Notes with their sentences, as JSON has them. */
export const shownLogNotes = (notes: readonly LogNote[]) => notes.map((note) => ({ ...note, text: logNoteText(note) }));

/** A reading with sentences beside its codes, as JSON has it. */
export function shownReading({ warnings, reasons, shortfall, ...reading }: LogReading) {
  return {
    warnings: shownLogNotes(warnings),
    ...reading,
    reasons: reasons.map((one) => ({ ...one, text: ROW_REASON_WORDS[one.code] })),
    ...(shortfall && { shortfall: { ...shortfall, text: shortfallText(shortfall) } }),
  };
}
