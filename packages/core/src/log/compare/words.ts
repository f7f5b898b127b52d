/** "3 nights" */
export const counted = (count: number, noun: string) => `${count} ${noun}${count === 1 ? '' : 's'}`;

/** "71 %" of 0.71 */
export const percent = (share: number) => `${Math.round(100 * share)} %`;

/** "09:00" of a whole hour */
export const clock = (hour: number) => `${String(hour).padStart(2, '0')}:00`;
