/**
 * When a panel turned by hand is turned: each day's daylight falls into `timesPerDay` equal parts, and for each part the panel is
 * aimed at where the sun stands in the part's middle and then left alone. A day runs from one lowest point of the sun to the next,
 * so that it holds in polar day and in either hemisphere.
 * Assumption: whoever turns it keeps to the clock and knows the sun's way; a late or careless hand gets a little less.
 * Within 0.06° of a pole the sun has no daily lowest point, and the whole of its season counts as one day.
 * @param cosZenith the sun's column
 * @returns `bounds[k]` to `bounds[k + 1]` are the steps of part k (night included, no step left out), aimed at the sun of step `aims[k]`
 */
export function repointingBounds(cosZenith: Float64Array, timesPerDay: number): { bounds: number[]; aims: number[] } {
  const steps = cosZenith.length;
  const parts = Math.max(1, Math.round(timesPerDay));
  const bounds = [0];
  const aims: number[] = [];
  let dayStart = 0;
  for (let i = 1; i <= steps; i++) {
    const isLowest = i < steps - 1 && cosZenith[i]! < cosZenith[i - 1]! && cosZenith[i]! <= cosZenith[i + 1]!;
    if (i < steps && !isLowest) continue;
    let rise = dayStart;
    while (rise < i && cosZenith[rise]! <= 0) rise++;
    let set = i;
    while (set > rise && cosZenith[set - 1]! <= 0) set--;
    const sunlit = set - rise;
    for (let k = 0; k < Math.min(parts, sunlit); k++) {
      const share = sunlit / Math.min(parts, sunlit);
      aims.push(rise + Math.min(sunlit - 1, Math.floor((k + 0.5) * share)));
      if (aims.length > 1) bounds.push(k === 0 ? dayStart : rise + Math.round(k * share));
    }
    dayStart = i;
  }
  if (aims.length === 0) aims.push(0);
  bounds.push(steps);
  return { bounds, aims };
}
