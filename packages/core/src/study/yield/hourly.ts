import type { Conditions } from '../../simulate/index.js';
import { sunColumns } from '../../sky/index.js';

/** Conditions on hourly means of themselves; unchanged when their step is an hour. Of one place only. */
export function hourlyOf(conditions: Conditions): Conditions {
  const { grid, itinerary, weather } = conditions;
  const per = Math.round(1 / grid.stepH);
  if (per === 1) return conditions;
  const steps = Math.ceil(grid.steps / per);
  const mean = (column: Float64Array) => {
    const out = new Float64Array(steps);
    for (let i = 0; i < steps; i++) {
      const end = Math.min(column.length, (i + 1) * per);
      let sum = 0;
      for (let j = i * per; j < end; j++) sum += column[j]!;
      out[i] = sum / (end - i * per);
    }
    return out;
  };
  const hours = { ...grid, stepH: 1, steps };
  const [leg] = itinerary.legs;
  const { latDeg, lonDeg } = leg!.place;
  const localHour = new Float64Array(steps);
  for (let i = 0; i < steps; i++) localHour[i] = (itinerary.localHour[i * per]! + 0.5 - grid.stepH / 2) % 24;
  return {
    ...conditions,
    grid: hours,
    itinerary: { ...itinerary, grid: hours, legs: [{ ...leg!, firstStep: 0, steps }], localHour },
    sun: sunColumns(latDeg, lonDeg, hours),
    weather: {
      ghiWm2: mean(weather.ghiWm2),
      dniWm2: mean(weather.dniWm2),
      dhiWm2: mean(weather.dhiWm2),
      ambientC: mean(weather.ambientC),
      windMs: mean(weather.windMs),
    },
    cabinC: mean(conditions.cabinC),
  };
}
