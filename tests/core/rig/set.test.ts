import { expect, test } from 'vitest';
import { readRig, readTrip } from '../../../packages/core/src/rig/index.js';
import { issuesFrom } from './issues-from.js';
import { HERON, NORTH_WEST } from './section-files.js';

const rigWith = (...set: string[]) => readRig(HERON, { set }).rig;

test('values are put in by path, by name or by index', () => {
  expect(rigWith('battery.capacity=200 Ah').battery.capacityAh).toBe(200);
  expect(rigWith('loads.fridge.setpoint=6 degC').loads[0]).toMatchObject({ setpointC: 6 });
  expect(rigWith('loads[1].power=5 W').loads[1]).toMatchObject({ draw: { powerW: 5 } });
  expect(rigWith('loads.always on.current=0.3 A').loads[5]).toMatchObject({ draw: { currentA: 0.3 } });
  expect(rigWith('loads.lights.when=sunrise to sunset').loads[1]).toMatchObject({
    when: [{ from: { kind: 'sunrise' } }],
  });
  expect(rigWith('loads.fan.power=2 * (cabin > 20)').loads[4]).toMatchObject({ draw: { kind: 'expression' } });
  expect(rigWith('solar.roof.losses.soiling=10 %').solar[0]!.losses.soiling).toBe(0.1);
  expect(rigWith('battery.count=2', 'battery.count=3').battery.count).toBe(3);
  expect(readTrip(NORTH_WEST, { set: ['stops[1].nights=9', 'weather=dull'] }).trip).toMatchObject({
    weather: { kind: 'dull' },
    stops: [{}, { nights: 9 }, {}],
  });
});

test('a part that the file does not have is added', () => {
  expect(rigWith('battery.health=80 %').battery.health).toBe(0.8);
  expect(rigWith('mains.current=15 A').mains).toMatchObject({ currentA: 15 });
  expect(rigWith('battery.charge.float=13.6 V').battery.charge.floatV).toBe(13.6);
  expect(rigWith('cabin={ gain: 3 degC }').cabin.gainK).toBe(3);
});

test.each([
  ['battery.capcity=200 Ah', 'battery.capcity', 'did you mean capacity?'],
  ['batery.capacity=200 Ah', 'batery', 'did you mean battery?'],
  ['loads.frdge.setpoint=6 degC', 'loads.frdge.setpoint', 'did you mean loads.fridge?'],
  ['battery.capacity=200', 'battery.capacity', 'write it with its unit, such as 200 Ah'],
  ['battery.capacity=200 A', 'battery.capacity', 'did you mean 200 Ah?'],
])('%s is refused, and the setting is named', (text, path, hint) => {
  expect(issuesFrom(() => rigWith(text))).toMatchObject([{ path, hint, option: { name: 'set', value: text } }]);
});

test.each([
  '',
  '=',
  '=3',
  'battery',
  'battery.capacity',
  'loads[17].power=5 W',
  'loads[x].power=5 W',
  'name.first=a',
  '__proto__.x=1',
  'battery.__proto__.x=1',
  'battery..capacity=1 Ah',
  'battery.capacity=',
  'loads=',
  'loads[0]=5',
  'battery=[1',
])('%j is refused', (text) => {
  expect(issuesFrom(() => rigWith(text)).length).toBeGreaterThan(0);
});
