import { formatClock } from '../quantity/index.js';
import { addDays } from './civil-date.js';
import { part, quantity, text, wrong } from './field.js';
import { DRIVE_FROM_H, startField, stopPart, weatherField } from './stop-part.js';

const hourText = (hour: number) => formatClock({ kind: 'clock', hour });

/** A trip as it is written. */
export const tripFile = part(
  'a trip: where, when, how',
  {
    name: text('what you call it', 'North-west coast in October').optional(),
    startSoc: quantity('ratio', 'state of charge at the start', { min: 0, max: 1 }, '90 %').optional(),
    weather: weatherField.optional(),
    start: startField.optional(),
    stops: stopPart
      .array()
      .min(1, { error: 'a trip needs one stop at least' })
      .meta({ description: 'one after the other' }),
  },
  (trip, context) => {
    const { start: begun } = trip;
    const [first] = trip.stops;
    if (begun && first?.from !== undefined && first.from !== begun.date)
      wrong(
        context,
        ['start'],
        `the trip starts on ${begun.date}, but its first stop on ${first.from}`,
        'leave out from at the first stop, or write the same date',
      );
    const driveFrom = first?.driveFrom ?? DRIVE_FROM_H;
    if (begun && first?.drive && driveFrom < begun.hour)
      wrong(
        context,
        ['stops', 0, 'drive'],
        `the drive to the first stop begins at ${hourText(driveFrom)}, before the trip starts at ${hourText(begun.hour)}`,
        `leave out the drive, or write driveFrom: ${hourText(begun.hour)}`,
      );
    let due: string | undefined = begun?.date;
    for (const [i, stop] of trip.stops.entries()) {
      if (i === 0 && due === undefined && stop.from === undefined)
        wrong(context, ['stops', 0], 'the first stop does not say when it begins', 'add from: 2026-10-03', 'missing');
      if (i > 0 && due !== undefined && stop.from !== undefined && stop.from !== due)
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
