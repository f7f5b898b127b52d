import { checkRig, type Rig, type Trip, type YieldStudy, yieldStudy } from '@stayput/core';
import { EXIT } from '../failure.js';
import { readWeatherText } from '../files/read-text.js';
import type { Io } from '../io.js';
import { isDanger } from '../show/findings.js';
import { jsonText } from '../show/json.js';
import { oneLine } from '../show/style.js';
import { yieldPlot } from '../show/yield-plot.js';
import { yieldText } from '../show/yield-text.js';
import { claimOutputs } from './claim-outputs.js';
import { deliver } from './deliver.js';
import { loadRig } from './load-rig.js';
import { studyWhere } from './study-where.js';
import { refuseNowhere } from './where.js';
import type { YieldOptions } from './yield.js';

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
  const { result, beside } = await claimOutputs(
    io,
    options,
    ['--plot', options.plot],
    [rigPath, tripPath, weatherPath],
  );
  const study = await studyOf(io, rig, where, options);
  const findings = checkRig(rig);
  const warnings = trip && trip.stops.length > 1 ? [firstStopOnly(study)] : [];

  if (beside !== undefined) await io.write(beside, yieldPlot(rig.name, where.weather, study), { quiet });
  const isPlotAlone = beside === 'stdout' && result === 'stdout';
  if (!isPlotAlone)
    await deliver(io, result, options, {
      json: () => jsonText({ command: 'yield', rig: rig.name, weather: where.weather, warnings, findings, ...study }),
      text: (shownBy) => yieldText({ rig, weather: where.weather, study, findings, warnings, quiet }, shownBy),
    });
  if (json || isPlotAlone || result !== 'stdout')
    for (const { path, text } of findings.filter(isDanger))
      io.tell(`${io.errStyle.red('danger')}: ${oneLine(`${path}: ${text}`)}`);
  return EXIT.done;
}

type Where = Pick<Trip, 'weather' | 'stops'>;

async function studyOf(
  io: Io,
  rig: Rig,
  { stops, weather }: Where,
  { column, years, seed, step }: YieldOptions,
): Promise<YieldStudy> {
  const file = weather.kind === 'file' ? await readWeatherText(io, weather.path) : undefined;
  return yieldStudy(rig, stops[0]!, {
    weather,
    ...(file && { weatherFile: { name: file.file, text: file.text, ...(column && { columns: column }) } }),
    ...(years !== undefined && { years }),
    ...(seed !== undefined && { seed }),
    ...(step !== undefined && { stepH: step }),
  });
}

function firstStopOnly({ place }: YieldStudy) {
  return {
    code: 'first_stop_only',
    component: 'trip',
    text: `only the trip's first stop, ${place.name}, is looked at; name another with --place or --at instead of the trip`,
  };
}
