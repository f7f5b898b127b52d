import {
  type PartsList,
  type Rig,
  readParts,
  type SizeResult,
  sizeStudyAsync,
  type Trip,
  withoutTrip,
} from '@stayput/core';
import { DAY_MS } from '@stayput/core/model';
import { EXIT, InputError } from '../failure.js';
import { readText, readWeather } from '../files/read-text.js';
import type { Io } from '../io.js';
import { sizePicture } from '../show/charts/size-picture.js';
import { jsonText } from '../show/json.js';
import { sizePage } from '../show/page/size-page.js';
import { barText } from '../show/rate.js';
import { type Sized, sizeText } from '../show/size-text.js';
import { rigFindings, type ShownFinding, shownFinding } from '../words/finding-words.js';
import { claimOutputs } from './claim-outputs.js';
import { deliver, tellDangers } from './deliver.js';
import { withEnsemble } from './ensemble-from.js';
import type { SizeCommandOptions } from './given.js';
import { loadRig } from './load-rig.js';
import { deliverPictures } from './pictures.js';
import { weatherChoice } from './weather-choice.js';

/** The calendar of made weather: which year moves the sun by less than 0.3 degrees. */
const ANY_YEAR = 2025;
const USUAL_DAYS = 14;

export async function runSize(
  io: Io,
  rigPath: string,
  partsPath: string,
  tripPath: string | undefined,
  options: SizeCommandOptions,
): Promise<number> {
  refuseContradictions(rigPath, partsPath, tripPath, options);
  const { json = false, quiet = false } = options;
  const { rig: written, trip } = await loadRig(io, rigPath, tripPath, options.set ?? []);
  const parts = await loadParts(io, partsPath);
  const { cases, span } = casesOf(trip, options);
  const { weather } = cases[0]!;
  const weatherPath = weather.kind === 'file' ? weather.path : undefined;
  const { result, beside, isTaken } = await claimOutputs(
    io,
    options,
    { '--plot': options.plot, '--report': options.report },
    [rigPath, partsPath, tripPath, weatherPath, options.ensemble],
  );
  const rig = await withEnsemble(io, written, options.ensemble);
  const sized = await sizedFor(io, rig, parts, { cases, span }, options);

  await deliverPictures(io, beside, quiet, { plot: () => sizePicture(sized), page: () => sizePage(sized) });
  if (!isTaken)
    await deliver(io, result, options, {
      json: () => jsonText(sizeDocument(sized)),
      text: (shownBy) => sizeText(sized, shownBy),
    });
  if (json || isTaken || result !== 'stdout') {
    tellDangers(io, sized.findings);
    if (!sized.study.meets) io.tell(io.errStyle.red('target missed: no combination of the list meets it'));
  }
  return sized.study.meets ? EXIT.done : EXIT.targetMissed;
}

export async function loadParts(io: Io, partsPath: string): Promise<PartsList> {
  const source = await readText(io, partsPath, 'parts list');
  return readParts(source.text, { file: source.file }).parts;
}

export async function sizedFor(
  io: Io,
  rig: Rig,
  parts: PartsList,
  { cases, span }: { readonly cases: readonly Trip[]; readonly span: string },
  options: Pick<SizeCommandOptions, 'column' | 'years' | 'seed' | 'step' | 'autonomy' | 'quiet'>,
): Promise<Sized> {
  const { quiet = false } = options;
  const { weather } = cases[0]!;
  const weatherPath = weather.kind === 'file' ? weather.path : undefined;
  const { column, years, seed, step, autonomy } = options;
  const weatherFile = weatherPath === undefined ? undefined : await readWeather(io, weatherPath, column);
  const study = await sizeStudyAsync(rig, parts, cases, {
    ...(weatherFile && { weatherFile }),
    ...(years !== undefined && { years }),
    ...(seed !== undefined && { seed }),
    ...(step !== undefined && { stepH: step }),
    ...(autonomy !== undefined && { autonomyDays: autonomy }),
    ...(!quiet &&
      io.redraw && {
        onProgress: ({ stage, done, total }) =>
          io.redraw?.(`${barText(done / total)}  ${STAGES[stage]} ${done} of ${total}`),
      }),
  });
  if (!quiet) io.redraw?.('');

  return { rig, parts, study, span, weather, findings: findingsOf(rig, study), quiet };
}

const STAGES = {
  weather: 'weather year',
  choices: 'combination',
  limits: 'limit lifted',
  margins: 'margin',
} as const;

/**
 * The rig's own findings but for what is not bolted in yet: those of the battery, the panels and the charger are told of
 * the best choices instead.
 */
function findingsOf(rig: Rig, { margins }: SizeResult): ShownFinding[] {
  const ofParts = /^(battery|solar|alternator\.charger)\b/;
  const own = rigFindings(rig).filter(({ path }) => !ofParts.test(path));
  const chosen = margins.flatMap(({ marks, findings }) =>
    findings
      .map(shownFinding)
      .filter(({ path }) => ofParts.test(path))
      .map((finding) => ({ ...finding, text: `with the ${marks.join(' and ')}: ${finding.text}` })),
  );
  return [...own, ...chosen];
}

export function sizeDocument({ rig, parts, study, span, weather, findings }: Sized): object {
  const { notes, ...rest } = study;
  return {
    command: 'size',
    rig: rig.name,
    partsList: parts.name,
    span,
    weather,
    warnings: notes.map((text) => ({ code: 'note', component: 'size', text })),
    findings,
    ...rest,
    worksheet: { ...rest.worksheet, solarW: rest.worksheet.solarW ?? null },
  };
}

function refuseContradictions(
  rigPath: string,
  partsPath: string,
  tripPath: string | undefined,
  { at = [], place = [], month, from, days, weather }: SizeCommandOptions,
): void {
  if ([rigPath, partsPath, tripPath].filter((path) => path === '-').length > 1)
    throw new InputError('only one of rig, parts list and trip can come from standard input');
  const where = at.length + place.length;
  if (tripPath === undefined && where === 0)
    throw new InputError(
      'where does the rig stand? Add a trip file, or --place NAME, or --at LAT,LON such as --at 41.7,-8.8',
    );
  if (tripPath !== undefined && where > 0)
    throw new InputError('the trip file says where; leave it out, or leave out --at and --place');
  if (tripPath !== undefined && (month || from !== undefined || days !== undefined))
    throw new InputError('the trip file says when; leave it out, or leave out --month, --from and --days');
  if (month && (from !== undefined || days !== undefined))
    throw new InputError('--month or --from and --days, not both');
  if (days !== undefined && from === undefined) throw new InputError('--days needs --from DATE');
  if (weather === '') throw new InputError('--weather is clear, climate, dull, or the name of a weather file');
}

function casesOf(trip: Trip | undefined, options: SizeCommandOptions): { cases: Trip[]; span: string } {
  const { at = [], place = [], weather } = options;
  const withWeather = (one: Trip): Trip => (weather === undefined ? one : { ...one, weather: weatherChoice(weather) });
  if (trip) return { cases: [withWeather(trip)], span: `the trip ${trip.name}` };
  const { from, days, span } = spanOf(options);
  const cases = [
    ...place.map((name) => withoutTrip({ place: name, from, days })),
    ...at.map((position) => withoutTrip({ at: position, from, days })),
  ];
  return { cases: cases.map(withWeather), span };
}

function spanOf({ month, from, days = USUAL_DAYS }: SizeCommandOptions): { from: string; days: number; span: string } {
  if (from !== undefined) return { from, days, span: `${days} days from ${from}` };
  if (!month) return { from: `${ANY_YEAR}-01-01`, days: 365, span: 'the whole year' };
  const { first, last } = month;
  const end = Date.UTC(ANY_YEAR + (last < first ? 1 : 0), last, 1);
  const start = Date.UTC(ANY_YEAR, first - 1, 1);
  const names = first === last ? monthText(first) : `${monthText(first)} to ${monthText(last)}`;
  return {
    from: new Date(start).toISOString().slice(0, 10),
    days: Math.round((end - start) / DAY_MS),
    span: names,
  };
}

function monthText(month: number): string {
  return new Date(Date.UTC(ANY_YEAR, month - 1, 1)).toLocaleString('en', { month: 'long', timeZone: 'UTC' });
}
