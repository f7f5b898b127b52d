import { checkRig, type Finding, type Rig, type Run, simulate, type Trip, withoutTrip } from '@stayput/core';
import { EXIT, InputError } from '../failure.js';
import { readWeatherText } from '../files/read-text.js';
import { traceCsv } from '../files/trace-csv.js';
import type { Io } from '../io.js';
import { isDanger } from '../show/findings.js';
import { jsonText } from '../show/json.js';
import { counted } from '../show/number.js';
import { simulateText } from '../show/simulate-text.js';
import { oneLine } from '../show/style.js';
import { deliver } from './deliver.js';
import { loadRig } from './load-rig.js';
import type { SimulateOptions } from './simulate.js';
import { type TargetResult, targetResults } from './targets.js';

const DAYS = 7;

export async function runSimulate(
  io: Io,
  rigPath: string,
  tripPath: string | undefined,
  options: SimulateOptions,
): Promise<number> {
  refuseContradictions(tripPath, options);
  const { json = false, force = false, quiet = false } = options;
  const inputs = [rigPath, tripPath, options.weather].filter((path) => path !== undefined);
  const sink = await io.claim(options.out ?? '-', { force, inputs });
  const traceSink = options.trace === undefined ? undefined : await io.claim(options.trace, { force, inputs });
  if (json && traceSink === 'stdout' && sink === 'stdout')
    throw new InputError('--json and --trace - would both fill standard output; give one of them a file');
  if (
    sink !== 'stdout' &&
    traceSink !== undefined &&
    traceSink !== 'stdout' &&
    sink.realPath === traceSink.realPath &&
    !sink.isDevice
  )
    throw new InputError('--out and --trace name the same file');

  const set = [
    ...(options.set ?? []),
    ...(tripPath !== undefined && options.from ? [`stops[0].from=${options.from}`] : []),
  ];
  const loaded = await loadRig(io, rigPath, tripPath, set);
  const { rig } = loaded;
  const trip = tripFor(io, loaded.trip, options);
  const weatherFile = trip.weather.kind === 'file' ? await readWeatherText(io, trip.weather.path) : undefined;
  const run = simulate(rig, trip, {
    ...(weatherFile && {
      weatherFile: {
        name: weatherFile.file,
        text: weatherFile.text,
        ...(options.column && { columns: options.column }),
      },
    }),
    ...(options.step !== undefined && { stepH: options.step }),
    ...(options.seed !== undefined && { seed: options.seed }),
  });
  const findings = checkRig(rig);
  const targets = targetResults(run, options);

  if (traceSink !== undefined)
    await io.write(traceSink, traceCsv(run), { quiet, what: counted(run.trace.grid.steps, 'row') });
  if (!(traceSink === 'stdout' && sink === 'stdout'))
    await deliver(io, sink, options, {
      json: () => jsonText(simulateDocument(rig, trip, run, findings, targets)),
      text: (shownBy) =>
        simulateText(
          { rig, trip, run, findings, targets, quiet, assumed: assumptions(io, tripPath, options) },
          shownBy,
        ),
    });
  // In the text they are part of the result; where a person does not read it, they must still be seen.
  if (json || sink !== 'stdout' || traceSink === 'stdout')
    for (const { path, text } of findings.filter(isDanger))
      io.tell(`${io.errStyle.red('danger')}: ${oneLine(`${path}: ${text}`)}`);
  for (const target of targets) if (!target.met) io.tell(io.errStyle.red(`target missed: ${target.text}`));
  return targets.every(({ met }) => met) ? EXIT.done : EXIT.targetMissed;
}

function refuseContradictions(tripPath: string | undefined, options: SimulateOptions): void {
  const isSomewhere = options.at !== undefined || options.place !== undefined;
  if (tripPath === undefined && !isSomewhere)
    throw new InputError(
      'where does the rig stand? Add a trip file, or --place NAME, or --at LAT,LON such as --at 41.7,-8.8',
    );
  if (tripPath !== undefined && (isSomewhere || options.days !== undefined))
    throw new InputError('the trip file says where and how long; leave it out, or leave out --at, --place and --days');
  if (options.weather === '') throw new InputError('--weather is clear, climate, dull, or the name of a weather file');
}

function tripFor(io: Io, fromFile: Trip | undefined, options: SimulateOptions): Trip {
  const { weather, startSoc } = options;
  const changes = {
    ...(weather !== undefined && { weather: weatherChoice(weather) }),
    ...(startSoc !== undefined && { startSoc }),
  };
  if (fromFile) return { ...fromFile, ...changes };
  return withoutTrip({
    ...(options.at ? { at: options.at } : { place: options.place! }),
    from: options.from ?? io.today(),
    days: options.days ?? DAYS,
    ...changes,
  });
}

function weatherChoice(text: string): Trip['weather'] {
  return text === 'clear' || text === 'climate' || text === 'dull' ? { kind: text } : { kind: 'file', path: text };
}

/** What the call left open and how it was taken, so that nobody takes it for granted. */
function assumptions(io: Io, tripPath: string | undefined, options: SimulateOptions): string[] {
  if (tripPath !== undefined) return [];
  return [
    ...(options.from === undefined ? [`from today, ${io.today()} (--from DATE)`] : []),
    ...(options.days === undefined ? [`for ${DAYS} days (--days N)`] : []),
  ];
}

function simulateDocument(
  rig: Rig,
  trip: Trip,
  run: Run,
  findings: readonly Finding[],
  targets: readonly TargetResult[],
): unknown {
  const { conditions, warnings, summary, daily, loads, trace } = run;
  return {
    command: 'simulate',
    rig: rig.name,
    trip: trip.name,
    weather: trip.weather,
    stepH: trace.grid.stepH,
    places: conditions.itinerary.legs.map(({ place }) => place),
    warnings,
    notes: conditions.notes,
    findings,
    ...(targets.length > 0 && { targets }),
    summary,
    daily,
    loads,
  };
}
