import { addDays } from './civil-date.js';
import { part, quantity, text, wrong } from './field.js';
import { stopPart, weatherField } from './stop-part.js';

/** A trip as it is written. */
export const tripFile = part(
  'a trip: where, when, how',
  {
    name: text('what you call it', 'North-west coast in October').optional(),
    startSoc: quantity('ratio', 'state of charge at the start', { min: 0, max: 1 }, '90 %').optional(),
    weather: weatherField.optional(),
    stops: stopPart
      .array()
      .min(1, { error: 'a trip needs one stop at least' })
      .meta({ description: 'one after the other' }),
  },
  (trip, context) => {
    let due: string | undefined;
    for (const [i, stop] of trip.stops.entries()) {
      if (i === 0 && stop.from === undefined)
        wrong(context, ['stops', 0], 'the first stop does not say when it begins', 'add from: 2026-10-03', 'missing');
      if (due !== undefined && stop.from !== undefined && stop.from !== due)
        wrong(
          context,
          ['stops', i, 'from'],
          `from ${stop.from} does not join the stop before, which ends on ${due}`,
          `write from: ${due}, or leave it out, or change its nights`,
        );
      const start = stop.from ?? due;
      due = start === undefined ? undefined : addDays(start, stop.nights);
    }
  },
);
