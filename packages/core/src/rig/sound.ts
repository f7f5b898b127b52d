import * as z from 'zod';
import { CHEMISTRY_NAMES } from './chemistry.js';
import type * as T from './types.js';

// What a rig, a trip and a parts list are, for callers whose values the compiler did not check: plain JavaScript, JSON that lost a
// value, an object of another kind. Ranges are the readers' business; here it is that nothing is taken for 0 because it is not there.

/** Names every key of a type, so that none is forgotten when a type grows. */
const shape = <Of>(keys: { readonly [Key in keyof Required<Of>]: z.ZodType }) => z.object(keys);

const number = z.number({ error: 'a number' });
/** Without a limit is Infinity, or no key. */
const limitless = z.custom<number>((value) => typeof value === 'number' && !Number.isNaN(value), { error: 'a number' });
const above0 = number.positive({ error: 'a number above 0' });
const text = z.string({ error: 'a text' });
const yesNo = z.boolean({ error: 'true or false' });
const oneOf = (...options: readonly string[]) =>
  z.enum(options as [string, ...string[]], { error: `one of ${options.join(', ')}` });
const list = (item: z.ZodType) => z.array(item, { error: 'a list' });
const perName = (what: string) => z.record(z.string(), number, { error: `a group of ${what} with a number each` });
const twelve = list(number).length(12, { error: '12 numbers' }).optional();

const range = shape<T.Range>({ low: number, high: number });
const cable = shape<T.Cable>({
  lengthM: number,
  sectionMm2: above0,
  gaugeAwg: text.optional(),
  bundled: number,
  insulationC: number,
  fuseA: number.optional(),
}).optional();
const mark = z.union(
  [z.object({ kind: z.literal('soc'), soc: number }), z.object({ kind: z.literal('voltage'), voltageV: number })],
  { error: 'a limit: kind soc with soc, or kind voltage with voltageV' },
);
const profile = shape<T.ChargeProfile>({
  absorptionV: number,
  floatV: number,
  holdH: number,
  fullBelowC: number,
  restartBelowV: number,
  perDegreeV: number,
});
const overrides = profile.partial().optional();
const battery = shape<T.Battery>({
  chemistry: oneOf(...CHEMISTRY_NAMES),
  capacityAh: above0,
  count: above0,
  series: above0,
  nominalV: above0,
  health: above0,
  floor: number,
  disconnect: mark,
  reconnect: mark,
  stands: oneOf('cabin', 'outside', 'engine bay'),
  thermalLagH: number,
  chargeMinC: limitless.optional(),
  heater: shape<T.Heater>({ powerW: number, belowC: number }).optional(),
  maxChargeA: limitless,
  maxDischargeA: limitless.optional(),
  resistanceOhm: number.optional(),
  selfDischargePerMonth: number.optional(),
  charge: profile,
  cable,
  massKg: number.optional(),
  price: number.optional(),
});
const skyline = list(shape<T.HorizonPoint>({ azimuthDeg: number, elevationDeg: number }));
const array = shape<T.SolarArray>({
  name: text,
  powerW: above0,
  count: above0,
  series: above0,
  technology: oneOf('mono', 'poly', 'thin film'),
  mount: oneOf('bonded', 'gap', 'rack', 'ground'),
  tiltDeg: number,
  azimuthDeg: number.optional(),
  cells: number.optional(),
  reaimedPerDay: number,
  losses: shape<T.SolarArray['losses']>({
    soiling: number,
    mismatch: number,
    ageing: number,
    other: number.optional(),
  }),
  soilingRange: range,
  shade: list(shape<T.ShadeWindow>({ fromH: number, toH: number, keeps: number, edge: oneOf('soft').optional() })),
  horizon: skyline,
  datasheet: shape<T.Datasheet>({
    vocV: above0,
    iscA: above0,
    vmpV: above0,
    impA: above0,
    tempPowerPerK: number,
    tempVoltagePerK: number.optional(),
    tempCurrentPerK: number.optional(),
    cells: number.optional(),
  }).optional(),
  controller: shape<T.SolarController>({
    kind: oneOf('MPPT', 'PWM'),
    currentA: above0,
    maxInputV: number.optional(),
    efficiency: above0,
    standbyW: number,
    startMarginV: number,
    charge: overrides,
  }),
  cable,
  outputCable: cable,
  massKg: number.optional(),
  price: number.optional(),
  areaM2: number.optional(),
});
const charger = z.union(
  [
    z.object({
      kind: z.literal('dcdc'),
      currentA: above0,
      efficiency: above0,
      inputCutOutV: number,
      sharedWithSolar: yesNo,
      charge: overrides,
    }),
    z.object({
      kind: z.literal('relay'),
      resistanceOhm: number,
      sensing: z.object({ joinV: number, partV: number, drawA: number }).optional(),
    }),
  ],
  { error: 'a charger: kind dcdc or relay with all its numbers' },
);
const common = { name: text, critical: yesNo, cable, surgeA: number.optional(), starterSide: yesNo };
const scheduled = shape<T.ScheduledLoad>({
  ...common,
  kind: z.literal('scheduled'),
  draw: z.union(
    [
      z.object({ kind: z.literal('power'), powerW: number }),
      z.object({ kind: z.literal('current'), currentA: number }),
      z.object({ kind: z.literal('expression'), text }),
    ],
    { error: 'a draw: kind power with powerW, current with currentA, or expression with text' },
  ),
  when: list(z.object({}, { error: 'a window of the day' })),
  hoursPerDay: number.optional(),
  timesPerDay: number.optional(),
  lastsH: number.optional(),
  everyDays: above0,
  weekdays: list(number).optional(),
  months: list(number).optional(),
  share: number,
  inverter: yesNo,
  startW: above0.optional(),
});
const fridge = shape<T.FridgeLoad>({
  ...common,
  kind: z.literal('fridge'),
  volumeL: above0,
  setpointC: number,
  secondZone: z.object({ volumeL: above0, setpointC: number }).optional(),
  rated: shape<T.RatedConsumption>({
    energyWhPerDay: above0,
    ambientC: number,
    insideC: number,
    secondInsideC: number.optional(),
    also: list(z.object({ energyWhPerDay: above0, ambientC: number })).optional(),
  }).optional(),
  insulationMm: above0.optional(),
  cover: number,
  stands: oneOf('cabin', 'outside'),
  compressorW: above0,
  cutOutV: number,
  cutInV: number,
  openingsPerDay: number,
  contentKg: number,
  warmFood: list(z.object({ massKg: number, atH: number, temperatureC: number.optional() })),
  startC: number.optional(),
  standbyW: number,
  heatLeakRange: range,
});
const months = shape<T.MonthlyClimate>({ ghiKwhM2Day: twelve, tMaxC: twelve, tMinC: twelve }).optional();
const rig = shape<T.Rig>({
  name: text,
  currency: text.optional(),
  battery,
  solar: list(array),
  alternator: shape<T.Alternator>({
    ratingA: above0,
    voltageV: above0,
    lowVoltageV: number.optional(),
    perDegreeV: number.optional(),
    vehicleA: number,
    hotShare: number,
    idleShare: number,
    charger,
    cable,
    outputCable: cable,
  }).optional(),
  mains: shape<T.MainsCharger>({ currentA: above0, efficiency: above0, charge: overrides, cable }).optional(),
  inverter: shape<T.Inverter>({
    ratingW: above0,
    standbyW: number,
    on: oneOf('always', 'with loads'),
    efficiency: above0,
    cutOutV: number,
    cutInV: number,
    surgeW: above0,
    cable,
  }).optional(),
  cabin: shape<T.Cabin>({
    gainK: number,
    lagH: number,
    offset: z.object({ dayK: number, nightK: number }).optional(),
    heatedC: number.optional(),
    heater: shape<T.CabinHeater>({
      powerW: above0,
      upToK: above0,
      needsPower: yesNo,
      fuelWh: number.optional(),
    }).optional(),
  }),
  loads: list(z.discriminatedUnion('kind', [scheduled, fridge], { error: 'a load of kind scheduled or fridge' })),
  months,
  albedo: number,
  snow: shape<T.Snow>({ groundShare: list(number), panelShare: list(number).optional() }).optional(),
  ensemble: list(
    shape<T.VehicleDraw>({ loads: number, heatLeak: number, harvest: number, shade: number, capacity: number }),
  )
    .min(1, { error: 'one vehicle at least' })
    .optional(),
});
const stop = shape<T.Stop>({
  name: text.optional(),
  at: z.object({ latDeg: number, lonDeg: number }).optional(),
  place: text.optional(),
  elevationM: number.optional(),
  zone: text.optional(),
  from: text.optional(),
  nights: above0,
  driveH: number,
  driveFromH: number,
  outings: shape<NonNullable<T.Stop['outings']>>({ everyDays: above0, driveH: number, fromH: number }).optional(),
  shade: number,
  arrayShade: perName('arrays').optional(),
  skyShade: number.optional(),
  use: perName('loads'),
  mainsH: number,
  mainsFromH: number,
  horizon: skyline,
  months,
});
const trip = shape<T.Trip>({
  name: text,
  startSoc: number,
  weather: z.union(
    [z.object({ kind: z.enum(['clear', 'climate', 'dull']) }), z.object({ kind: z.literal('file'), path: text })],
    { error: 'a weather: kind clear, climate, dull, or file with its path' },
  ),
  startH: number.min(0, { error: 'hours from 0' }).max(24, { error: 'hours up to 24' }).optional(),
  stops: list(stop).min(1, { error: 'one stop at least' }),
});
const part = { name: text, massKg: number, price: number, areaM2: number.optional() };
const parts = shape<T.PartsList>({
  name: text,
  batteries: list(shape<T.BatteryPart>({ ...part, battery })),
  panels: list(shape<T.PanelPart>({ ...part, array })),
  chargers: list(shape<T.ChargerPart>({ ...part, charger })),
  limits: z.object({}),
  target: shape<T.PartsList['target']>({ unservedHours: number, years: number }),
});

const SHAPES = { rig, trip, parts, air: rig.pick({ cabin: true, months: true }) } as const;
const CALLED = {
  rig: ['rig', 'readRig'],
  air: ['rig', 'readRig'],
  trip: ['trip', 'readTrip or withoutTrip'],
  parts: ['parts list', 'readParts'],
} as const;

/**
 * Refuses what is no rig, trip or parts list before anything is worked out from it.
 * @param caller the library function that was given the value
 * @param kind   what it should be; of a rig's `air` only what the conditions look at
 * @throws TypeError that names the function, the key, what stands there and what is needed
 */
export function requireSound(caller: string, kind: 'rig' | 'trip' | 'parts' | 'air', value: unknown): void {
  const { error } = SHAPES[kind].safeParse(value);
  if (!error) return;
  const [first] = error.issues;
  const [name, maker] = CALLED[kind];
  const path = first!.path.map((step) => (typeof step === 'number' ? `[${step}]` : `.${String(step)}`)).join('');
  const inside = first!.path.reduce<unknown>((from, step) => (from as Record<PropertyKey, unknown>)?.[step], value);
  const wanted =
    first!.path.length === 0 ? `a ${name}` : /^Invalid/.test(first!.message) ? 'a group of keys' : first!.message;
  throw new TypeError(
    `${caller}: the ${name}${path && `'s ${path.replace(/^\./, '')}`} is ${found(inside)}, and ${wanted} is needed; ${maker} makes one`,
  );
}

/** @throws TypeError that names the function, when what it was given is no text */
export function requireText(caller: string, value: unknown): void {
  if (typeof value !== 'string') throw new TypeError(`${caller}: the text is ${found(value)}, and a string is needed`);
}

/** A value in a message, short. */
function found(value: unknown): string {
  if (value === undefined) return 'missing';
  if (value === null || typeof value === 'number') return String(value);
  if (typeof value === 'object') return Array.isArray(value) ? 'a list' : 'an object';
  return typeof value === 'string' ? JSON.stringify(value.slice(0, 60)) : `a ${typeof value}`;
}
