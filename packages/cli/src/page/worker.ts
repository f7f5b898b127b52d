import {
  allPlaces,
  ConfigError,
  type ConfigIssue,
  describeRig,
  type Rig,
  type Run,
  readRig,
  readTrip,
  type Stop,
  simulateAsync,
  starterRig,
  type Trip,
} from '@stayput/core';
import { HOUR_MS, itineraryFor, openStays, type Stays, writeValues } from '@stayput/core/model';
import { rigFindings } from '../words/finding-words.js';
import { warningText } from '../words/run-words.js';
import { firstOf, positionOf, tripText } from './made-trip.js';
import type { Ask, Edit, Followed, Given, Lane, LoadCost, Reading, Setup, Told } from './protocol.js';

// Runs in a Worker: everything that the library works out for the page. It holds no figure of its own.

const tell = (told: Told) => postMessage(told);

/** What the page was made with; said once, before any question. */
let given: Given = { version: '' };
const lanes = new Map<Lane, AbortController>();

addEventListener('message', ({ data }: MessageEvent<Ask>) => {
  if (data.kind === 'begin') begin(data);
  else void answer(data);
});

function begin(ask: Extract<Ask, { kind: 'begin' }>): void {
  given = ask.given;
  const places = allPlaces();
  const where =
    given.where ??
    places.find(({ zone }) => zone === ask.zone)?.name ??
    places.find(({ name }) => name === 'Porto')!.name;
  const from = given.from ?? firstOf(Number(ask.today.slice(5, 7)), ask.today);
  const made = { where, from, driveEvery: 0, driveH: 1 };
  tell({
    kind: 'begun',
    places: places.map(({ name, country }) => `${name}, ${country}`),
    setup: {
      rig: given.rig ?? starterRig({ schema: false }),
      ...(given.trip === undefined ? { trip: tripText(made), made } : { trip: given.trip }),
      stop: 0,
    },
  });
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
    if ('issues' in read) return tell({ ...of, kind: 'refused', setup: written, ...read });
    const { rig, trip, reading } = read;
    tell({ ...of, kind: 'read', setup: written, reading });

    const stays = staysAt(trip.stops[written.stop]!, trip.weather);
    const { month } = reading;
    const estimate = await stays.glanceAsync(rig, month, { years: 1, signal });
    tell({ ...of, kind: 'glance', isEstimate: true, glance: estimate });
    const run = await simulateAsync(rig, trip, { ...runOptions(trip), signal });
    tell({ ...of, kind: 'followed', followed: followedOf(run) });
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
    if (error instanceof ConfigError) tell({ ...of, kind: 'refused', setup, file: 'trip', issues: error.issues });
    else tell({ ...of, kind: 'failed', message: error instanceof Error ? error.message : String(error) });
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
  const tripRead = tried('trip', () => {
    const read = readTrip(setup.trip, {
      loads: rig.loads.map(({ name }) => name),
      arrays: rig.solar.map(({ name }) => name),
    });
    return { ...read, reading: readingOf(rig, read.trip, setup) };
  });
  if ('issues' in tripRead) return tripRead;
  const { trip, reading } = tripRead;
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

function readingOf(rig: Rig, trip: Trip, { stop, month }: Setup): Reading {
  const { days, legs } = itineraryFor(trip, 1);
  const stops = legs.map((leg, k) => {
    const { date } = days.find((day) => day.leg === k)!;
    return {
      name: leg.stop.name ?? placeText(leg.place),
      from: date,
      month: Number(date.slice(5, 7)),
      nights: leg.stop.nights,
    };
  });
  const { latDeg, lonDeg, zone } = legs[stop]!.place;
  return {
    rig,
    trip,
    stops,
    month: month ?? stops[stop]!.month,
    place: { name: stops[stop]!.name, latDeg, lonDeg, zone },
  };
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

function followedOf({ trace, conditions, days, summary, daily, loads, warnings }: Run): Followed {
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
    days: days.map((day) => ({ date: day.date, from: (day.startMs - startMs) / HOUR_MS / (stepH * each) })),
    summary,
    daily,
    loads,
    warnings: warnings.map(warningText),
  };
}
