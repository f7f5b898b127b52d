import { type Rig, readRig, type SolarArray } from '../../../packages/core/src/rig/index.js';

const { rig } = readRig(
  JSON.stringify({
    name: 'Dunlin',
    battery: { chemistry: 'LFP', capacity: '100 Ah' },
    solar: [{ name: 'roof', power: '100 W' }],
  }),
  { file: 'invented' },
);

/** An invented rig of one 100 W array and a small battery; change what a test is about. */
export function someRig(...changes: readonly Partial<SolarArray>[]): Rig {
  const roof = rig.solar[0]!;
  return { ...rig, solar: changes.length > 0 ? changes.map((change) => ({ ...roof, ...change })) : [roof] };
}
