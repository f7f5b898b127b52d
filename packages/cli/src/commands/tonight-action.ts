import { type Rig, readTonight, type TonightStudy, tonightStudyAsync, withoutTrip } from '@stayput/core';
import { EXIT, InputError } from '../failure.js';
import type { Io } from '../io.js';
import { tonightPicture } from '../show/charts/tonight-picture.js';
import { jsonText } from '../show/json.js';
import { tonightPage } from '../show/page/tonight-page.js';
import { type Tonight, tonightText } from '../show/tonight-text.js';
import { rigFindings } from '../words/finding-words.js';
import { tonightFindingText, tonightTarget } from '../words/tonight-words.js';
import { claimOutputs } from './claim-outputs.js';
import { deliver, tellDangers } from './deliver.js';
import { withEnsemble } from './ensemble-from.js';
import type { TonightCommandOptions } from './given.js';
import { loadRig } from './load-rig.js';
import { deliverPictures } from './pictures.js';
import { refuseNowhere } from './where.js';

export async function runTonight(io: Io, rigPath: string, options: TonightCommandOptions): Promise<number> {
  const { at, place, quiet = false, json = false, soc, volts, sky, days, neverBelow, chance, seed } = options;
  refuseNowhere(undefined, { ...(at !== undefined && { at }), ...(place !== undefined && { place }) });
  if (soc === undefined && volts === undefined)
    throw new InputError(
      'what does the battery show? Add --soc 43, or --volts "12.9 V" with --amps "-2 A" (0 = rested)',
    );
  if (sky !== undefined && days !== undefined)
    throw new InputError('--sky says how many days; leave it out, or leave out --days');
  const { rig: written } = await loadRig(io, rigPath, undefined, options.set ?? []);
  const { result, beside, isTaken } = await claimOutputs(
    io,
    options,
    { '--plot': options.plot, '--report': options.report },
    [rigPath, options.ensemble],
  );
  const rig = await withEnsemble(io, written, options.ensemble);
  const [stop] = withoutTrip({
    ...(at !== undefined && { at }),
    ...(place !== undefined && { place }),
    from: io.today(),
    days: 1,
  }).stops;
  const { now, amps, drive, mains, use } = options;
  const plan = readTonight(
    {
      ...(now !== undefined && { now }),
      ...(soc !== undefined && { soc }),
      ...(volts !== undefined && { volts }),
      ...(amps !== undefined && { amps }),
      ...(sky !== undefined && { sky }),
      ...(drive && { drive }),
      ...(mains && { mains }),
      ...(use && { use }),
    },
    rig,
    stop!,
    io.nowMs(),
  );
  const study = await tonightStudyAsync(rig, stop!, {
    ...plan,
    ...(days !== undefined && { days }),
    ...(neverBelow !== undefined && { neverBelow }),
    ...(chance !== undefined && { chance }),
    ...(seed !== undefined && { seed }),
  });
  const target = neverBelow === undefined ? undefined : tonightTarget(study);
  const findings = rigFindings(rig);
  const shown: Tonight = {
    rig,
    study,
    findings,
    quiet,
    ...(target && { target }),
    ...(now === undefined || !/\d{4}-/.test(now) ? { taken: true } : {}),
  };
  await deliverPictures(io, beside, quiet, {
    plot: () => tonightPicture(rig, study),
    page: () => tonightPage(shown),
  });
  if (!isTaken)
    await deliver(io, result, options, {
      json: () => jsonText(tonightDocument(rig, study, findings, target)),
      text: (shownBy) => tonightText(shown, shownBy),
    });
  if (json || isTaken || result !== 'stdout') {
    tellDangers(io, findings);
    if (target && !target.met) io.tell(io.errStyle.red(`target missed: ${target.text}`));
  }
  return target === undefined || target.met ? EXIT.done : EXIT.targetMissed;
}

function tonightDocument(
  rig: Rig,
  study: TonightStudy,
  findings: unknown,
  target: ReturnType<typeof tonightTarget> | undefined,
): object {
  const { findings: remarks, band, ...rest } = study;
  return {
    command: 'tonight',
    rig: rig.name,
    warnings: remarks.map((finding) => ({ ...finding, text: tonightFindingText(finding) })),
    findings,
    ...(target && { targets: [target] }),
    ...rest,
    band,
  };
}
