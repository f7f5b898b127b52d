import { CABIN_WIRE_C, circuits, ENGINE_WIRE_C, parseQuantity, QuantityError, WIRE_CAUTIONS } from '@stayput/core';
import { EXIT, InputError } from '../failure.js';
import type { Io } from '../io.js';
import { jsonText } from '../show/json.js';
import { oneLine } from '../show/style.js';
import { notOk, wiresText } from '../show/wires-text.js';
import { deliver } from './deliver.js';
import { loadRig } from './load-rig.js';
import type { WiresOptions } from './wires.js';

export async function runWires(io: Io, rigPath: string, options: WiresOptions): Promise<number> {
  const { json = false, quiet = false, allOk = false } = options;
  const air = {
    cabinC: airC('--air', options.air) ?? CABIN_WIRE_C,
    engineC: airC('--engine-air', options.engineAir) ?? ENGINE_WIRE_C,
  };
  const sink = await io.claim(options.out ?? '-', { force: options.force ?? false, inputs: [rigPath] });
  const { rig } = await loadRig(io, rigPath, undefined, options.set ?? []);
  const judged = circuits(rig, air);
  const missed = allOk ? notOk(judged) : undefined;

  await deliver(io, sink, options, {
    json: () =>
      jsonText({
        command: 'wires',
        rig: rig.name,
        warnings: judged
          .filter(({ level }) => level === 'danger' || level === 'caution')
          .map(({ level, name, text }) => ({ code: level, component: name, text })),
        air,
        ...(allOk && { targets: [{ target: 'all-ok', met: missed === undefined, text: missed ?? 'all ok' }] }),
        circuits: judged,
        cautions: WIRE_CAUTIONS,
      }),
    text: (shownBy) => wiresText({ rig, circuits: judged, air, ...(missed && { missed }), quiet }, shownBy),
  });
  // Where standard output holds no text for people, what can burn must still be seen.
  if (json || sink !== 'stdout') {
    for (const { level, name, text } of judged)
      if (level === 'danger') io.tell(`${io.errStyle.red('danger')}: ${oneLine(`${name}: ${text}`)}`);
    if (missed) io.tell(io.errStyle.red(`target missed: ${missed}`));
  }
  return missed === undefined ? EXIT.done : EXIT.targetMissed;
}

/** Air that cables meet: core's own bounds, said as the option's. */
function airC(option: string, text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  try {
    const temperatureC = parseQuantity(text, 'temperature');
    if (temperatureC >= -40 && temperatureC <= 60) return temperatureC;
  } catch (error) {
    if (!(error instanceof QuantityError)) throw error;
    throw new InputError(`${option}: ${error.message}${error.hint ? ` (${error.hint})` : ''}`);
  }
  throw new InputError(`${option} is ${text}; give air from -40 degC to 60 degC`);
}
