import { circuits, type Trip } from '@stayput/core';
import { CABIN_WIRE_C, ENGINE_WIRE_C, ROOF_WIRE_C } from '@stayput/core/model';
import { EXIT, InputError } from '../failure.js';
import type { Io } from '../io.js';
import { jsonText } from '../show/json.js';
import type { Reported } from '../show/page/report-page.js';
import { barText } from '../show/rate.js';
import { tellDangers } from './deliver.js';
import type { ReportOptions } from './given.js';
import { type AskedRun, askedRun, simulateDocument, simulatedRun } from './simulate-action.js';
import { loadParts, sizeDocument, sizedFor } from './size-action.js';
import { stayDocument, stayedAt } from './stay-action.js';
import { wiresDocument } from './wires-action.js';
import { yieldDocument, yieldedAt } from './yield-action.js';

export async function runReport(
  io: Io,
  rigPath: string,
  tripPath: string | undefined,
  options: ReportOptions,
): Promise<number> {
  const { out = '-', json = false, force = false, quiet = false, parts: partsPath } = options;
  if (partsPath !== undefined && [rigPath, tripPath, partsPath].filter((path) => path === '-').length > 1)
    throw new InputError('only one of rig, trip and parts list can come from standard input');
  if (out === '-' && !json && io.isWatched)
    throw new InputError('a report is a page for a browser: add --out report.html');
  const asked = await askedRun(io, rigPath, tripPath, options);
  const inputs = [rigPath, tripPath, partsPath, asked.weatherPath].filter((path) => path !== undefined);
  const sink = await io.claim(out, { force, inputs });
  const reported = await reportedOf(io, asked, options);

  if (json) await io.write(sink, jsonText(reportDocument(reported)), { quiet });
  else {
    const [{ pageHtml }, { reportPage }] = await Promise.all([
      import('../show/page/write.js'),
      import('../show/page/report-page.js'),
    ]);
    await io.write(sink, pageHtml(reportPage(reported)), { quiet });
  }
  tellDangers(io, reported.simulated.findings);
  return EXIT.done;
}

/** Everything that a page tells, worked out by the commands that tell it alone. */
async function reportedOf(io: Io, asked: AskedRun, options: ReportOptions): Promise<Reported> {
  const { loaded, trip } = asked;
  const { rig } = loaded;
  const { years, seed, step, column, quiet } = options;
  const begin = (share: number, what: string) => {
    if (!quiet) io.redraw?.(`${barText(share)}  ${what}`);
  };
  begin(0, 'simulating');
  const simulated = await simulatedRun(io, asked, options);
  const study = studyTrip(trip);
  const stayed = await stayedAt(io, rig, loaded.trip && study, study, options);
  const given = {
    ...(years !== undefined && { years }),
    ...(seed !== undefined && { seed }),
    ...(step !== undefined && { step }),
    ...(column && { column }),
    ...(quiet && { quiet }),
  };
  begin(0.6, 'months of sun');
  const yielded = rig.solar.length > 0 ? await yieldedAt(io, rig, study, options) : undefined;
  const parts = options.parts === undefined ? undefined : await loadParts(io, options.parts);
  const sized =
    parts &&
    (await sizedFor(io, rig, parts, { cases: [trip], span: spanOf(asked, simulated.run.daily.length) }, given));
  if (!quiet) io.redraw?.('');
  const air = { cabinC: CABIN_WIRE_C, engineC: ENGINE_WIRE_C, roofC: ROOF_WIRE_C };
  return {
    simulated,
    stayed,
    ...(yielded && { yielded }),
    ...(sized && { sized }),
    wires: { rig, circuits: circuits(rig, air), air, quiet: false },
    defaults: [...loaded.defaults, ...loaded.tripDefaults],
    assumed: [
      ...simulated.assumed.map((what) => `simulated ${what}`),
      ...(trip.weather.kind === 'file'
        ? ['the weather of the file is that of the trip; stays and yields by month are of the climate']
        : []),
    ],
  };
}

/** A weather file tells of the trip's days; what is asked of every month needs the climate. */
function studyTrip(trip: Trip): Trip {
  return trip.weather.kind === 'file' ? { ...trip, weather: { kind: 'climate' } } : trip;
}

function spanOf({ loaded, trip }: AskedRun, days: number): string {
  return loaded.trip ? `the trip ${trip.name}` : `${days} days from ${trip.stops[0]!.from}`;
}

function reportDocument({ simulated, stayed, yielded, sized, wires, defaults, assumed }: Reported): object {
  return {
    command: 'report',
    rig: simulated.rig.name,
    warnings: [],
    assumed,
    defaults,
    simulate: simulateDocument(simulated),
    stay: stayDocument(stayed),
    ...(yielded && { yield: yieldDocument(yielded) }),
    ...(sized && { size: sizeDocument(sized) }),
    wires: wiresDocument(wires),
  };
}
