import type { MadeTrip } from './protocol.js';

/** So long is the chart of a made trip [days]. */
export const MADE_DAYS = 14;

/** The trip file that says what the sliders say: `stayput simulate RIG` follows it as the page does. */
export function tripText({ where, from, startsAt, driveEvery, driveH }: MadeTrip): string {
  const [latDeg, lonDeg] = positionOf(where) ?? [];
  const at = latDeg === undefined ? `place: ${JSON.stringify(where)}` : `at: [${latDeg}, ${lonDeg}]`;
  const lengths: number[] = [];
  for (let left = MADE_DAYS; left > 0; left -= lengths.at(-1)!)
    lengths.push(driveEvery > 0 ? Math.min(driveEvery, left) : left);
  const stops = lengths.map((nights, k) =>
    k === 0
      ? `  - { ${at}, from: ${from}, nights: ${nights} }`
      : `  - { ${at}, nights: ${nights}, drive: ${driveH} h }`,
  );
  const start = startsAt === undefined ? '' : `start: ${from} ${startsAt}\n`;
  return `name: ${JSON.stringify(`Two weeks at ${where}`)}\n${start}stops:\n${stops.join('\n')}\n`;
}

/** "41.7, -8.8" as latitude and longitude; undefined for the name of a place. */
export function positionOf(where: string): [latDeg: number, lonDeg: number] | undefined {
  const found = /^\s*(-?\d+(?:\.\d+)?)\s*[,; ]\s*(-?\d+(?:\.\d+)?)\s*$/.exec(where);
  return found ? [Number(found[1]), Number(found[2])] : undefined;
}

/** The first day of a month: of this year, or of the next when the month is over. */
export function firstOf(month: number, today: string): string {
  const [year, now] = today.split('-').map(Number) as [number, number];
  return `${month < now ? year + 1 : year}-${String(month).padStart(2, '0')}-01`;
}
