import { dirname, join } from 'node:path';
import { type StarterOptions, starterRig, starterTrip } from '@stayput/core';
import { EXIT, InputError } from '../failure.js';
import { readSchema, type SchemaKind, schemaFile, schemaNear } from '../files/editor-schema.js';
import type { Io, Sink } from '../io.js';
import type { NewOptions } from './given.js';
import { type StarterPlace, starterPlace } from './starter-place.js';
import { starterValue } from './starter-values.js';

/** Any of these answers a question: then none is asked. */
const ANSWERS = ['chemistry', 'capacity', 'solar', 'fridge', 'place', 'at'] as const;

export async function runNew(io: Io, options: NewOptions): Promise<number> {
  const { out = '-', force = false, quiet = false, trip: tripPath, schema: isWanted = false } = options;
  const claim = (path: string) => io.claim(path, { force, inputs: [] });
  const sink = await claim(out);
  const tripSink = tripPath === undefined ? undefined : await claim(tripPath);
  refuseSameFile(sink, tripSink);
  const schemas = isWanted ? await claimSchemas(io, sink, tripSink, force) : [];
  const wanted = starterOptions(options);
  let place = starterPlace(options);

  let answers: StarterOptions = wanted;
  if (io.dialogue && options.input && ANSWERS.every((name) => options[name] === undefined)) {
    const { askForRig } = await import('./new-questions.js');
    const asked = await askForRig(io.dialogue);
    if (!asked) return EXIT.stopped;
    answers = { ...wanted, ...asked };
    place = starterPlace(asked);
  }
  if (tripSink !== undefined && place === undefined)
    throw new InputError('--trip needs to know where: add --place NAME, or --at LAT,LON such as --at 41.7,-8.8');

  await io.write(
    sink,
    starterRig({
      ...answers,
      schema: await modeline(sink, 'rig', isWanted),
      ...(place && { coldestC: place.coldestC }),
    }),
    { quiet },
  );
  if (tripSink !== undefined && place !== undefined) {
    const schema = await modeline(tripSink, 'trip', isWanted);
    const trip = starterTrip({ where: place.where, from: io.today(), ...(schema !== false && { schema }) });
    await io.write(tripSink, trip, { quiet });
  }
  for (const { kind, target } of schemas) await io.write(target, await readSchema(kind), { quiet });
  if (sink !== 'stdout' && !quiet) for (const line of nextSteps(sink.path, tripPath, place)) io.tell(line);
  return EXIT.done;
}

function starterOptions({ name, chemistry, capacity, solar, fridge }: NewOptions): StarterOptions {
  const read = (option: 'capacity' | 'solar' | 'fridge', text: string): number => {
    const value = starterValue(option, text, false);
    if (typeof value === 'string') throw new InputError(`--${option}: ${value}`);
    return value;
  };
  return {
    ...(name !== undefined && { name }),
    ...(chemistry !== undefined && { chemistry }),
    ...(capacity !== undefined && { capacityAh: read('capacity', capacity) }),
    ...(solar !== undefined && { solarW: read('solar', solar) }),
    ...(fridge !== undefined && { fridgeL: read('fridge', fridge) }),
  };
}

function refuseSameFile(rig: Sink, trip: Sink | undefined): void {
  if (trip === undefined) return;
  if (rig === 'stdout' && trip === 'stdout')
    throw new InputError('rig and trip would both fill standard output; give one of them a file');
  if (rig !== 'stdout' && trip !== 'stdout' && !rig.isDevice && rig.realPath === trip.realPath)
    throw new InputError('--out and --trip name the same file');
}

/** Schemas stand beside the files that name them. */
async function claimSchemas(io: Io, rig: Sink, trip: Sink | undefined, force: boolean) {
  const beside = (kind: SchemaKind, sink: Sink | undefined) =>
    sink === undefined || sink === 'stdout' ? [] : [{ kind, path: join(dirname(sink.path), schemaFile(kind)) }];
  const files = [...beside('rig', rig), ...beside('trip', trip)];
  if (files.length === 0) throw new InputError('--schema writes beside the rig: name its file with --out');
  return Promise.all(
    files.map(async ({ kind, path }) => ({ kind, target: await io.claim(path, { force, inputs: [] }) })),
  );
}

/** Where the file's first line sends an editor. A rig that is printed is taken to be for the folder one is in. */
async function modeline(sink: Sink, kind: SchemaKind, isBeside: boolean): Promise<string | false> {
  if (isBeside && sink !== 'stdout') return `./${schemaFile(kind)}`;
  return (await schemaNear(sink === 'stdout' ? '.' : dirname(sink.path), kind)) ?? false;
}

function nextSteps(rigPath: string, tripPath: string | undefined, place: StarterPlace | undefined): string[] {
  const where = tripPath !== undefined && tripPath !== '-' ? tripPath : place?.option;
  return [
    `next: stayput check ${rigPath}`,
    ...(where === undefined ? [] : [`then: stayput simulate ${rigPath} ${where}`]),
  ];
}
