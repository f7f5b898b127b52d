import { type Rig, type Trip, type YieldStudy, yieldStudyAsync } from '@stayput/core';
import { EXIT } from '../failure.js';
import { readWeather } from '../files/read-text.js';
import type { Io } from '../io.js';
import { yieldPicture } from '../show/charts/yield-picture.js';
import { jsonText } from '../show/json.js';
import { yieldPage } from '../show/page/yield-page.js';
import { type Yielded, yieldText } from '../show/yield-text.js';
import { rigFindings } from '../words/finding-words.js';
import { claimOutputs } from './claim-outputs.js';
import { deliver, tellDangers } from './deliver.js';
import type { YieldOptions } from './given.js';
import { loadRig } from './load-rig.js';
import { deliverPictures } from './pictures.js';
import { studyWhere } from './study-where.js';
import { refuseNowhere } from './where.js';

export async function runYield(
  io: Io,
  rigPath: string,
  tripPath: string | undefined,
  options: YieldOptions,
): Promise<number> {
  refuseNowhere(tripPath, options);
  const { json = false, quiet = false } = options;
  const { rig, trip } = await loadRig(io, rigPath, tripPath, options.set ?? []);
  const where = studyWhere(io, trip, options);
  const weatherPath = where.weather.kind === 'file' ? where.weather.path : undefined;
  const { result, beside, isTaken } = await claimOutputs(
    io,
    options,
    { '--plot': options.plot, '--report': options.report },
    [rigPath, tripPath, weatherPath],
  );
  const yielded = await yieldedAt(io, rig, where, options);
  const { study } = yielded;

  await deliverPictures(io, beside, quiet, {
    plot: () => yieldPicture(rig.name, where.weather, study),
    page: () => yieldPage(yielded),
  });
  if (!isTaken)
    await deliver(io, result, options, {
      json: () => jsonText(yieldDocument(yielded)),
      text: (shownBy) => yieldText(yielded, shownBy),
    });
  if (json || isTaken || result !== 'stdout') tellDangers(io, yielded.findings);
  return EXIT.done;
}

type Where = Pick<Trip, 'weather' | 'stops'>;

export async function yieldedAt(io: Io, rig: Rig, where: Where, options: YieldOptions): Promise<Yielded> {
  const study = await studyOf(io, rig, where, options);
  return {
    rig,
    weather: where.weather,
    study,
    findings: rigFindings(rig),
    warnings: where.stops.length > 1 ? [firstStopOnly(study)] : [],
    quiet: options.quiet ?? false,
  };
}

export function yieldDocument({ rig, weather, study, findings, warnings }: Yielded): object {
  return { command: 'yield', rig: rig.name, weather, warnings, findings, ...study };
}

async function studyOf(
  io: Io,
  rig: Rig,
  { stops, weather }: Where,
  { column, years, seed, step }: YieldOptions,
): Promise<YieldStudy> {
  const weatherFile = weather.kind === 'file' ? await readWeather(io, weather.path, column) : undefined;
  return yieldStudyAsync(rig, stops[0]!, {
    weather,
    ...(weatherFile && { weatherFile }),
    ...(years !== undefined && { years }),
    ...(seed !== undefined && { seed }),
    ...(step !== undefined && { stepH: step }),
  });
}

function firstStopOnly({ place }: YieldStudy) {
  return {
    code: 'first_stop_only',
    component: 'trip',
    args: { place: place.name },
    text: `only the trip's first stop, ${place.name}, is looked at; name another with --place or --at instead of the trip`,
  };
}
