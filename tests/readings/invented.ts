import { drawOf } from '../../packages/core/src/log/readings/prior.js';
import { isFull, LEAD_DAYS, type Shown, VehicleRuns } from '../../packages/core/src/log/readings/vehicle-runs.js';
import { normal, seededStream, Z90 } from '../../packages/core/src/math/index.js';
import { AS_WRITTEN, calibrateReadings, type Told, VEHICLE_KEYS, vehicleOf } from '../../packages/core/src/model.js';
import { addDays } from '../../packages/core/src/place/index.js';
import { type Readings, readRig } from '../../packages/core/src/rig/index.js';

/** What is read of an invented vehicle. */
export const KINDS = ['totals', 'daily rows', 'five readings'] as const;
export type Kind = (typeof KINDS)[number];

/** Value by value: how many of the 90 % intervals held the truth, and how wide they were, before = 1. */
export interface Judged {
  readonly vehicles: number;
  readonly held: Readonly<Record<Told['name'], number>>;
  readonly width: Readonly<Record<Told['name'], number>>;
  /** which further reading would have told most, and of how many vehicles */
  readonly next: Readonly<Record<string, number>>;
}

const DAYS = 60;
const RIGS = [
  `
battery: { chemistry: LFP, capacity: 60 Ah }
solar: [{ power: 110 W, mount: bonded }]
loads:
  - { name: fridge, kind: fridge, volume: 30 L, setpoint: 5 degC }
  - { name: lights, power: 8 W, when: sunset to 22:30 }`,
  `
battery: { chemistry: AGM, capacity: 95 Ah }
solar: [{ power: 100 W, controller: { kind: PWM, current: 10 A } }]
loads:
  - { name: fridge, kind: fridge, volume: 30 L, setpoint: 6 degC }
  - { name: radio, power: 6 W, when: "08:00 to 22:00" }`,
].map((text) => readRig(text).rig);
const STOPS = [{ place: 'Porto' }, { at: { latDeg: 43.3, lonDeg: -8.3 } }, { at: { latDeg: 47.6, lonDeg: 8.2 } }];
const FROMS = ['2026-03-10', '2026-05-01', '2026-08-20'];

/**
 * Vehicles invented from what a vehicle may be, each followed by itself in weather of its own; calibrate sees what a display would have
 * shown of it, with a display's errors, and nothing else.
 */
export async function judged(kind: Kind, vehicles: number): Promise<Judged> {
  const none = () =>
    Object.fromEntries([...VEHICLE_KEYS, 'loadWhPerDay', 'solarWhPerDay'].map((name) => [name, 0])) as Record<
      Told['name'],
      number
    >;
  const [held, width] = [none(), none()];
  const next: Record<string, number> = {};
  for (let k = 0; k < vehicles; k++) {
    // a runner of tests waits a minute at most to hear of one
    await new Promise((resolve) => setTimeout(resolve));
    const { told, truth } = oneOf(kind, k);
    for (const { name, after, width: share } of told.told) {
      const value = truth[name]!;
      if (value >= after.low && value <= after.high) held[name]++;
      width[name] += share / vehicles;
    }
    const best = told.next[0]!.what;
    next[best] = (next[best] ?? 0) + 1;
  }
  return { vehicles, held, width, next };
}

function oneOf(kind: Kind, k: number) {
  const rig = RIGS[k % RIGS.length]!;
  const stop = STOPS[k % STOPS.length]!;
  const from = FROMS[Math.floor(k / 6) % FROMS.length]!;
  const stream = seededStream(5000 + k);
  const vehicle = drawOf(
    rig,
    VEHICLE_KEYS.map(() => normal(stream)),
  );
  // by none of the short cuts that calibrate takes between vehicles
  const runs = new VehicleRuns(vehicleOf(rig, vehicle), stop, addDays(from, -LEAD_DAYS), DAYS + LEAD_DAYS, 900 + k);
  const shown = runs.shown(AS_WRITTEN, k % 5);
  const days = (pick: (one: Shown) => Float64Array) => [...pick(shown).subarray(LEAD_DAYS)];
  const sum = (all: number[]) => all.reduce((a, b) => a + b, 0);
  const truth: Record<string, number> = {
    ...vehicle,
    loadWhPerDay: sum(days((one) => one.usedWh)) / DAYS,
    solarWhPerDay: sum(days((one) => one.solarWh)) / DAYS,
  };
  const counterOff = () => 0.03 * normal(stream);
  const within = (soc: number) => Math.min(1, Math.max(0, soc));
  // A display is off by so much all the time, as far as it is trusted: 5 % of totals 9 times in 10, 3 % of rows as one standard deviation.
  const gain = 1 + (kind === 'totals' ? 0.05 / Z90 : 0.03) * normal(stream);
  const solar = (wh: number) => ({ kind: 'energy', wh: wh * gain }) as const;
  const readings: Record<Kind, () => Readings> = {
    totals: () => ({
      totals: [
        {
          from,
          days: DAYS,
          solar: solar(sum(days((one) => one.solarWh))),
          full: days((one) => one.highest).filter(isFull).length,
          empty: sum(days((one) => one.cuts)),
          trust: 0.05,
        },
      ],
      days: [],
      moments: [],
    }),
    'daily rows': () => ({
      totals: [],
      days: days((one) => one.solarWh).map((wh, d) => ({
        date: addDays(from, d),
        solar: solar(wh),
        lowest: within(shown.lowest[LEAD_DAYS + d]!),
        highest: within(shown.highest[LEAD_DAYS + d]!),
      })),
      moments: [],
    }),
    'five readings': () => ({
      totals: [],
      days: [],
      moments: [3, 14, 26, 41, 55].map((d, n) => {
        const hour = n % 2 === 0 ? 7 : 18;
        return { date: addDays(from, d), hour, soc: within(shown.soc[24 * (LEAD_DAYS + d) + hour]! + counterOff()) };
      }),
    }),
  };
  return { told: calibrateReadings(rig, readings[kind](), stop, { members: 200, seed: k }), truth };
}
