import { LOG_COLUMNS } from '@stayput/core';
import { LOG_REASONS, type ReasonCode } from '@stayput/core/model';
import { ROW_REASON_WORDS } from '../words/log-words.js';
import type { Block } from './blocks.js';

/** A heading that is understood for each column that a log may have. */
export const LOG_HEADINGS: Readonly<Record<(typeof LOG_COLUMNS)[number], string>> = {
  voltage: 'Battery voltage (V)',
  current: 'Battery current (A)',
  power: 'Battery power (W)',
  soc: 'State of charge (%)',
  temperature: 'Battery temperature (C)',
  solarPower: 'Solar power (W)',
  solarVoltage: 'PV voltage (V)',
  solarCurrent: 'PV current (A)',
  loadPower: 'Load power (W)',
  loadCurrent: 'Load current (A)',
  alternatorPower: 'Alternator power (W)',
  alternatorCurrent: 'Alternator current (A)',
  ambient: 'Ambient temperature (C)',
  cabin: 'Cabin temperature (C)',
  irradiance: 'Irradiance (W/m2)',
};

export function logsTopic(): Block[] {
  const reasons = (outcome: 'corrected' | 'rejected') =>
    (Object.keys(LOG_REASONS) as ReasonCode[]).flatMap((code) =>
      LOG_REASONS[code] === outcome ? [ROW_REASON_WORDS[code]] : [],
    );
  return [
    {
      text: 'A log is the CSV that a battery monitor exports, of any size. Delimiter, decimal sign, encoding, lines before the headings, units and the order of dates are worked out; what was understood is told, and each row is kept, corrected or rejected with its reason.',
    },
    { heading: 'Columns' },
    {
      text: 'Needed are a time and one of voltage, current or power of the battery. They are found by their wording, in English and some other languages; such headings are understood:',
    },
    { entries: LOG_COLUMNS.map((name) => [name, `"${LOG_HEADINGS[name]}"`]) },
    {
      text: 'Where the wording is not clear, name the column by its heading or number: --column voltage="Batt U" --column time=1. --ignore HEADING leaves a column out; --unit current=mA says what a column is in that names no unit, or a wrong one.',
    },
    {
      text: 'Columns that must agree are compared: volts x amps with watts, both sides of a controller, loads with the battery in the dark, the state of charge with the current, and counters (yield today, charged and discharged Ah or Wh, Ah below full) with what flows. Where they contradict each other nothing is answered; both are named, with what would help.',
    },
    {
      text: "A solar current may be the panels' or what the controller gives: where the rows do not tell, --solar-side panel or --solar-side battery does.",
    },
    { heading: 'Times' },
    {
      text: "A clock's zone is the place's (--place or --at), or --zone Europe/Lisbon, or UTC+02:00. Where 03/04 may be March or April, --date-order dmy or mdy settles it. Years of the Buddhist calendar are read with --calendar buddhist. Whether a row's time is the start or the end of its interval is told by its heading or by the rows that fill whole days; --stamps start, end or instant settles it for compare and calibrate. Hours that daylight saving skips or doubles, clock resets and rows out of order are put right where they can be; --sort keeps all rows in memory and reads them in any order.",
    },
    { heading: 'Sense of the current' },
    {
      text: 'Whether a positive current charges or discharges is worked out from voltage, state of charge and sun, and said; --positive charging or discharging settles it.',
    },
    { heading: 'Corrected' },
    ...reasons('corrected').map((says) => ({ text: `- ${says}` })),
    { heading: 'Rejected' },
    ...reasons('rejected').map((says) => ({ text: `- ${says}` })),
    {
      text: '"stayput log FILE --rejects rejects.csv" lists each such row with its line; --tidy tidy.csv writes a clean copy: UTC, V, A, W, charging positive.',
    },
  ];
}
