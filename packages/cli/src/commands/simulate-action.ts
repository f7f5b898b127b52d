import {
  climateAt,
  type Place,
  type Rig,
  type Run,
  recoveryOf,
  remediesFor,
  simulateAsync,
  type Trip,
  withoutTrip,
} from '@stayput/core';
import { spreadOf } from '@stayput/core/model';
import { EXIT, InputError } from '../failure.js';
import { readWeather } from '../files/read-text.js';
import { traceCsv } from '../files/trace-csv.js';
import type { Io } from '../io.js';
import { socPicture } from '../show/charts/soc-picture.js';
import { jsonText } from '../show/json.js';
import { counted } from '../show/number.js';
import { simulatePage } from '../show/page/simulate-page.js';
import { type Simulated, simulateText } from '../show/simulate-text.js';
import { rigFindings, type ShownFinding } from '../words/finding-words.js';
import { remedyTexts } from '../words/remedy-words.js';
import { warningText, worstDayText } from '../words/run-words.js';
import { troubleText, verdict } from '../words/verdict-words.js';
import { claimOutputs } from './claim-outputs.js';
import { deliver, tellDangers } from './deliver.js';
import { withEnsemble } from './ensemble-from.js';
import type { SimulateOptions } from './given.js';
import { type LoadedRig, loadRig } from './load-rig.js';
import { startSettings } from './options.js';
import { deliverPictures } from './pictures.js';
import { type TargetResult, targetResults } from './targets.js';
import { weatherChoice } from './weather-choice.js';
import { refuseNowhere } from './where.js';

const DAYS = 7;
/** A step takes about 400 bytes; beyond this a run would not fit in an ordinary machine's memory. */
const MAX_STEPS = 1.5e6;
const USUAL_STEP_H = 1 / 6;

export async function runSimulate(
  io: Io,
  rigPath: string,
  tripPath: string | undefined,
  options: SimulateOptions,
): Promise<number> {
  const { json = false, quiet = false } = options;
  const asked = await askedRun(io, rigPath, tripPath, options);
  const { result, beside, isTaken } = await claimOutputs(
    io,
    options,
    { '--trace': options.trace, '--plot': options.plot, '--report': options.report },
    [rigPath, tripPath, asked.weatherPath, options.ensemble],
  );
  const simulated = await simulatedRun(io, asked, options);
  const { rig, run, findings, targets, assumed } = simulated;

  if (beside['--trace'] !== undefined)
    await io.write(beside['--trace'], traceCsv(run), { quiet, what: counted(run.trace.grid.steps, 'row') });
  await deliverPictures(io, beside, quiet, {
    plot: () => socPicture(rig, run, simulated.spread),
    page: () => simulatePage(simulated),
  });
  if (!isTaken)
    await deliver(io, result, options, {
      json: () => jsonText(simulateDocument(simulated)),
      text: (shownBy) => simulateText(simulated, shownBy),
    });
  if (json || isTaken || result !== 'stdout') tellAside(io, findings, targets, quiet ? [] : assumed);
  return targets.every(({ met }) => met) ? EXIT.done : EXIT.targetMissed;
}

/** What a run follows: read and settled, not yet run. */
export interface AskedRun {
  readonly loaded: LoadedRig;
  readonly trip: Trip;
  readonly tripPath: string | undefined;
  readonly weatherPath: string | undefined;
}

export async function askedRun(
  io: Io,
  rigPath: string,
  tripPath: string | undefined,
  options: SimulateOptions,
): Promise<AskedRun> {
  refuseContradictions(tripPath, options);
  const set = [...(options.set ?? []), ...(tripPath !== undefined && options.from ? startSettings(options.from) : [])];
  const read = await loadRig(io, rigPath, tripPath, set);
  const loaded = { ...read, rig: await withEnsemble(io, read.rig, options.ensemble) };
  const trip = tripFor(io, loaded.trip, options);
  return { loaded, trip, tripPath, weatherPath: trip.weather.kind === 'file' ? trip.weather.path : undefined };
}

export async function simulatedRun(
  io: Io,
  { loaded: { rig }, trip, tripPath }: AskedRun,
  options: SimulateOptions,
): Promise<Simulated> {
  const run = await runTrip(io, rig, trip, options);
  const recovery = recoveryOf(rig, run);
  const remedies = remediesFor(rig, run, recovery);
  const spread = spreadOf(rig, run);
  return {
    rig,
    trip,
    run,
    ...(recovery && { recovery }),
    ...(remedies && { remedies }),
    ...(spread && { spread }),
    findings: rigFindings(rig),
    targets: targetResults(run, options, spread),
    quiet: options.quiet ?? false,
    isDetailed: options.detail ?? false,
    assumed: assumptions(io, tripPath, options),
    hasTripFile: tripPath !== undefined,
  };
}

async function runTrip(
  io: Io,
  rig: Rig,
  trip: Trip,
  { column, step, seed, randomLoads }: SimulateOptions,
): Promise<Run> {
  const days = trip.stops.reduce((sum, { nights }) => sum + nights, 0);
  if ((days * 24) / (step ?? USUAL_STEP_H) > MAX_STEPS)
    throw new InputError(
      `${counted(days, 'day')} are too many for so short a step; take a longer --step or fewer days`,
    );
  const weatherFile = trip.weather.kind === 'file' ? await readWeather(io, trip.weather.path, column) : undefined;
  return simulateAsync(rig, trip, {
    ...(weatherFile && { weatherFile }),
    ...(step !== undefined && { stepH: step }),
    ...(seed !== undefined && { seed }),
    ...(randomLoads !== undefined && { randomLoads }),
  });
}

/** Text for people holds all this; when standard output holds none, what matters must still be seen. */
function tellAside(
  io: Io,
  findings: readonly ShownFinding[],
  targets: readonly TargetResult[],
  assumed: readonly string[],
): void {
  for (const what of assumed) io.tell(`simulated ${what}`);
  tellDangers(io, findings);
  for (const { met, text } of targets) if (!met) io.tell(io.errStyle.red(`target missed: ${text}`));
}

function refuseContradictions(tripPath: string | undefined, options: SimulateOptions): void {
  refuseNowhere(tripPath, options);
  if (tripPath !== undefined && options.days !== undefined)
    throw new InputError('the trip file says how long; leave it out, or leave out --days');
}

function tripFor(io: Io, fromFile: Trip | undefined, options: SimulateOptions): Trip {
  const { weather, startSoc } = options;
  const trip =
    fromFile ??
    withoutTrip({
      ...(options.at !== undefined && { at: options.at }),
      ...(options.place !== undefined && { place: options.place }),
      from: options.from ?? io.today(),
      days: options.days ?? DAYS,
    });
  return {
    ...trip,
    ...(weather !== undefined && { weather: weatherChoice(weather) }),
    ...(startSoc !== undefined && { startSoc }),
  };
}

/** What the call left open and how it was taken, so that nobody takes it for granted. */
function assumptions(io: Io, tripPath: string | undefined, options: SimulateOptions): string[] {
  if (tripPath !== undefined) return [];
  return [
    ...(options.from === undefined ? [`from today, ${io.today()} (--from DATE)`] : []),
    ...(options.days === undefined ? [`for ${DAYS} days (--days N)`] : []),
  ];
}

export function simulateDocument({ rig, trip, run, recovery, remedies, spread, findings, targets }: Simulated): object {
  const { conditions, warnings, summary, daily, loads, fridges, charging, battery, wear, trace } = run;
  return {
    command: 'simulate',
    rig: rig.name,
    trip: trip.name,
    weather: trip.weather,
    stepH: trace.grid.stepH,
    places: conditions.itinerary.legs.map(({ place }) => ({ ...place, ...climateSource(place, trip) })),
    verdict: verdict(rig, run),
    troubles: run.troubles.map((trouble) => ({ ...trouble, text: troubleText(trouble) })),
    remedies: { tried: remedies ?? [], texts: remedyTexts(rig, remedies) },
    warnings: warnings.map((warning) => ({ ...warning, text: warningText(warning) })),
    notes: conditions.notes,
    findings,
    ...(targets.length > 0 && { targets }),
    summary,
    ...(spread && { spread: { ...spread, band: undefined } }),
    daily,
    loads,
    fridges,
    charging: { ...charging, text: worstDayText(charging, daily.length) },
    battery,
    wear,
    ...(recovery && { recovery }),
  };
}

/** The places of the climate table from which made weather is drawn, with their distance. */
function climateSource({ latDeg, lonDeg, elevationM }: Place, trip: Trip): object {
  if (trip.weather.kind === 'file') return {};
  const { places } = climateAt(latDeg, lonDeg, elevationM);
  return {
    climateFrom: places.map(({ place, distanceKm, weight }) => ({
      name: place.name,
      country: place.country,
      distanceKm,
      weight,
    })),
  };
}
