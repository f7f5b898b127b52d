import * as z from 'zod';
import { cablePart, resolveCable } from './cable-part.js';
import { chargeOverrides, chargePart } from './charge-part.js';
import { type Defaults, sizeUp, tidy } from './defaults.js';
import { choice, offField, type PartOf, part, quantity, wrong, yesNo } from './field.js';
import { renamed } from './solar-part.js';
import type {
  Alternator,
  AlternatorCharger,
  Battery,
  Cabin,
  CabinHeater,
  Inverter,
  MainsCharger,
  RelaySensing,
} from './types.js';

const share = { min: 0.01, max: 1 };
const efficiency = { min: 0.3, max: 1 };

const dcdcShape = {
  kind: z.literal('dcdc').meta({ description: 'a DC-DC charger' }),
  current: quantity('current', 'its rating, at the house battery', { min: 1, max: 500 }, '30 A').optional(),
  efficiency: quantity('ratio', 'output over input power', efficiency, '92 %').optional(),
  inputCutOut: quantity('voltage', 'stops below this input voltage', { min: 8, max: 60 }, '12.0 V').optional(),
  sharedWithSolar: yesNo('the same box holds the solar controller, and both share its current').optional(),
  charge: chargePart.optional(),
};
const relayShape = {
  kind: z
    .literal('relay')
    .meta({ description: 'a charge-through relay: the batteries are joined while the engine runs' }),
  resistance: quantity('resistance', 'of the relay and its terminals', { min: 0, max: 1 }, '2 mohm').optional(),
  sensing: part('it senses voltage, and so may join the batteries with the engine off', {
    join: quantity('voltage', 'joins them from here on', { min: 12, max: 60 }, '13.3 V').optional(),
    part: quantity('voltage', 'parts them below', { min: 11, max: 60 }, '12.8 V').optional(),
    draw: quantity(
      'current',
      'of its coil and the parked vehicle, from the house battery while they are joined',
      { min: 0, max: 20 },
      '0.2 A',
    ).optional(),
  }).optional(),
};
const CHARGER_KINDS = 'kind must be dcdc (a DC-DC charger) or relay (a charge-through relay)';

/** The two kinds of charger, each with further keys. */
export function chargerPartOf<const Shape extends z.core.$ZodLooseShape>(more: Shape) {
  return z
    .discriminatedUnion(
      'kind',
      [part('a DC-DC charger', { ...dcdcShape, ...more }), part('a charge-through relay', { ...relayShape, ...more })],
      {
        error: (issue) => (issue.code === 'invalid_union' ? CHARGER_KINDS : undefined),
      },
    )
    .meta({ description: 'how the alternator charges the house battery' });
}

const chargerPart = chargerPartOf({});

export const alternatorPart = part(
  'the alternator of the vehicle',
  {
    off: offField,
    rating: quantity('current', 'its rating', { min: 10, max: 1000 }, '150 A').optional(),
    voltage: quantity('voltage', 'held by its regulator', { min: 12, max: 60 }, '14.2 V').optional(),
    lowVoltage: quantity(
      'voltage',
      'variable-voltage regulation: what it falls to',
      { min: 11, max: 60 },
      '12.6 V',
    ).optional(),
    perDegree: quantity(
      'voltagePerKelvin',
      'temperature-compensated regulation: change of the voltage per degree of the regulator above 25 degC',
      { min: -0.5, max: 0 },
      '-10 mV/K',
    ).optional(),
    vehicle: quantity('current', 'what the vehicle itself draws', { min: 0, max: 500 }, '30 A').optional(),
    hotShare: quantity('ratio', 'share of the rating that it gives hot, while driving', share, '70 %').optional(),
    idleShare: quantity('ratio', 'share of the rating that it gives at idle', share, '40 %').optional(),
    charger: chargerPart.optional(),
    cable: cablePart.optional(),
    outputCable: cablePart.optional(),
  },
  (alternator, context) => {
    const { lowVoltage, voltage, perDegree } = alternator;
    if (lowVoltage !== undefined && perDegree !== undefined)
      wrong(
        context,
        ['perDegree'],
        'a regulator is either variable (lowVoltage) or compensated by temperature',
        'leave one of the two out',
      );
    if (
      lowVoltage !== undefined &&
      lowVoltage >= (voltage ?? 14.2) * (lowVoltage > 20 && voltage === undefined ? 2 : 1)
    )
      wrong(
        context,
        ['lowVoltage'],
        `lowVoltage ${lowVoltage} V must be below the regulated voltage, ${voltage ?? 14.2} V`,
      );
  },
);

/**
 * Shares and voltages: common practice (ISO 8854 rating method): hot 0.6–0.8 of the rating at cruise, 0.3–0.5 at idle,
 * regulated at 13.8–14.7 V; the vehicle takes 15–40 A; DC-DC 0.87–0.95; a relay drops 0.05–0.2 V.
 */
export function resolveAlternator(
  alternator: z.output<typeof alternatorPart>,
  battery: Battery,
  scale: number,
  defaults: Defaults,
): Alternator {
  const at = (key: string) => `alternator.${key}`;
  const charger = resolveCharger(
    alternator.charger ??
      defaults.take(
        at('charger'),
        { kind: 'dcdc' as const },
        '{ kind: dcdc }',
        'the usual way to charge a house battery',
      ),
    battery,
    at('charger'),
    defaults,
    (alternator.voltage ?? 0) > 20 ? 2 : 1,
    scale,
  );
  // A relay joins the two batteries, so they have one voltage; with a DC-DC charger the vehicle may well be 12 V.
  const voltage = charger.kind === 'relay' ? tidy(14.2 * scale) : 14.2;
  return {
    ratingA: defaults.quantity(alternator.rating, at('rating'), 120, 'current', 'a usual alternator'),
    voltageV: defaults.quantity(alternator.voltage, at('voltage'), voltage, 'voltage', 'usual regulator'),
    ...(alternator.lowVoltage !== undefined && { lowVoltageV: alternator.lowVoltage }),
    ...(alternator.perDegree !== undefined && { perDegreeV: alternator.perDegree }),
    vehicleA: defaults.quantity(alternator.vehicle, at('vehicle'), 30, 'current', 'lights, fans, injection'),
    hotShare: defaults.quantity(alternator.hotShare, at('hotShare'), 0.7, 'ratio', 'usual when hot'),
    idleShare: defaults.quantity(alternator.idleShare, at('idleShare'), 0.4, 'ratio', 'usual at idle'),
    charger,
    ...resolveCable(alternator.cable, at('cable'), defaults),
    ...renamed('outputCable', resolveCable(alternator.outputCable, at('outputCable'), defaults).cable),
  };
}

/** Usual ratings of chargers [A]; common practice, no source. */
export const CHARGER_SIZES = [5, 10, 15, 20, 25, 30, 40, 50, 60, 80, 100];

export function resolveCharger(
  charger: z.output<typeof chargerPart>,
  battery: Pick<Battery, 'maxChargeA'> | undefined,
  path: string,
  defaults: Defaults,
  /** nominal voltage of the vehicle over 12 V, and of the house battery */
  vehicleScale = 1,
  scale = 1,
): AlternatorCharger {
  if (charger.kind === 'relay')
    return {
      kind: 'relay',
      resistanceOhm: defaults.quantity(
        charger.resistance,
        `${path}.resistance`,
        0.002,
        'resistance',
        'a relay in good order',
      ),
      ...(charger.sensing && { sensing: resolveSensing(charger.sensing, scale, `${path}.sensing`, defaults) }),
    };
  const most = Math.min(30, battery?.maxChargeA ?? 30);
  const current = CHARGER_SIZES.filter((size) => size <= most).at(-1) ?? CHARGER_SIZES[0]!;
  return {
    kind: 'dcdc',
    currentA: defaults.quantity(
      charger.current,
      `${path}.current`,
      current,
      'current',
      'a usual size that the battery takes',
    ),
    efficiency: defaults.quantity(charger.efficiency, `${path}.efficiency`, 0.92, 'ratio', 'usual for a DC-DC charger'),
    inputCutOutV: defaults.quantity(
      charger.inputCutOut,
      `${path}.inputCutOut`,
      12 * vehicleScale,
      'voltage',
      'spares the starter battery',
    ),
    sharedWithSolar: defaults.plain(charger.sharedWithSolar, `${path}.sharedWithSolar`, false, 'a box of its own'),
    ...chargeOverrides(charger.charge),
  };
}

/**
 * Four relays of a maker's data sheet join at 13.3 to 13.7 V and part at 12.8 V. A vehicle asleep draws 20 to 50 mA (public workshop
 * pages), a relay's coil 0.1 to 0.2 A (common practice, no source).
 */
function resolveSensing(
  sensing: { join?: number | undefined; part?: number | undefined; draw?: number | undefined },
  scale: number,
  path: string,
  defaults: Defaults,
): RelaySensing {
  return {
    joinV: defaults.quantity(sensing.join, `${path}.join`, tidy(13.3 * scale), 'voltage', 'usual for such a relay'),
    partV: defaults.quantity(sensing.part, `${path}.part`, tidy(12.8 * scale), 'voltage', 'usual for such a relay'),
    drawA: defaults.quantity(sensing.draw, `${path}.draw`, 0.2, 'current', 'its coil, and a vehicle asleep'),
  };
}

export const mainsPart = part('a charger on mains', {
  off: offField,
  current: quantity('current', 'its rating', { min: 0.5, max: 500 }, '20 A').optional(),
  efficiency: quantity('ratio', 'output over input power', efficiency, '90 %').optional(),
  charge: chargePart.optional(),
  cable: cablePart.optional(),
});

export function resolveMains(mains: z.output<typeof mainsPart>, battery: Battery, defaults: Defaults): MainsCharger {
  const current = Math.min(sizeUp(0.2 * battery.capacityAh * battery.count, CHARGER_SIZES), battery.maxChargeA);
  return {
    currentA: defaults.quantity(
      mains.current,
      'mains.current',
      current,
      'current',
      'a fifth of the capacity, the next usual size',
    ),
    // Common practice: 0.85 to 0.94.
    efficiency: defaults.quantity(mains.efficiency, 'mains.efficiency', 0.9, 'ratio', 'usual for a mains charger'),
    ...chargeOverrides(mains.charge),
    ...resolveCable(mains.cable, 'mains.cable', defaults),
  };
}

const inverterShape = {
  off: offField,
  rating: quantity('power', 'continuous', { min: 20, max: 20_000 }, '600 W').optional(),
  standby: quantity('power', 'with nothing connected', { min: 0, max: 200 }, '7 W').optional(),
  on: choice('always on, or only while a load behind it runs', ['always', 'with loads']).optional(),
  efficiency: quantity('ratio', 'at its best point', efficiency, '92 %').optional(),
  cutOut: quantity(
    'voltage',
    'switches its loads off below, at its own terminals',
    { min: 8, max: 60 },
    '10.5 V',
  ).optional(),
  cutIn: quantity('voltage', 'and on again above', { min: 8, max: 60 }, '12 V').optional(),
  surge: quantity(
    'power',
    'for the second or two in which a load starts',
    { min: 20, max: 60_000 },
    '1200 W',
  ).optional(),
  cable: cablePart.optional(),
};

export const inverterPart = part('from the battery to mains voltage', inverterShape, checkInverter);

function checkInverter(
  { rating, surge, cutOut, cutIn }: PartOf<typeof inverterShape>,
  context: z.core.$RefinementCtx,
): void {
  if (cutOut !== undefined && cutIn !== undefined && cutIn <= cutOut)
    wrong(context, ['cutIn'], `cutIn ${cutIn} V must be above cutOut ${cutOut} V`, 'are they swapped?');
  if (rating !== undefined && surge !== undefined && surge < rating)
    wrong(context, ['surge'], `surge ${surge} W must not be below the rating of ${rating} W`, 'are they swapped?');
}

/** @param scale of the bank's voltage, 1 at 12 V */
export function resolveInverter(inverter: z.output<typeof inverterPart>, scale: number, defaults: Defaults): Inverter {
  const ratingW = defaults.quantity(inverter.rating, 'inverter.rating', 300, 'power', 'a small inverter');
  const cutOutV = defaults.quantity(
    inverter.cutOut,
    'inverter.cutOut',
    Math.min(10.5 * scale, (inverter.cutIn ?? Infinity) - 0.5 * scale),
    'voltage',
    'usual for an inverter',
  );
  return {
    ratingW,
    // About 8 W for 1 kW (the size of a three-term loss model of an inverter), not under 3 W; common practice.
    standbyW: defaults.quantity(
      inverter.standby,
      'inverter.standby',
      Math.max(3, tidy(0.008 * ratingW)),
      'power',
      'usual for its size',
    ),
    on: defaults.plain(inverter.on, 'inverter.on', 'always', 'seldom switched off'),
    // Common practice: peak 0.88 to 0.94.
    efficiency: defaults.quantity(inverter.efficiency, 'inverter.efficiency', 0.92, 'ratio', 'usual for an inverter'),
    // Common practice, no source: off below 10 to 11 V, on again at 12 V or more; twice the rating for the start of a motor.
    cutOutV,
    cutInV: defaults.quantity(
      inverter.cutIn,
      'inverter.cutIn',
      Math.max(12 * scale, tidy(cutOutV + 0.5 * scale)),
      'voltage',
      'usual for an inverter',
    ),
    surgeW: defaults.quantity(inverter.surge, 'inverter.surge', 2 * ratingW, 'power', 'twice its rating is usual'),
    ...resolveCable(inverter.cable, 'inverter.cable', defaults),
  };
}

/**
 * What openings leave of the sun's warmth, and of the time it takes: both go with one over the heat that leaves per
 * kelvin, so they shrink alike. Common practice, no source: shut up in full sun a vehicle gets 15 to 25 K warmer than
 * outside, with roof vents open about 8 K, with doors and windows open a few kelvin.
 */
const AIRING = {
  shut: { gainK: 20, lagH: 2.5, why: 'shut up in the sun' },
  vents: { gainK: 8, lagH: 1, why: 'an aired cabin' },
  open: { gainK: 3, lagH: 0.4, why: 'doors and windows open' },
} as const;

export const cabinPart = part(
  'the air inside',
  {
    ventilation: choice('how it is aired, when gain and lag are not known', ['shut', 'vents', 'open']).optional(),
    gain: quantity('temperatureDifference', 'above ambient at full sun', { min: 0, max: 60 }, '8 degC').optional(),
    lag: quantity('duration', 'how slowly it follows', { min: 0, max: 48 }, '1 h').optional(),
    warmer: part('than outside, besides the sun: by people, cooking, the fridge', {
      day: quantity('temperatureDifference', 'by day', { min: -10, max: 30 }, '1 degC').optional(),
      night: quantity('temperatureDifference', 'at night', { min: -10, max: 30 }, '4 degC').optional(),
    }).optional(),
    heated: quantity(
      'temperature',
      'kept at least so warm by a heater, whose own draw is a load; left out = not heated',
      { min: -10, max: 40 },
      '18 degC',
    ).optional(),
    heater: part('what the heater can do, where the cabin is heated', {
      power: quantity('power', 'heat that it gives at most', { min: 100, max: 20_000 }, '2 kW').optional(),
      upTo: quantity(
        'temperatureDifference',
        'how far that takes the cabin above what it is unheated',
        { min: 1, max: 80 },
        '35 degC',
      ).optional(),
      needsPower: yesNo('its fan and pump are on the battery, and stop with the loads').optional(),
      fuel: quantity(
        'volume',
        'diesel in its tank at the start and after each drive; left out = never out of it',
        { min: 0.1, max: 500 },
        '10 L',
      ).optional(),
    }).optional(),
  },
  (cabin, context) => {
    if (cabin.heater && cabin.heated === undefined)
      wrong(context, ['heater'], 'there is a heater, but not how warm it keeps the cabin', 'add heated: 18 degC');
  },
);

/** Heat from a litre of diesel: 42.8 MJ/kg and 0.837 kg/l (US Hydrogen Analysis Resource Center), at 80 % (75 to 85 %, common practice). */
const DIESEL_WH_PER_L = (0.8 * (42_781 * 0.837)) / 3.6;

export function resolveCabin(cabin: z.output<typeof cabinPart> | undefined, defaults: Defaults): Cabin {
  const { gainK, lagH, why } = AIRING[cabin?.ventilation ?? 'vents'];
  return {
    gainK: defaults.quantity(cabin?.gain, 'cabin.gain', gainK, 'temperatureDifference', why),
    lagH: defaults.quantity(cabin?.lag, 'cabin.lag', lagH, 'duration', cabin?.ventilation ? why : 'light walls'),
    ...(cabin?.warmer && { offset: { dayK: cabin.warmer.day ?? 0, nightK: cabin.warmer.night ?? 0 } }),
    ...(cabin?.heated !== undefined && { heatedC: cabin.heated, heater: resolveHeater(cabin.heater, defaults) }),
  };
}

/**
 * A heater of 2 kW is usual; one that is right for its vehicle keeps 20 °C inside at −15 °C outside (EN 1646-1, grade 3). Most
 * burn diesel or gas with a fan that is on the battery (common practice).
 */
function resolveHeater(heater: z.output<typeof cabinPart>['heater'], defaults: Defaults): CabinHeater {
  const at = (key: string) => `cabin.heater.${key}`;
  return {
    powerW: defaults.quantity(heater?.power, at('power'), 2000, 'power', 'usual for a heater'),
    upToK: defaults.quantity(heater?.upTo, at('upTo'), 35, 'temperatureDifference', 'grade 3 of EN 1646-1'),
    needsPower: defaults.plain(heater?.needsPower, at('needsPower'), true, 'most have a fan on the battery'),
    ...(heater?.fuel !== undefined && { fuelWh: heater.fuel * DIESEL_WH_PER_L }),
  };
}
