import { sizeUp, tidy } from './defaults.js';
import { usualFridgeWhPerDay } from './fridge-part.js';
import { CHARGER_SIZES } from './power-part.js';
import { CONTROLLER_SIZES } from './solar-part.js';
import type { Chemistry } from './types.js';

/** What a starter rig may have, both ends included [Ah, W, L]. */
export const STARTER_LIMITS = {
  capacityAh: { min: 5, max: 5000 },
  solarW: { min: 5, max: 2000 },
  fridgeL: { min: 4, max: 300 },
} as const;

/** What a starter rig is to have; what is left out is of the usual size. */
export interface StarterOptions {
  /** @default "My rig" */
  readonly name?: string;
  /** where an editor finds the JSON Schema of a rig, from the rig's folder; false = nowhere; @default the one shipped with the library */
  readonly schema?: string | false;
  /** @default "LFP" */
  readonly chemistry?: Chemistry;
  /** @default 100 Ah */
  readonly capacityAh?: number;
  /** nameplate of all modules, 0 = no panel; @default 150 W */
  readonly solarW?: number;
  /** 0 = no fridge; @default 40 L */
  readonly fridgeL?: number;
  /** how cold nights get in the coldest month where it will stand: told beside the battery [°C] */
  readonly coldestC?: number;
}

/**
 * A commented rig to begin with: invented numbers of the usual size around what is asked for, every usual part, and it
 * passes `readRig` and its cables do.
 * @throws RangeError beyond STARTER_LIMITS
 */
export function starterRig(options: StarterOptions = {}): string {
  const { chemistry = 'LFP', capacityAh = 100, solarW = 150, fridgeL = 40 } = options;
  within('capacityAh', capacityAh);
  if (solarW !== 0) within('solarW', solarW);
  if (fridgeL !== 0) within('fridgeL', fridgeL);
  return [
    ...header(options),
    '',
    ...batteryLines(chemistry, capacityAh, options.coldestC),
    '',
    ...(solarW === 0 ? ['# solar: [{ power: 150 W, mount: gap }]'] : solarLines(solarW)),
    '',
    ...alternatorLines(chemistry, capacityAh),
    '',
    said('# inverter: { rating: 300 W, standby: 5 W }', 'for loads with "inverter: true"', 46),
    said('cabin: { gain: 8 degC }', 'warmer than outside at full sun'),
    '# cabin: { heated: 18 degC }   # lived in, in winter: the fridge draws more',
    '',
    'loads:',
    ...(fridgeL === 0 ? [] : fridgeLines(fridgeL)),
    '  - { name: lights, power: 8 W, when: sunset to 22:30 }',
    '  - { name: phones, power: 12 W, hours: 2 }',
    said('  - { name: pump, current: 4 A, times: 10, lasts: 30 s }', '10 times a day', 58),
    '  # W; an expression may use ambient, cabin, hour and soc',
    '  - { name: fan, power: "clamp(3 * (cabin - 25), 0, 20)" }',
    said('  - { name: standby, current: 0.1 A }', 'never switched off', 58),
    '',
  ].join('\n');
}

function header({ name = 'My rig', schema }: StarterOptions): string[] {
  const at = schema ?? './node_modules/@stayput/core/schema/rig.schema.json';
  return [
    ...(at === false ? [] : [`# yaml-language-server: $schema=${at}`]),
    '# A rig: what is bolted in. The numbers are invented: put yours in their place,',
    '# and take out what you do not have. Only the battery and one load or panel are',
    '# needed; "stayput check" lists every value that is assumed beside them.',
    `name: ${JSON.stringify(name)}`,
  ];
}

function batteryLines(chemistry: Chemistry, capacityAh: number, coldestC: number | undefined): string[] {
  const isLfp = chemistry === 'LFP';
  // A flooded battery gives off hydrogen while it charges: it never stands in the living space.
  const stands = chemistry === 'flooded' ? 'outside' : 'cabin';
  const isFrozen = isLfp && coldestC !== undefined && coldestC < 0;
  return [
    'battery:',
    said(`  chemistry: ${chemistry}`, 'LFP, AGM, gel or flooded'),
    said(`  capacity: ${capacityAh} Ah`, 'of one battery; lead-acid at the 20-hour rate'),
    said('  count: 1', 'in parallel'),
    said(`  floor: ${isLfp ? 20 : 50} %`, 'you never want to go below'),
    said(`  disconnect: ${isLfp ? 10 : 40} %`, 'loads are cut here; a voltage will do too: 11.2 V'),
    said(`  reconnect: ${isLfp ? 15 : 45} %`, 'and come back here'),
    said(`  stands: ${stands}`, 'cabin, outside or engine bay'),
    ...(stands === 'outside' ? ['  # It gives off hydrogen: a box of its own, vented to the outside.'] : []),
    ...(isFrozen
      ? [
          `  # Nights of ${Math.round(coldestC)} degC in the coldest month: below 0 degC at its cells it takes`,
          '  # no charge. It may need a heater:',
          '  # heater: { power: 40 W }',
        ]
      : []),
  ];
}

/** More than this makes a module too large to lift onto a roof [W]. */
const MAX_MODULE_W = 400;
/** Voltage at the maximum power of a 36-cell module, and of a 12 V battery while it is charged [V]. Common practice. */
const [MODULE_V, CHARGE_V] = [18, 14.2];

function solarLines(solarW: number): string[] {
  const count = Math.ceil(solarW / MAX_MODULE_W);
  // The short-circuit current is some 8 % above that at maximum power (common practice).
  const section = sectionFor((1.08 * solarW) / MODULE_V, 4, MODULE_V, ON_ROOF);
  return [
    'solar:',
    '  - name: roof',
    said(`    power: ${tidy(Number((solarW / count).toFixed(1)))} W`, 'nameplate of one module'),
    said(`    count: ${count}`),
    said('    mount: gap', 'bonded to the roof, gap under it, rack, or ground'),
    said('    tilt: 0 deg', '0 is flat'),
    said(`    controller: { kind: MPPT, current: ${sizeUp(solarW / 12.5, CONTROLLER_SIZES)} A }`, 'MPPT or PWM', 52),
    said(`    cable: { length: 4 m, section: ${section} mm2 }`, 'one way; or gauge: 10 AWG', 52),
  ];
}

function alternatorLines(chemistry: Chemistry, capacityAh: number): string[] {
  // What batteries of the kind take: half the capacity an hour, lead-acid a quarter (common practice).
  const most = Math.min(30, capacityAh * (chemistry === 'LFP' ? 0.5 : 0.25));
  const currentA = CHARGER_SIZES.filter((size) => size <= most).at(-1) ?? CHARGER_SIZES[0]!;
  return [
    'alternator:',
    '  rating: 120 A',
    said(`  charger: { kind: dcdc, current: ${currentA} A }`, 'dcdc or relay', 52),
    `  cable: { length: 5 m, section: ${sectionFor(currentA / 0.92, 5, CHARGE_V)} mm2 }`,
  ];
}

function fridgeLines(fridgeL: number): string[] {
  const energy = `${tidy(Number((usualFridgeWhPerDay(fridgeL, 4) / 1000).toPrecision(2)))} kWh/day`;
  return [
    '  - name: fridge',
    '    kind: fridge',
    `    volume: ${fridgeL} L`,
    '    setpoint: 4 degC',
    '    # what its label says, or its wall: insulation: 45 mm',
    `    rated: { energy: ${energy}, ambient: 25 degC }`,
    '    cable: { length: 4 m, section: 4 mm2 }',
  ];
}

/** Sections of IEC 60228 that are sold for vehicles [mm²]. */
const SECTIONS_MM2 = [4, 6, 10, 16, 25, 35, 50, 70, 95, 120];
/**
 * Copper at the temperature that the insulation withstands [Ω·mm²/m]: 0.01724 at 20 °C, IEC 60028, and its 0.393 %/K. Density: thick
 * cables carry little more with their fuse [A/mm²]; common practice, and on a hot roof less by the square root of the warming that is left.
 */
const INSIDE = { ohmMm2PerM: 0.0206, density: 2 };
const ON_ROOF = { ohmMm2PerM: 0.022, density: 1.4 };

/** The next section that loses at most 2.5 % (3 % with its terminals; common practice) and runs cool. */
function sectionFor(currentA: number, lengthM: number, volts: number, { ohmMm2PerM, density } = INSIDE): number {
  return sizeUp(Math.max((2 * lengthM * ohmMm2PerM * currentA) / (0.025 * volts), currentA / density), SECTIONS_MM2);
}

function within(name: keyof typeof STARTER_LIMITS, value: number): void {
  const { min, max } = STARTER_LIMITS[name];
  if (!(value >= min && value <= max)) throw new RangeError(`${name} must be ${min} to ${max}, got ${value}`);
}

/** A line with its comment in a column. */
function said(text: string, comment = '', column = 26): string {
  return comment ? `${text.padEnd(column - 2)}  # ${comment}` : text;
}
