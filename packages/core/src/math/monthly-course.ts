/** Days of each month, February with 29. */
export const LEAP_MONTH_DAYS = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;

/** Month 0..11 of each day of a leap-year calendar. */
export const MONTH_OF_DAY = Uint8Array.from(
  LEAP_MONTH_DAYS.flatMap((days, month) => new Array<number>(days).fill(month)),
);

/**
 * A smooth course through the year from twelve monthly means: straight lines between the middles of the months, whose
 * heights are set so that the mean of each month is the one given. Returns 366 days; 29 February is day 59.
 * @throws RangeError unless there are twelve finite values
 */
export function monthlyCourse(means: readonly number[]): Float64Array {
  if (!(means.length === 12 && means.every(Number.isFinite)))
    throw new RangeError(`a monthly course needs 12 finite values, got ${means.join(', ')}`);
  const nodes = Float64Array.from(means);
  const course = new Float64Array(366);
  // Each pass moves a node by its month's error; the months' weight on their own mean is about 3/4, so errors fall fourfold.
  for (let pass = 0; pass < 25; pass++) {
    let first = 0;
    let worst = 0;
    const sums = new Float64Array(12);
    for (let month = 0; month < 12; month++) {
      const days = LEAP_MONTH_DAYS[month]!;
      const middle = days / 2;
      for (let day = 0; day < days; day++) {
        const from = day + 0.5 < middle ? (month + 11) % 12 : month;
        const to = (from + 1) % 12;
        const apart = (LEAP_MONTH_DAYS[from]! + LEAP_MONTH_DAYS[to]!) / 2;
        const along = from === month ? day + 0.5 - middle : day + 0.5 + LEAP_MONTH_DAYS[from]! / 2;
        const value = nodes[from]! + ((nodes[to]! - nodes[from]!) * along) / apart;
        course[first + day] = value;
        sums[month]! += value;
      }
      first += days;
    }
    for (let month = 0; month < 12; month++) {
      const error = means[month]! - sums[month]! / LEAP_MONTH_DAYS[month]!;
      nodes[month]! += error;
      worst = Math.max(worst, Math.abs(error));
    }
    if (worst < 1e-9) break;
  }
  return course;
}
