import { readRig } from '@stayput/core';
import { expect, test } from 'vitest';
import { snowRemark } from '../../packages/cli/src/show/stay-words.js';

const rigOf = (snow: string, solar = '{ name: roof, power: 100 W }') =>
  readRig(`battery: { chemistry: LFP, capacity: 100 Ah }
solar: [${solar}]
${snow}
loads: [{ name: lamp, power: 5 W }]`).rig;
const GROUND = 'snow: { ground: [80 %, 60 %, 0 %, 0 %, 0 %, 0 %, 0 %, 0 %, 0 %, 0 %, 0 %, 40 %] }';

test('stay and yield say in which months snow lies, and what it costs each array', () => {
  // three quarters of it stay on a flat panel: 0.75 of 80 %
  expect(snowRemark(rigOf(GROUND))).toEqual([
    expect.stringMatching(/on the ground in Dec to Feb.*up to 60 % of a month's light to roof; sweep it off/),
  ]);
  // one that is set up on the ground is cleared by hand
  expect(snowRemark(rigOf(GROUND, '{ name: mat, power: 100 W, mount: ground }'))).toEqual([
    expect.stringMatching(/on the panels it costs nothing$/),
  ]);
  expect(snowRemark(rigOf(''))).toEqual([]);
});
