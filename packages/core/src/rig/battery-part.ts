import type * as z from 'zod';
import { formatQuantity } from '../quantity/index.js';
import { cablePart, resolveCable } from './cable-part.js';
import { chargePart, resolveCharge } from './charge-part.js';
import { CHEMISTRY_NAMES, type Chemistry, isLead } from './chemistry.js';
import { type Defaults, tidy } from './defaults.js';
import { choice, field, limit, number, type PartOf, part, quantity, readQuantity, wrong } from './field.js';
import type { Battery, Limit } from './types.js';

const heaterPart = part('a heater in the battery', {
  power: quantity('power', 'its power', { min: 1, max: 2000 }, '40 W'),
  below: quantity('temperature', 'switches on below', { min: -40, max: 30 }, '3 degC').optional(),
});

/** Of one battery; what is written as an energy waits for its voltage. */
const capacityField = field<number | { readonly energyWh: number }>(
  {
    description: 'rated capacity of one battery; lead-acid at the 20-hour rate (a charge in Ah, or an energy in kWh)',
    type: 'string',
    examples: ['100 Ah', '1.28 kWh'],
    pattern: '\\d.*[A-Za-z]',
  },
  (value) =>
    typeof value === 'string' && /\d\s*k?w\s*h$/i.test(value.trim())
      ? { energyWh: readQuantity(value, 'energy', { min: 6, max: 500_000 }) }
      : readQuantity(value, 'charge', { min: 1, max: 10_000 }),
);

/** The charge of a battery whose label gives its energy, at the voltage that makers reckon with [Ah]. */
function chargeOf(
  capacity: number | { readonly energyWh: number },
  nominalV: number,
  isLithium: boolean,
  path: string,
  defaults: Defaults,
): number {
  if (typeof capacity === 'number') return capacity;
  // LFP cells are reckoned at 3.2 V, four to 12.8 V; common practice.
  const volts = isLithium && nominalV % 12 === 0 ? (nominalV / 12) * 12.8 : nominalV;
  const chargeAh = tidy(Number((capacity.energyWh / volts).toPrecision(4)));
  return defaults.take(path, chargeAh, `${chargeAh} Ah`, `${capacity.energyWh} Wh at ${tidy(volts)} V`);
}

export const batteryShape = {
  chemistry: choice('what the battery is made of', CHEMISTRY_NAMES, [
    { says: /^(li[- ]?fe[- ]?po4|lithium[- ]iron([- ]phosphate)?)$/i, is: 'LFP' },
    {
      says: /^(lead([- ]acid)?|lead[- ]acid battery|sla|vrla|sealed( lead([- ]acid)?)?)$/i,
      hint: 'flooded where water can be topped up; AGM for most sealed ones; gel where the label says gel',
    },
    {
      says: /^(lithium([- ]ion)?|li[- ]?ion)$/i,
      hint: 'house batteries sold as lithium are LFP; other lithium is not modelled',
    },
  ]),
  capacity: capacityField,
  count: number('batteries in parallel', {
    min: 1,
    max: 100,
    whole: true,
    belowHint:
      'everything hangs on the battery, so a rig has one at least; panels and loads can be switched off with 0',
  }).optional(),
  series: number('batteries in series', { min: 1, max: 4, whole: true }).optional(),
  nominal: quantity(
    'voltage',
    'nominal voltage of one battery: 12 V, 24 V ...',
    { min: 6, max: 52 },
    '12 V',
  ).optional(),
  health: quantity('ratio', 'share of the rated capacity that is left', { min: 0.05, max: 1 }, '90 %').optional(),
  floor: quantity('ratio', 'the owner never wants to go below', { min: 0, max: 0.99 }, '20 %').optional(),
  disconnect: limit('loads are cut here').optional(),
  reconnect: limit('loads come back here').optional(),
  stands: choice('which air it follows', ['cabin', 'outside', 'engine bay']).optional(),
  thermalLag: quantity('duration', 'how slowly its cells follow the air', { min: 0, max: 100 }, '4 h').optional(),
  noChargeBelow: quantity(
    'temperature',
    'it is not charged when its cells are colder',
    { min: -60, max: 30 },
    '0 degC',
  ).optional(),
  heater: heaterPart.optional(),
  maxCharge: quantity(
    'current',
    'largest charge current of the whole bank',
    { min: 0.1, max: 10_000 },
    '50 A',
  ).optional(),
  maxDischarge: quantity(
    'current',
    'largest discharge current of the whole bank',
    { min: 0.1, max: 10_000 },
    '100 A',
  ).optional(),
  resistance: quantity(
    'resistance',
    'internal resistance of the whole bank, half charged at 25 degC',
    { min: 0, max: 10 },
    '5 mohm',
  ).optional(),
  selfDischarge: quantity('ratio', 'self-discharge a month at 20 degC', { min: 0, max: 0.5 }, '3 %').optional(),
  charge: chargePart.optional(),
  cable: cablePart.optional(),
  // not 0: what it weighs is what a heater has to warm
  mass: quantity('mass', 'mass of each battery', { min: 0.1, max: 1000 }, '11.5 kg').optional(),
  price: number('price of each battery', { min: 0, max: 1e6 }).optional(),
};

type BatteryFile = PartOf<typeof batteryShape>;

/** What makes a battery plainly wrong although each key is right. */
export function checkBattery(battery: BatteryFile, context: z.core.$RefinementCtx): void {
  const { disconnect, reconnect, chemistry } = battery;
  const nominal = (battery.nominal ?? 12) * (battery.series ?? 1);
  if (disconnect && reconnect && disconnect.kind === reconnect.kind && limitValue(reconnect) <= limitValue(disconnect))
    wrong(
      context,
      ['reconnect'],
      `reconnect (${limitText(reconnect)}) must be above disconnect (${limitText(disconnect)})`,
      'or the loads would switch on and off',
    );
  for (const [key, one] of [
    ['disconnect', disconnect],
    ['reconnect', reconnect],
  ] as const)
    if (one?.kind === 'voltage' && !(one.voltageV >= nominal * 0.7 && one.voltageV <= nominal * 1.25))
      wrong(
        context,
        [key],
        `${limitText(one)} is not a voltage of a ${nominal} V bank`,
        nominal === 12 && one.voltageV > 15 ? 'add nominal: 24 V, or series: 2' : undefined,
      );
  for (const key of ['absorption', 'float'] as const) {
    const set = battery.charge?.[key];
    if (set !== undefined && !(set >= nominal && set <= nominal * 1.4))
      wrong(context, ['charge', key], `${formatQuantity(set, 'voltage')} does not charge a ${nominal} V bank`);
  }
  if (reconnect?.kind === 'soc' && reconnect.soc === 0) wrong(context, ['reconnect'], 'reconnect must be above 0 %');
  if (isLead(chemistry) && battery.heater)
    wrong(context, ['heater'], `a heater is for lithium, such as LFP, and this battery is ${chemistry}`);
}

const limitValue = (one: Limit) => (one.kind === 'soc' ? one.soc : one.voltageV);
const limitText = (one: Limit) =>
  one.kind === 'soc' ? formatQuantity(one.soc, 'ratio') : formatQuantity(one.voltageV, 'voltage');

export const batteryPart = part('the house battery', batteryShape, checkBattery);

/**
 * Nominal voltage of the bank over 12 V, in halves: set points of 12 V practice are multiplied by it. A maker's 12.8,
 * 25.6 or 51.2 V counts as 12, 24 or 48 V.
 */
export function bankScale(battery: Pick<Battery, 'nominalV' | 'series'>): number {
  return (Math.round((2 * battery.nominalV) / 12.5) / 2) * battery.series;
}

/** @param path of the battery in its file, for the defaults taken */
export function resolveBattery(battery: BatteryFile, path: string, defaults: Defaults): Battery {
  const at = (key: string) => `${path}.${key}`;
  const { chemistry } = battery;
  const isLithium = !isLead(chemistry);
  const count = defaults.plain(battery.count, at('count'), 1, 'one battery');
  const series = defaults.plain(battery.series, at('series'), 1, 'none in series');
  const nominalV = defaults.quantity(battery.nominal, at('nominal'), 12, 'voltage', 'a 12 V system');
  const scale = bankScale({ nominalV, series });
  const capacityAh = chargeOf(battery.capacity, nominalV, isLithium, at('capacity'), defaults);
  const bankAh = capacityAh * count;
  return {
    chemistry,
    capacityAh,
    count,
    series,
    nominalV,
    health: defaults.quantity(battery.health, at('health'), 1, 'ratio', 'as new'),
    ...resolveLimits(battery, chemistry, scale, path, defaults),
    stands: defaults.plain(battery.stands, at('stands'), 'cabin', 'most house batteries stand inside'),
    // Assumption: 12 kg with a surface of 0.35 m2 in still air follows in about 2 h, in a closed compartment in twice that.
    thermalLagH: defaults.quantity(
      battery.thermalLag,
      at('thermalLag'),
      4,
      'duration',
      'a battery of this kind in a closed compartment',
    ),
    // Management systems cut the charge of LFP below 0 degC at the cell (common practice).
    ...present(
      'chargeMinC',
      isLithium
        ? defaults.quantity(
            battery.noChargeBelow,
            at('noChargeBelow'),
            0,
            'temperature',
            `${chemistry} is harmed by charging when frozen`,
          )
        : battery.noChargeBelow,
    ),
    ...(battery.heater && {
      heater: {
        powerW: battery.heater.power,
        belowC: defaults.quantity(battery.heater.below, at('heater.below'), 3, 'temperature', 'just above freezing'),
      },
    }),
    // LFP: half the capacity an hour is the usual limit; flooded and gel 0.1 to 0.25 C20, AGM 0.2 to 0.4 (common practice).
    maxChargeA: defaults.quantity(
      battery.maxCharge,
      at('maxCharge'),
      tidy(bankAh * (isLithium ? 0.5 : 0.25)),
      'current',
      isLithium
        ? `usual for ${chemistry}: half its capacity in an hour`
        : `usual for ${chemistry}: a quarter of its capacity in an hour`,
    ),
    ...present(
      'maxDischargeA',
      isLithium
        ? defaults.quantity(
            battery.maxDischarge,
            at('maxDischarge'),
            bankAh,
            'current',
            `usual for the management system of ${chemistry}: its capacity in one hour`,
          )
        : battery.maxDischarge,
    ),
    ...present('resistanceOhm', battery.resistance),
    ...present('selfDischargePerMonth', battery.selfDischarge),
    charge: resolveCharge(battery.charge, chemistry, scale, at('charge'), defaults),
    ...resolveCable(battery.cable, at('cable'), defaults),
    ...present('massKg', battery.mass),
    ...present('price', battery.price),
  };
}

/** A key with its value, or no key at all: a rig is JSON, which has no word for what is absent. */
function present<Key extends string, T>(key: Key, value: T | undefined): { [K in Key]?: T } {
  return (value === undefined ? {} : { [key]: value }) as { [K in Key]?: T };
}

/**
 * Floor, disconnect and reconnect. Everyday depth of discharge is a half for lead-acid and 80 to 90 % for LFP (common
 * practice). The disconnect that is chosen is never above the floor, nor the floor that is chosen below the disconnect.
 */
function resolveLimits(
  battery: BatteryFile,
  chemistry: Chemistry,
  scale: number,
  path: string,
  defaults: Defaults,
): Pick<Battery, 'floor' | 'disconnect' | 'reconnect'> {
  const isLithium = !isLead(chemistry);
  const given = battery.disconnect;
  const usualFloor = isLithium ? 0.2 : 0.5;
  const floorValue = given?.kind === 'soc' ? Math.max(usualFloor, Math.min(given.soc, 0.99)) : usualFloor;
  const floor = defaults.quantity(
    battery.floor,
    `${path}.floor`,
    floorValue,
    'ratio',
    isLithium ? `${chemistry} is used down to a fifth` : `${chemistry} lasts if half is kept`,
  );

  const below = battery.reconnect?.kind === 'soc' ? Math.max(0, battery.reconnect.soc - 0.05) : 1;
  const soc = tidy(Math.min(isLithium ? 0.1 : 0.4, floor, below));
  const disconnect =
    given ??
    defaults.take<Limit>(
      `${path}.disconnect`,
      { kind: 'soc', soc },
      limitText({ kind: 'soc', soc }),
      isLithium
        ? `${chemistry} is protected from the last tenth`
        : `${chemistry} is protected a little below the floor; give a voltage if yours watches that`,
    );

  return {
    floor,
    disconnect,
    reconnect: battery.reconnect ?? usualReconnect(disconnect, isLithium, scale, path, defaults),
  };
}

function usualReconnect(disconnect: Limit, isLithium: boolean, scale: number, path: string, defaults: Defaults): Limit {
  const above: Limit =
    disconnect.kind === 'soc'
      ? { kind: 'soc', soc: tidy(Math.min(1, disconnect.soc + 0.05)) }
      : {
          kind: 'voltage',
          voltageV: tidy(Math.max((isLithium ? 13 : 12.6) * scale, disconnect.voltageV + 0.5 * scale)),
        };
  return defaults.take(
    `${path}.reconnect`,
    above,
    limitText(above),
    disconnect.kind === 'soc' ? 'a little above disconnect' : 'a battery that has been charged again',
  );
}
