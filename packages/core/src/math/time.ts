/** Milliseconds in a minute. */
export const MINUTE_MS = 60_000;
/** Milliseconds in an hour. */
export const HOUR_MS = 3_600_000;
/** Milliseconds in a day of 24 hours. */
export const DAY_MS = 86_400_000;
/** Short names of the months, January first. */
export const MONTH_NAMES = [
  'Jan',
  'Feb',
  'Mar',
  'Apr',
  'May',
  'Jun',
  'Jul',
  'Aug',
  'Sep',
  'Oct',
  'Nov',
  'Dec',
] as const;
