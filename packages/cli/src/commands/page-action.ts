import { findPlace, readParts, withoutTrip } from '@stayput/core';
import { EXIT, InputError } from '../failure.js';
import { readText, readWeather } from '../files/read-text.js';
import { shippedFile } from '../files/shipped-file.js';
import type { Io } from '../io.js';
import { rigFindings } from '../words/finding-words.js';
import { tellDangers } from './deliver.js';
import type { PageOptions } from './given.js';
import { loadRig } from './load-rig.js';

/** Where page-asset.js left room for what the page is about. */
const GIVEN_MARK = '"what the page is about"';

export async function runPage(
  io: Io,
  rigPath: string | undefined,
  tripPath: string | undefined,
  { out = '-', force = false, quiet = false, at, place, from, column, years, seed, parts: partsPath }: PageOptions,
  version: string,
): Promise<number> {
  if (tripPath !== undefined && (at ?? place ?? from) !== undefined)
    throw new InputError('the trip file says where and when; leave it out, or leave out --at, --place and --from');
  if (out === '-' && io.isWatched) throw new InputError('this is a page for a browser: add --out stay.html');
  const where = at ?? place;
  // refused here, where its owner sits, rather than on the phone
  if (place !== undefined) findPlace(place);
  if (at !== undefined) withoutTrip({ at, from: io.today(), days: 1 });
  const loaded = rigPath === undefined ? undefined : await loadRig(io, rigPath, tripPath, []);
  const weatherPath = loaded?.trip?.weather.kind === 'file' ? loaded.trip.weather.path : undefined;
  const weather = weatherPath === undefined ? undefined : await readWeather(io, weatherPath, column);
  const parts = partsPath === undefined ? undefined : await readText(io, partsPath, 'parts list');
  if (parts) readParts(parts.text, { file: parts.file });
  const inputs = [rigPath, tripPath, weatherPath, partsPath].filter((path) => path !== undefined);
  const sink = await io.claim(out, { force, inputs });
  const given = {
    version,
    ...(loaded && { rig: loaded.rigText }),
    ...(loaded?.tripText !== undefined && { trip: loaded.tripText }),
    ...(where !== undefined && { where }),
    ...(from !== undefined && { from }),
    ...(weather && { weather }),
    ...(parts && { parts: parts.text }),
    ...(years !== undefined && { years }),
    ...(seed !== undefined && { seed }),
  };
  const page = new TextDecoder().decode(await shippedFile('page.html'));
  await io.write(
    sink,
    page.replace(GIVEN_MARK, () => inScript(given)),
    { quiet },
  );
  if (loaded) tellDangers(io, rigFindings(loaded.rig, loaded.trip));
  return EXIT.done;
}

/** JSON that cannot end the element it stands in, whatever its texts hold. */
const inScript = (value: unknown) =>
  JSON.stringify(value).replace(
    /[<>&\u2028\u2029]/g,
    (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
