import { expect, test } from 'vitest';
import { readRig } from '../../../packages/core/src/rig/index.js';
import { checkRig } from '../../../packages/core/src/simulate/index.js';
import { circuits, relayCurrent } from '../../../packages/core/src/wire/index.js';
import { runOn } from '../../published/bench.js';

const rigText = (chemistry: string, relay: string, battery = '', alternator = '') => `
battery: { chemistry: ${chemistry}, capacity: 100 Ah, disconnect: 0 %, reconnect: 99 %${battery} }
alternator: { rating: 300 A, vehicle: 0 A, hotShare: 100 %${alternator}, charger: { kind: relay, resistance: ${relay} } }
`;
const rigOf = (text: string) => readRig(`${text}loads: [{ name: lamp, power: 0 W }]\n`).rig;

test.each([
  ['AGM', '2 mohm'],
  ['AGM', '30 mohm'],
  ['flooded', '10 mohm'],
  ['gel', '20 mohm'],
])('the largest current is the same in the run, in the wires and in what check says: %s, %s', (chemistry, relay) => {
  const text = rigText(chemistry, relay, ', maxCharge: 10 A');
  const rig = rigOf(text);
  const { currentA } = relayCurrent(rig)!;
  const inRun = Math.max(
    ...[0.01, 0.3, 0.6].map((soc) => runOn(text, { stepH: 1 / 60, driving: 1 }, soc).trace.batteryA[0]!),
  );
  expect(Math.abs(inRun / currentA - 1)).toBeLessThan(0.04); // a minute fills it a little
  expect(circuits(rig).find(({ name }) => name === 'alternator charger')!.currentA).toBeCloseTo(currentA, 6);
  const found = checkRig(rig).find(({ code }) => code === 'relay_above_battery')!;
  expect(found.args).toMatchObject({ currentA, maxChargeA: 10 });
});

test('a flat lead-acid battery through 25 mohm takes 30 to 80 A at first (common practice, no source)', () => {
  const { currentA } = relayCurrent(rigOf(rigText('AGM', '25 mohm')))!;
  expect(currentA).toBeGreaterThan(30);
  expect(currentA).toBeLessThan(80);
});

test('neither more than the alternator has left, nor than 1 C of LFP', () => {
  expect(
    relayCurrent(rigOf(rigText('AGM', '0 mohm', '', ', rating: 60 A').replace('rating: 300 A, ', '')))!.currentA,
  ).toBe(60);
  expect(relayCurrent(rigOf(rigText('LFP', '0 mohm')))!.currentA).toBe(100);
  expect(relayCurrent(rigOf('battery: { chemistry: LFP, capacity: 100 Ah }\n'))).toBeUndefined();
});
