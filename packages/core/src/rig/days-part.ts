import { closest, shown } from '../quantity/index.js';
import { FieldError, field, found } from './field.js';

const WEEKDAYS = ['sunday', 'monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday'];
const MONTHS = [
  'january',
  'february',
  'march',
  'april',
  'may',
  'june',
  'july',
  'august',
  'september',
  'october',
  'november',
  'december',
];

const GROUPS: Readonly<Record<string, readonly number[]>> = {
  weekdays: [1, 2, 3, 4, 5],
  weekday: [1, 2, 3, 4, 5],
  weekends: [0, 6],
  weekend: [0, 6],
};

/** Days of the week, 0 = Sunday: "weekdays", "weekends", "Mon to Fri", "Sat, Sun". */
export const weekdaysField = field<readonly number[]>(
  {
    description: 'runs only on these days of the week: weekdays, weekends, or days by name',
    type: 'string',
    examples: ['weekends', 'Mon to Fri', 'Sat, Sun'],
  },
  (value) => listOf(value, WEEKDAYS, 'a day of the week', 'such as weekends, or Mon to Fri', GROUPS),
);

/** Months, 1 = January: "Jun to Sep", "Nov to Feb", "Jul, Aug". */
export const seasonField = field<readonly number[]>(
  {
    description: 'runs only in these months',
    type: 'string',
    examples: ['Jun to Sep', 'Nov to Feb'],
  },
  (value) => listOf(value, MONTHS, 'a month', 'such as Jun to Sep').map((index) => index + 1),
);

/** Names, and spans of them that may run over the end of the list, as indexes without repeats. */
function listOf(
  value: unknown,
  names: readonly string[],
  one: string,
  hint: string,
  groups: Readonly<Record<string, readonly number[]>> = {},
): number[] {
  if (typeof value !== 'string')
    throw new FieldError('wrong_type', `found ${found(value)} where ${one} is needed`, hint);
  const indexOf = (word: string) => {
    const text = word.trim().toLowerCase().replace(/\.$/, '');
    const index = text.length >= 3 ? names.findIndex((name) => name.startsWith(text) || text === `${name}s`) : -1;
    if (index >= 0) return index;
    const near = closest(text, names);
    throw new FieldError('wrong_choice', `${shown(word.trim())} is not ${one}`, near ? `did you mean ${near}?` : hint);
  };
  const indexes = value.split(/\s*(?:,|\band\b)\s*/i).flatMap((item): readonly number[] => {
    const group = groups[item.trim().toLowerCase()];
    if (group) return group;
    const [from, to, ...more] = item.split(/\s+to\s+|\s*[-–]\s*/i);
    if (more.length > 0) throw new FieldError('wrong_choice', `${shown(item)} is not ${one}`, hint);
    const first = indexOf(from!);
    if (to === undefined) return [first];
    const last = indexOf(to);
    const count = ((last - first + names.length) % names.length) + 1;
    return Array.from({ length: count }, (_, k) => (first + k) % names.length);
  });
  return [...new Set(indexes)].sort((a, b) => a - b);
}
