import { type Rig, readRig, readTrip, simulate } from '@stayput/core';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { assemble } from '../../packages/core/src/simulate/inputs/assemble.js';
import { conditionsFor } from '../../packages/core/src/simulate/inputs/conditions.js';
import { CONVERTER, loopOutput, loopState, runLoop } from '../../packages/core/src/simulate/loop/loop.js';
import { rigText, tripText } from './random-rig.js';

const rigOf = (text: string): Rig => readRig(text).rig;

test('no charger exceeds its rating, and two in one box not theirs together', () => {
  fc.assert(
    fc.property(rigText, tripText, (rig, trip) => {
      const conditions = conditionsFor(rigOf(rig), readTrip(trip).trip, {});
      const { input } = assemble(rigOf(rig), conditions, 0.6);
      const out = loopOutput(input.steps, input);
      runLoop(input, out, loopState(input));
      for (let at = 0; at < input.chargers * input.steps; at++) {
        const share = input.chargerShare[at]!;
        // A step that is split has more than one voltage; the mean power bounds the mean current at the highest of them.
        if (out.onShare[at % input.steps] !== 1) continue;
        const amps = out.chargerBusW[at]! / out.busV[at % input.steps]!;
        expect(amps).toBeLessThanOrEqual(share * input.limitA[at]! * (1 + 1e-9));
        if (input.chargerKind[Math.floor(at / input.steps)] === CONVERTER)
          expect(out.chargerW[at]!).toBeLessThanOrEqual(share * input.drive[at]! * (1 + 1e-9));
      }
    }),
    { numRuns: 60 },
  );
}, 120_000);

test('an LFP battery without a heater takes no charge below 0 °C', () => {
  const cold = tripText.map((text) => {
    const trip = JSON.parse(text);
    for (const stop of trip.stops) stop.at = [62, stop.at[1]];
    trip.stops[0].from = '2026-01-15';
    return JSON.stringify(trip);
  });
  fc.assert(
    fc.property(rigText, cold, (text, trip) => {
      const rig = JSON.parse(text);
      rig.battery.chemistry = 'LFP';
      rig.battery.stands = 'outside';
      const { trace } = simulate(rigOf(JSON.stringify(rig)), readTrip(trip).trip);
      for (let i = 0; i < trace.batteryC.length; i++)
        if (trace.batteryC[i]! < 0) expect(trace.batteryA[i]!).toBeLessThanOrEqual(1e-5);
    }),
    { numRuns: 40 },
  );
}, 120_000);

/**
 * A bigger battery is worth more only where it can be compared: with the same share of it full at the start, no charge
 * on the way (else it also has more to win back before the loads return) and no fridge that runs longer on it.
 */
test('in the dark a bigger battery never has more hours off', () => {
  fc.assert(
    fc.property(rigText, tripText, fc.double({ min: 1, max: 4, noNaN: true }), (text, trip, times) => {
      const hoursOff = (scale: number) => {
        const rig = JSON.parse(text);
        rig.battery.capacity = `${Number.parseFloat(rig.battery.capacity) * scale} Ah`;
        rig.loads = rig.loads.filter((load: { kind?: string }) => load.kind !== 'fridge');
        return simulate(
          rigOf(JSON.stringify({ ...rig, solar: [], alternator: undefined, mains: undefined })),
          readTrip(trip).trip,
        ).summary.hoursOff;
      };
      expect(hoursOff(times)).toBeLessThanOrEqual(hoursOff(1) + 1e-6);
    }),
    { numRuns: 60 },
  );
}, 120_000);

// With a disconnect above empty, and loads that the battery can carry there. Run down to nothing, a load returns as often
// as the bound charge or the sun has won a twentieth back, which can be within two steps.
test('under the same sky each step, the loads do not come and go from step to step', () => {
  const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
  const chemistry = fc.constantFrom('LFP', 'AGM', 'flooded');
  const cut = fc.constantFrom({ disconnect: '20 %', reconnect: '25 %' }, { disconnect: '11.8 V', reconnect: '12.9 V' });
  fc.assert(
    fc.property(
      chemistry,
      cut,
      real(80, 200),
      real(20, 300),
      real(0, 120),
      real(0.02, 1),
      (kind, levels, ah, loadW, sunW, soc) => {
        const rig = {
          battery: { chemistry: kind, capacity: `${ah} Ah`, ...levels },
          solar: [{ name: 'roof', power: '100 W' }],
          loads: [{ name: 'load', power: `${loadW} W` }],
        };
        const trip = JSON.stringify({
          name: 'still',
          weather: 'dull',
          stops: [{ at: [0, 20], from: '2026-03-10', nights: 3 }],
        });
        const ready = rigOf(JSON.stringify(rig));
        const { input } = assemble(ready, conditionsFor(ready, readTrip(trip).trip, {}), soc);
        const still = { ...input, drive: input.drive.map(() => sunW), limitA: input.limitA.map(() => 50) };
        for (const name of [
          'resistanceFactor',
          'chargeFactor',
          'wellShare',
          'wellPerH',
          'selfDischargeA',
          'chargeLimitA',
        ] as const)
          still[name] = input[name].map(() => input[name][0]!);
        const out = loopOutput(still.steps, still);
        runLoop(still, out, loopState(still));
        // Each return must last: it is followed by a whole step on, or by an hour off at least.
        let offFor = Infinity;
        for (let i = 1; i < still.steps; i++) {
          const wasOn = out.onShare[i - 1]! > 0;
          const isOn = out.onShare[i]! > 0;
          if (!isOn) offFor = wasOn ? 1 : offFor + 1;
          else if (!wasOn) expect(offFor, `back at step ${i}`).toBeGreaterThanOrEqual(2);
        }
        const partial = out.onShare.filter((share) => share > 0 && share < 1).length;
        expect(partial).toBeLessThanOrEqual(still.steps / 4);
      },
    ),
    { numRuns: 150 },
  );
}, 120_000);
