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
      text: 'Where the wording is not clear, name the column by its heading or number: --column voltage="Batt U" --column time=1.',
    },
    { heading: 'Times' },
    {
      text: "A clock's zone is the place's (--place or --at), or --zone Europe/Lisbon, or UTC+02:00. Where 03/04 may be March or April, --date-order dmy or mdy settles it. Hours that daylight saving skips or doubles, clock resets and rows out of order are put right where they can be.",
    },
    { heading: 'Sense of the current' },
    {
      text: 'Whether a positive current charges or discharges is worked out from voltage, state of charge and sun, and said; --positive charging or discharging settles it.',
    },
    { heading: 'Mended' },
    ...reasons('corrected').map((says) => ({ text: `- ${says}` })),
    { heading: 'Rejected' },
    ...reasons('rejected').map((says) => ({ text: `- ${says}` })),
    {
      text: '"stayput log FILE --rejects rejects.csv" lists each such row with its line; --tidy tidy.csv writes a clean copy: UTC, V, A, W, charging positive.',
    },
  ];
}
