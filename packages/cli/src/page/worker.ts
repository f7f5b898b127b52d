import {
  allPlaces,
  ConfigError,
  type ConfigIssue,
  calibrateAsync,
  compareLogAsync,
  describeRig,
  fittedRigText,
  jsonSchemas,
  type Log,
  type Rig,
  type Run,
  readParts,
  readRig,
  readTonight,
  readTrip,
  type Stop,
  simulateAsync,
  sizeStudyAsync,
  starterRig,
  type Trip,
  tonightStudyAsync,
} from '@stayput/core';
import { fileValues, HOUR_MS, itineraryFor, openStays, type Stays, writeValues } from '@stayput/core/model';
import { compareVerdict } from '../show/compare-text.js';
import { partsWords, sizeVerdict } from '../show/size-words.js';
import { tonightEntries } from '../show/tonight-text.js';
import { rigFindings } from '../words/finding-words.js';
import { wordedLogFinding } from '../words/log-finding-words.js';
import { logNoteText } from '../words/log-words.js';
import { warningText } from '../words/run-words.js';
import { endVerdict, spareVerdict, tonightFindingText } from '../words/tonight-words.js';
import { verdict } from '../words/verdict-words.js';
import { INVENTED_PARTS } from './invented-parts.js';
import { readLogFile, tracesOf } from './log-file.js';
import { firstOf, positionOf, tripText } from './made-trip.js';
import type { Ask, Edit, Followed, Given, Lane, LoadCost, Reading, Setup, Starter, Told } from './protocol.js';
import type { Schema } from './schema.js';

// Runs in a Worker: everything that the library works out for the page. It holds no figure of its own.

const tell = (told: Told) => postMessage(told);

/** What the page was made with; said once, before any question. */
let given: Given = { version: '' };
const lanes = new Map<Lane, AbortController>();

addEventListener('message', ({ data }: MessageEvent<Ask>) => {
  switch (data.kind) {
    case 'begin':
      return begin(data);
    case 'answer':
      return void answer(data);
    case 'schema':
      return tell({ kind: 'schema', schema: jsonSchemas().rig as Schema });
    case 'start':
      return start(data.starter);
    case 'log':
      return void readLog(data);
    case 'calibrate':
      return void calibrate(data);
    case 'tonight':
      return void tonight(data);
    case 'size':
      return void size(data);
  }
});

function begin(ask: Extract<Ask, { kind: 'begin' }>): void {
  given = ask.given;
  const places = allPlaces();
  const where =
    given.where ??
    places.find(({ zone }) => zone === ask.zone)?.name ??
    places.find(({ name }) => name === 'Porto')!.name;
  const start = given.from ?? firstOf(Number(ask.today.slice(5, 7)), ask.today);
  const startsAt = /\d{1,2}:\d{2}$/.exec(start)?.[0];
  const made = { where, from: start.slice(0, 10), ...(startsAt && { startsAt }), driveEvery: 0, driveH: 1 };
  tell({
    kind: 'begun',
    parts: given.parts ?? INVENTED_PARTS,
    places: places.map(({ name, country }) => `${name}, ${country}`),
    setup: {
      rig: given.rig ?? starterRig({ schema: false }),
      ...(given.trip === undefined ? { trip: tripText(made), made } : { trip: given.trip }),
      stop: 0,
    },
  });
}

function start({ chemistry, capacityAh, solarW, fridgeL }: Starter): void {
  try {
    tell({ kind: 'started', rig: starterRig({ schema: false, chemistry, capacityAh, solarW, fridgeL }) });
  } catch (error) {
    tell({ kind: 'started', why: messageOf(error) });
  }
}

const messageOf = (error: unknown) =>
  error instanceof ConfigError
    ? error.issues.map(({ message, hint }) => (hint ? `${message} (${hint})` : message)).join('; ')
    : error instanceof Error
      ? error.message
      : String(error);

/** What is said of options of the command line is of no use here: the page has none. */
const withoutOptions = (text: string) =>
  text
    .split(/(?<=[;:])\s/)
    .filter((clause) => !clause.includes('--'))
    .join(' ')
    .replace(/[;:]$/, '');

let logWork = new AbortController();
let log: Log | undefined;

/** A fresh work in the place of the one before. */
function restarted(work: AbortController): AbortController {
  work.abort();
  return new AbortController();
}

const whereOf = ({ trip }: { trip: Trip }, { stop }: Setup) => {
  const { at, place } = trip.stops[stop]!;
  return at ? { at } : { place: place! };
};

/** Reads a log and holds it against the rig, where the stop in front is. */
async function readLog({ setup, file, zone, today }: Extract<Ask, { kind: 'log' }>): Promise<void> {
  logWork = restarted(logWork);
  const { signal } = logWork;
  log = undefined;
  try {
    const read = readSetup(setup);
    if ('issues' in read) throw new ConfigError(read.issues);
    const { latDeg, lonDeg } = read.reading.place;
    const options = { file: file.name, at: { latDeg, lonDeg }, todayMs: Date.parse(today), ...(zone && { zone }) };
    let told = 0;
    log = await readLogFile(file, options, signal, (done) => {
      if (done - told <= 0.02) return;
      told = done;
      tell({ kind: 'log', stage: 'reading', done });
    });
    tell({ kind: 'log', stage: 'comparing', done: 0 });
    const comparison = await compareLogAsync(read.rig, log, {
      where: whereOf(read, setup),
      signal,
      onProgress: (done) => tell({ kind: 'log', stage: 'comparing', done }),
    });
    const { findings, untold, fit } = comparison;
    tell({
      kind: 'logged',
      answer: {
        verdict: compareVerdict(comparison),
        rows: log.reading.rows,
        span: log.reading.span,
        findings: findings.map(wordedLogFinding),
        untold,
        warnings: log.reading.warnings.map((note) => withoutOptions(logNoteText(note))),
        fit,
        traces: tracesOf(comparison),
      },
    });
  } catch (error) {
    if (!signal.aborted) tell({ kind: 'logged', why: messageOf(error) });
  }
}

/** Fits the rig to the log that was read last. */
async function calibrate({ setup }: Extract<Ask, { kind: 'calibrate' }>): Promise<void> {
  logWork = restarted(logWork);
  const { signal } = logWork;
  try {
    const read = readSetup(setup);
    if ('issues' in read) throw new ConfigError(read.issues);
    const { fitted, before, after } = await calibrateAsync(read.rig, log!, {
      where: whereOf(read, setup),
      signal,
      onProgress: (done) => tell({ kind: 'log', stage: 'fitting', done }),
    });
    tell({
      kind: 'logged',
      fitted: {
        values: fitted.map(({ name, path, text }) => ({ name, path, text })),
        before,
        after,
        rigText: fittedRigText(setup.rig, fitted),
      },
    });
  } catch (error) {
    if (!signal.aborted) tell({ kind: 'logged', why: messageOf(error) });
  }
}

let tonightWork = new AbortController();

const listed = (text: string) =>
  text
    .split(',')
    .map((one) => one.trim())
    .filter((one) => one !== '');

/** What can be used from now on, where the stop in front is. */
async function tonight({ setup, asked, nowMs }: Extract<Ask, { kind: 'tonight' }>): Promise<void> {
  tonightWork = restarted(tonightWork);
  const { signal } = tonightWork;
  try {
    const read = readSetup(setup);
    if ('issues' in read) throw new ConfigError(read.issues);
    const { rig, trip } = read;
    const stop = trip.stops[setup.stop]!;
    const { soc, volts, amps, now, sky, use, drive } = asked;
    const isByVolts = volts.trim() !== '';
    const plan = readTonight(
      {
        ...(now.trim() && { now }),
        ...(isByVolts ? { volts, ...(amps.trim() && { amps }) } : { soc: `${soc} %` }),
        sky: sky.join(', '),
        use: listed(use),
        drive: listed(drive),
      },
      rig,
      stop,
      nowMs,
    );
    const study = await tonightStudyAsync(rig, stop, {
      ...plan,
      signal,
      ...(given.seed !== undefined && { seed: given.seed }),
    });
    tell({
      kind: 'tonight',
      answer: {
        spare: spareVerdict(rig, study),
        end: endVerdict(study),
        entries: tonightEntries(study),
        findings: study.findings.map(tonightFindingText),
        band: study.band,
        floor: study.floor,
      },
    });
  } catch (error) {
    if (!signal.aborted) tell({ kind: 'tonight', why: messageOf(error) });
  }
}

let sizeWork = new AbortController();

/** Weighs a parts list over the trip. */
async function size({ setup, parts }: Extract<Ask, { kind: 'size' }>): Promise<void> {
  sizeWork = restarted(sizeWork);
  const { signal } = sizeWork;
  try {
    const read = readSetup(setup);
    if ('issues' in read) return tell({ kind: 'sized', issues: read.issues });
    const { rig, trip } = read;
    const list = readParts(parts).parts;
    const study = await sizeStudyAsync(rig, list, [trip], {
      ...runOptions(trip),
      ...(given.years !== undefined && { years: given.years }),
      signal,
      onProgress: ({ stage, done, total }) =>
        tell({ kind: 'sizing', done: stage === 'choices' ? done / total : stage === 'weather' ? 0 : 1 }),
    });
    tell({
      kind: 'sized',
      verdict: sizeVerdict(study, rig.currency ?? ''),
      currency: rig.currency ?? '',
      points: study.choices.map((choice) => ({
        parts: partsWords(choice),
        massKg: choice.massKg,
        price: choice.price,
        nightsWithout: choice.nightsWithout,
        meets: choice.meets,
      })),
    });
  } catch (error) {
    if (signal.aborted) return;
    const issues =
      error instanceof ConfigError ? error.issues : [{ code: 'failed', path: '', message: messageOf(error) }];
    tell({ kind: 'sized', issues });
  }
}

async function answer({ lane, seq, setup, edits }: Extract<Ask, { kind: 'answer' }>): Promise<void> {
  lanes.get(lane)?.abort();
  const controller = new AbortController();
  lanes.set(lane, controller);
  const { signal } = controller;
  const of = { lane, seq };
  try {
    const written = edited(setup, edits);
    const read = readSetup(written);
    if ('issues' in read)
      return tell({ ...of, kind: 'refused', setup: written, values: plainValues(written.rig), ...read });
    const { rig, trip, reading } = read;
    tell({ ...of, kind: 'read', setup: written, reading });

    const stays = staysAt(trip.stops[written.stop]!, trip.weather);
    const { month } = reading;
    const estimate = await stays.glanceAsync(rig, month, { years: 1, signal });
    tell({ ...of, kind: 'glance', isEstimate: true, glance: estimate });
    tell({ ...of, kind: 'values', values: plainValues(written.rig) });
    const run = await simulateAsync(rig, trip, { ...runOptions(trip), signal });
    tell({ ...of, kind: 'followed', followed: followedOf(rig, run) });
    tell({
      ...of,
      kind: 'glance',
      isEstimate: false,
      glance: await stays.glanceAsync(rig, month, { signal }),
    });
    tell({
      ...of,
      kind: 'checked',
      checked: { findings: rigFindings(rig, trip), defaults: read.defaults, described: describeRig(rig) },
    });
    tell({ ...of, kind: 'studied', study: await stays.studyAsync(rig, { signal }) });
    const costs: LoadCost[] = [];
    for (const { name } of rig.loads) {
      if (rig.loads.length < 2 && rig.solar.length === 0) break;
      const without = { ...rig, loads: rig.loads.filter((load) => load.name !== name) };
      const { parkedDaysP10, parkedDaysP50, indefinite } = await stays.glanceAsync(without, month, { signal });
      costs.push({ name, parkedDaysP10, parkedDaysP50, indefinite });
    }
    tell({ ...of, kind: 'costs', costs });
    tell({ ...of, kind: 'done' });
  } catch (error) {
    if (signal.aborted) return;
    if (error instanceof ConfigError)
      tell({ ...of, kind: 'refused', setup, values: undefined, file: 'trip', issues: error.issues });
    else tell({ ...of, kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
}

/** What a form shows of the file; nothing where it is no YAML. */
function plainValues(text: string): unknown {
  try {
    return fileValues(text);
  } catch {
    return undefined;
  }
}

function edited(setup: Setup, edits: readonly Edit[]): Setup {
  let { rig, trip } = setup;
  for (const { file, ...value } of edits) {
    if (file === 'rig') rig = writeValues(rig, [value]);
    else trip = writeValues(trip, [value]);
  }
  return { ...setup, rig, trip };
}

type Refused = { readonly file: 'rig' | 'trip'; readonly issues: readonly ConfigIssue[] };

function readSetup(setup: Setup) {
  const rigRead = tried('rig', () => readRig(setup.rig));
  if ('issues' in rigRead) return rigRead;
  const { rig } = rigRead;
  const tripRead = tried('trip', () => tripOf(setup.trip, rig));
  if ('issues' in tripRead) return tripRead;
  const { trip, stops, places } = tripRead;
  const { latDeg, lonDeg, zone } = places[setup.stop]!;
  const { name, month } = stops[setup.stop]!;
  const place = { name, latDeg, lonDeg, zone };
  const reading: Reading = { rig, trip, stops, month: setup.month ?? month, place };
  return { rig, trip, reading, defaults: [...rigRead.defaults, ...tripRead.defaults] };
}

function tried<T extends object>(file: Refused['file'], read: () => T): T | Refused {
  try {
    return read();
  } catch (error) {
    if (error instanceof ConfigError) return { file, issues: error.issues };
    throw error;
  }
}

type TripRead = ReturnType<typeof readTripAnew>;
let lastTrip: { readonly key: string; readonly read: TripRead } | undefined;

/** The trip, which seldom changes while something of the rig is dragged. */
function tripOf(text: string, rig: Rig): TripRead {
  const names = { loads: rig.loads.map(({ name }) => name), arrays: rig.solar.map(({ name }) => name) };
  const key = JSON.stringify([text, names]);
  if (lastTrip?.key !== key) lastTrip = { key, read: readTripAnew(text, names) };
  return lastTrip.read;
}

function readTripAnew(text: string, names: { loads: readonly string[]; arrays: readonly string[] }) {
  const read = readTrip(text, names);
  const { days, legs } = itineraryFor(read.trip, 1);
  const stops = legs.map((leg, k) => {
    const { date } = days.find((day) => day.leg === k)!;
    return {
      name: leg.stop.name ?? placeText(leg.place),
      from: date,
      month: Number(date.slice(5, 7)),
      nights: leg.stop.nights,
    };
  });
  return { ...read, stops, places: legs.map(({ place }) => place) };
}

/** A place without a name goes by its position. */
function placeText({ name, latDeg, lonDeg }: { name: string; latDeg: number; lonDeg: number }): string {
  if (positionOf(name) === undefined) return name;
  return `${Math.abs(latDeg)}° ${latDeg < 0 ? 'S' : 'N'}, ${Math.abs(lonDeg)}° ${lonDeg < 0 ? 'W' : 'E'}`;
}

/** Places whose weather is kept: that of A and that of B. */
const PLACES_KEPT = 2;
const kept = new Map<string, Stays>();

/** A weather file tells of the trip's days; what is asked of every month needs the climate, as in a report. */
function staysAt(stop: Stop, weather: Trip['weather']): Stays {
  const { at, place, elevationM, shade, arrayShade, skyShade, horizon, months, use } = stop;
  const chosen = weather.kind === 'file' ? ({ kind: 'climate' } as const) : weather;
  const key = JSON.stringify([at, place, elevationM, shade, arrayShade, skyShade, horizon, months, use, chosen]);
  const known =
    kept.get(key) ??
    openStays(stop, {
      weather: chosen,
      ...(given.years !== undefined && { years: given.years }),
      ...(given.seed !== undefined && { seed: given.seed }),
    });
  kept.delete(key);
  kept.set(key, known);
  if (kept.size > PLACES_KEPT) kept.delete(kept.keys().next().value!);
  return known;
}

function runOptions({ weather }: Trip) {
  return {
    ...(weather.kind === 'file' && given.weather && { weatherFile: given.weather }),
    ...(given.seed !== undefined && { seed: given.seed }),
  };
}

/** A chart on a phone shows no more [samples]. */
const MAX_SAMPLES = 4032;

function followedOf(rig: Rig, run: Run): Followed {
  const { trace, conditions, days, summary, daily, loads, warnings } = run;
  const { text, others } = verdict(rig, run);
  const { steps, stepH, startMs } = trace.grid;
  const each = Math.max(1, Math.ceil(steps / MAX_SAMPLES));
  const samples = Math.ceil(steps / each);
  const ends = (column: Float64Array) =>
    Float32Array.from({ length: samples }, (_, k) => column[Math.min(steps, (k + 1) * each) - 1]!);
  const means = (column: Float64Array) =>
    Float32Array.from({ length: samples }, (_, k) => {
      const part = column.subarray(k * each, Math.min(steps, (k + 1) * each));
      return part.reduce((sum, value) => sum + value, 0) / part.length;
    });
  return {
    soc: ends(trace.soc),
    sunW: means(trace.pvHarvestW),
    engineW: means(trace.alternatorW),
    loadW: means(trace.loadW),
    startMs,
    sampleH: stepH * each,
    zones: conditions.itinerary.legs.map(({ firstStep, place }) => ({
      from: Math.floor(firstStep / each),
      zone: place.zone,
    })),
    days: days.map((day) => ({
      date: day.date,
      from: Math.max(0, (day.startMs - startMs) / HOUR_MS) / (stepH * each),
    })),
    summary,
    daily,
    loads,
    warnings: warnings.map(warningText),
    verdict: text,
    others,
  };
}
