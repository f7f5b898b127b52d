import { circuits, controllerFindings, parseQuantity, QuantityError, WIRE_CAUTIONS } from '@stayput/core';
import { CABIN_WIRE_C, ENGINE_WIRE_C, ROOF_WIRE_C } from '@stayput/core/model';
import { EXIT, InputError } from '../failure.js';
import type { Io } from '../io.js';
import { wiresPicture } from '../show/charts/wires-picture.js';
import { jsonText } from '../show/json.js';
import { wiresPage } from '../show/page/wires-page.js';
import { notOk, type Wires, wiresFindings, wiresText } from '../show/wires-text.js';
import { circuitText } from '../words/circuit-words.js';
import { shownFinding } from '../words/finding-words.js';
import { claimOutputs } from './claim-outputs.js';
import { deliver, tellDangers } from './deliver.js';
import type { WiresOptions } from './given.js';
import { loadRig } from './load-rig.js';
import { deliverPictures } from './pictures.js';

export async function runWires(io: Io, rigPath: string, options: WiresOptions): Promise<number> {
  const { json = false, quiet = false, allOk = false } = options;
  const air = {
    cabinC: airC('--air', options.air) ?? CABIN_WIRE_C,
    engineC: airC('--engine-air', options.engineAir) ?? ENGINE_WIRE_C,
    roofC: airC('--roof-air', options.roofAir, 90) ?? ROOF_WIRE_C,
  };
  const { result, beside, isTaken } = await claimOutputs(
    io,
    options,
    { '--plot': options.plot, '--report': options.report },
    [rigPath],
  );
  const { rig } = await loadRig(io, rigPath, undefined, options.set ?? []);
  const judged = circuits(rig, air);
  const missed = allOk ? notOk({ rig, circuits: judged }) : undefined;
  const wires: Wires = { rig, circuits: judged, air, ...(missed && { missed }), quiet };
  const picture = options.plot === undefined ? undefined : wiresPicture(wires);
  if (options.plot !== undefined && picture === undefined)
    throw new InputError('--plot draws what cables lose, and no circuit of this rig has a cable given');

  await deliverPictures(io, beside, quiet, { plot: () => picture!, page: () => wiresPage(wires) });
  if (!isTaken)
    await deliver(io, result, options, {
      json: () =>
        jsonText({
          ...wiresDocument(wires),
          ...(allOk && { targets: [{ target: 'all-ok', met: missed === undefined, text: missed ?? 'all ok' }] }),
        }),
      text: (shownBy) => wiresText(wires, shownBy),
    });
  // Where standard output holds no text for people, what can burn must still be seen.
  if (json || isTaken || result !== 'stdout') {
    tellDangers(io, wiresFindings(wires, ['danger']));
    if (missed) io.tell(io.errStyle.red(`target missed: ${missed}`));
  }
  return missed === undefined ? EXIT.done : EXIT.targetMissed;
}

export function wiresDocument(wires: Wires): object {
  const { rig, circuits, air } = wires;
  return {
    command: 'wires',
    rig: rig.name,
    warnings: wiresFindings(wires, ['danger', 'caution']).map(({ path, ...finding }) => ({
      component: path,
      ...finding,
    })),
    air,
    circuits: circuits.map((circuit) => ({ ...circuit, text: circuitText(circuit) })),
    controllers: controllerFindings(rig).map(shownFinding),
    cautions: WIRE_CAUTIONS,
  };
}

/** Air that cables meet: core's own bounds, said as the option's. */
function airC(option: string, text: string | undefined, maxC = 60): number | undefined {
  if (text === undefined) return undefined;
  try {
    const temperatureC = parseQuantity(text, 'temperature');
    if (temperatureC >= -40 && temperatureC <= maxC) return temperatureC;
  } catch (error) {
    if (!(error instanceof QuantityError)) throw error;
    throw new InputError(`${option}: ${error.message}${error.hint ? ` (${error.hint})` : ''}`);
  }
  throw new InputError(`${option} is ${text}; give air from -40 degC to ${maxC} degC`);
}
