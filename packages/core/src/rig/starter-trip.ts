/** Where and when a starter trip goes. */
export interface StarterTripOptions {
  /** "Porto" of the table of places, or latitude and longitude [°] */
  readonly where: string | readonly [latDeg: number, lonDeg: number];
  /** local date of arrival, ISO */
  readonly from: string;
  /** where an editor finds the JSON Schema of a trip, from the trip's folder; @default none is named */
  readonly schema?: string;
}

/** A commented trip of one week at one place, to be changed; it passes `readTrip`. */
export function starterTrip({ where, from, schema }: StarterTripOptions): string {
  const place = typeof where === 'string' ? `place: ${JSON.stringify(where)}` : `at: [${where.join(', ')}]`;
  return `${schema ? `# yaml-language-server: $schema=${schema}\n` : ''}# A trip: where and when. "stayput help trip" lists the keys.
name: ${JSON.stringify(typeof where === 'string' ? `A week in ${where}` : 'A week away')}
startSoc: 100 %
weather: climate          # climate, clear, dull, or the name of a weather file
stops:
  - { ${place}, from: ${from}, nights: 7 }
  # then on, with two hours of driving and a night on mains:
  # - { at: [41.7, -8.8], nights: 3, drive: 2 h, mains: 10 h }
`;
}
