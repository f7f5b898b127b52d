import { expect, test } from 'vitest';
import { pathWords } from '../../packages/cli/src/words/path-words.js';

const named = {
  solar: [{ name: 'roof' }, { name: 'roof.left' }],
  loads: [{ name: 'fridge' }, { name: 'U.S.B. socket' }, { name: 'always on' }, { name: 'pump [2]' }, { name: '3' }],
} as unknown as Parameters<typeof pathWords>[1];

test.each([
  ['battery.maxCharge', 'battery max charge'],
  ['solar[0].controller.charge.absorption', 'roof controller charge absorption'],
  ['solar.roof.tilt', 'roof tilt'],
  ['solar.roof.left.tilt', 'roof.left tilt'],
  ['loads[1].power', 'U.S.B. socket power'],
  ['loads.U.S.B. socket.power', 'U.S.B. socket power'],
  ['loads."U.S.B. socket".cable.length', 'U.S.B. socket cable length'],
  ['loads["always on"].current', 'always on current'],
  ['loads[always on].current', 'always on current'],
  ['loads.pump [2].times', 'pump [2] times'],
  ['loads.3.power', '3 power'],
  ['loads[0].setpoint', 'fridge set point'],
  ['loads[7].power', 'load 8 power'],
  ['stops[1].drive', 'stop 2 drive'],
  ['loads', 'load'],
])('%s is "%s"', (path, words) => {
  expect(pathWords(path, named)).toBe(words);
});
