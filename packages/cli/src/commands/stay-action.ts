import { DEFAULT_HORIZON_DAYS, type Rig, type Stop, stayStudyAsync, type Trip } from '@stayput/core';
import { itineraryFor } from '@stayput/core/model';
import { EXIT, InputError } from '../failure.js';
import { readWeather } from '../files/read-text.js';
import type { Io } from '../io.js';
import { stayPicture } from '../show/charts/stay-picture.js';
import { jsonText } from '../show/json.js';
import { stayPage } from '../show/page/stay-page.js';
import { barText } from '../show/rate.js';
import { namedStudies, type Stayed, type StayPlace, type StopStay, stayText } from '../show/stay-text.js';
import { rigFindings } from '../words/finding-words.js';
import { certainOverloads } from '../words/overload-words.js';
import { claimOutputs } from './claim-outputs.js';
import { deliver, tellDangers } from './deliver.js';
import { withEnsemble } from './ensemble-from.js';
import type { StayOptions } from './given.js';
import { loadRig } from './load-rig.js';
import { deliverPictures } from './pictures.js';
import { stayTargets } from './stay-targets.js';
import { studyWhere } from './study-where.js';
import { refuseNowhere } from './where.js';

export async function runStay(
  io: Io,
  rigPath: string,
  tripPath: string | undefined,
  options: StayOptions,
): Promise<number> {
  refuseNowhere(tripPath, options);
  if (tripPath !== undefined && options.months !== undefined)
    throw new InputError('the trip file says when; leave it out, or leave out --months');
  const { json = false, quiet = false, horizon = DEFAULT_HORIZON_DAYS, atLeast = 0 } = options;
  if (atLeast > horizon)
    throw new InputError(`stays are followed for ${horizon} days; add --horizon ${Math.ceil(atLeast)}`);
  const { rig: written, trip } = await loadRig(io, rigPath, tripPath, options.set ?? []);
  const where = studyWhere(io, trip, options);
  const weatherPath = where.weather.kind === 'file' ? where.weather.path : undefined;
  const { result, beside, isTaken } = await claimOutputs(
    io,
    options,
    { '--plot': options.plot, '--report': options.report },
    [rigPath, tripPath, weatherPath, options.ensemble],
  );
  const rig = await withEnsemble(io, written, options.ensemble);
  const stayed = await stayedAt(io, rig, trip, where, options);
  const { findings, targets } = stayed;

  await deliverPictures(io, beside, quiet, {
    plot: () => stayPicture(rig.name, where.weather, namedStudies(stayed)),
    page: () => stayPage(stayed),
  });
  if (!isTaken)
    await deliver(io, result, options, {
      json: () => jsonText(stayDocument(stayed)),
      text: (shownBy) => stayText(stayed, shownBy),
    });
  if (json || isTaken || result !== 'stdout') {
    tellDangers(io, findings);
    for (const { met, text } of targets) if (!met) io.tell(io.errStyle.red(`target missed: ${text}`));
  }
  return targets.every(({ met }) => met) ? EXIT.done : EXIT.targetMissed;
}

type Where = Pick<Trip, 'weather' | 'stops'>;

export async function stayedAt(
  io: Io,
  rig: Rig,
  trip: Trip | undefined,
  where: Where,
  options: StayOptions,
): Promise<Stayed> {
  const places = await studiesOf(io, rig, where, options);
  const stops = trip ? stopsOf({ ...trip, weather: where.weather }, places) : [];
  const targets = stayTargets(places[0]!.study, stops, options.atLeast, certainOverloads(rig));
  return {
    rig,
    weather: where.weather,
    places,
    stops,
    findings: rigFindings(rig),
    targets,
    quiet: options.quiet ?? false,
  };
}

export function stayDocument(stayed: Stayed): object {
  const { rig, weather, stops, findings, targets } = stayed;
  const studies = namedStudies(stayed);
  return {
    command: 'stay',
    rig: rig.name,
    weather,
    warnings: [],
    findings,
    ...(targets.length > 0 && { targets }),
    ...studies[0],
    ...(stops.length > 0 && { stops: stops.map(({ study: _, ...stop }) => stop), places: studies }),
  };
}

/** One study for each of the stops that differ in more than their dates. */
async function studiesOf(io: Io, rig: Rig, { stops, weather }: Where, options: StayOptions): Promise<StayPlace[]> {
  const { column, years, seed, step, months, fromSoc, pastFloor, horizon } = options;
  const weatherFile = weather.kind === 'file' ? await readWeather(io, weather.path, column) : undefined;
  const keys = stops.map(sameStay);
  const different = stops.filter((_, k) => keys.indexOf(keys[k]!) === k);
  const studies: StayPlace[] = [];
  for (const [k, stop] of different.entries()) {
    const study = await stayStudyAsync(rig, stop, {
      weather,
      ...(weatherFile && { weatherFile }),
      ...(years !== undefined && { years }),
      ...(seed !== undefined && { seed }),
      ...(step !== undefined && { stepH: step }),
      ...(months && { months }),
      ...(fromSoc !== undefined && { fromSoc }),
      ...(pastFloor && { endAt: 'off' as const }),
      ...(horizon !== undefined && { horizonDays: horizon }),
      ...(!options.quiet &&
        io.redraw && {
          onProgress: (share) => io.redraw?.(`${barText((k + share) / different.length)}  following stays`),
        }),
    });
    studies.push({ key: sameStay(stop), name: stop.name ?? study.place.name, study });
  }
  if (!options.quiet) io.redraw?.('');
  return studies;
}

function sameStay({ at, place, elevationM, shade, horizon, months, use }: Stop): string {
  return JSON.stringify([at, place, elevationM, shade, horizon, months, use]);
}

/** Each stop of the trip, in the month of its arrival. */
function stopsOf(trip: Trip, places: readonly StayPlace[]): StopStay[] {
  const { days, legs } = itineraryFor(trip, 1);
  return legs.map(({ stop, place }, k) => {
    const { study } = places.find(({ key }) => key === sameStay(stop))!;
    const { date } = days.find(({ leg }) => leg === k)!;
    const month = Number(date.slice(5, 7));
    return {
      name: stop.name ?? place.name,
      from: date,
      nights: stop.nights,
      ...study.months.find((row) => row.month === month)!,
      study,
    };
  });
}
