/** One kind of quantity that a user's file can hold. */
export interface DimensionSpec {
  /** what numbers are inside, as mathjs writes it; the value handed to the program is in this unit */
  readonly unit: string;
  /** the same for people */
  readonly written: string;
  /** for messages: "a charge in Ah" */
  readonly say: string;
  readonly example: string;
  /**
   * What the trade writes -> mathjs unit, tried first as it stands, then without regard to case. Anything else that
   * mathjs can convert to `unit` is understood too.
   */
  readonly spellings: Readonly<Record<string, string>>;
  /** the text must ('needed') or may ('allowed') end in "/day" or "a day"; the number is then for one day */
  readonly perDay?: 'needed' | 'allowed';
  /** a wrong unit that people often write -> what they probably meant */
  readonly mixUps?: Readonly<Record<string, string>>;
}

const same = (unit: string, ...texts: string[]) => Object.fromEntries([unit, ...texts].map((text) => [text, unit]));

/**
 * Every kind of quantity: its unit, how it is written and spoken of, spellings taken, and units often mixed up with
 * it.
 */
export const DIMENSIONS = {
  charge: {
    unit: 'Ah',
    written: 'Ah',
    say: 'a charge in Ah',
    example: '100 Ah',
    spellings: { ...same('Ah', 'A h', 'A*h', 'amp hours', 'amp-hours', 'amp hour'), mAh: 'mAh' },
    mixUps: { A: 'Ah', h: 'Ah' },
  },
  energy: {
    unit: 'Wh',
    written: 'Wh',
    say: 'an energy in Wh',
    example: '330 Wh',
    spellings: { ...same('Wh', 'W h', 'watt hours', 'watt-hours'), ...same('kWh', 'kW h') },
    mixUps: { W: 'Wh', kW: 'kWh' },
  },
  power: {
    unit: 'W',
    written: 'W',
    say: 'a power in W',
    example: '175 W',
    spellings: { ...same('W', 'watt', 'watts', 'Wp'), ...same('kW', 'kWp') },
    mixUps: { Wh: 'W', kWh: 'kW' },
  },
  current: {
    unit: 'A',
    written: 'A',
    say: 'a current in A',
    example: '30 A',
    spellings: { ...same('A', 'amp', 'amps'), mA: 'mA' },
    mixUps: { Ah: 'A', mAh: 'mA' },
  },
  voltage: {
    unit: 'V',
    written: 'V',
    say: 'a voltage in V',
    example: '12.8 V',
    spellings: { ...same('V', 'volt', 'volts'), mV: 'mV' },
  },
  resistance: {
    unit: 'ohm',
    written: 'ohm',
    say: 'a resistance in ohm',
    example: '5 mohm',
    spellings: { ...same('ohm', 'Ω', 'Ohm', 'ohms'), ...same('milliohm', 'mohm', 'mΩ', 'mOhm', 'milliohms') },
  },
  length: {
    unit: 'm',
    written: 'm',
    say: 'a length in m',
    example: '5 m',
    spellings: {
      ...same('m', 'metre', 'metres', 'meter', 'meters'),
      cm: 'cm',
      mm: 'mm',
      ...same('ft', 'foot', 'feet'),
    },
  },
  thickness: {
    unit: 'mm',
    written: 'mm',
    say: 'a thickness in mm',
    example: '45 mm',
    spellings: { ...same('mm'), cm: 'cm' },
  },
  section: {
    unit: 'mm^2',
    written: 'mm2',
    say: 'a section in mm2',
    example: '6 mm2',
    spellings: { ...same('mm^2', 'mm2', 'mm²', 'sq mm', 'sqmm') },
    mixUps: { mm: 'mm2', 'm^2': 'mm2' },
  },
  area: {
    unit: 'm^2',
    written: 'm2',
    say: 'an area in m2',
    example: '1.1 m2',
    spellings: { ...same('m^2', 'm2', 'm²'), ...same('cm^2', 'cm2', 'cm²') },
    mixUps: { m: 'm2' },
  },
  mass: {
    unit: 'kg',
    written: 'kg',
    say: 'a mass in kg',
    example: '11.5 kg',
    spellings: { ...same('kg', 'kilo', 'kilos'), g: 'g', ...same('lbm', 'lb', 'lbs') },
  },
  temperature: {
    unit: 'degC',
    written: 'degC',
    say: 'a temperature in degC',
    example: '4 degC',
    spellings: {
      ...same('degC', '°C', 'C', 'deg C', 'celsius', 'ºC'),
      ...same('degF', '°F', 'F', 'deg F', 'ºF'),
      K: 'K',
    },
  },
  temperatureDifference: {
    unit: 'K',
    written: 'K',
    say: 'a temperature difference in degC',
    example: '8 degC',
    spellings: { ...same('K', 'degC', '°C', 'C', 'deg C', 'ºC'), ...same('degR', 'degF', '°F', 'F') },
  },
  angle: {
    unit: 'deg',
    written: 'deg',
    say: 'an angle in deg',
    example: '30 deg',
    spellings: { ...same('deg', '°', 'degree', 'degrees', 'º'), rad: 'rad' },
    mixUps: { degC: 'deg' },
  },
  duration: {
    unit: 'h',
    written: 'h',
    say: 'a duration in h, min or s',
    example: '2 h',
    spellings: {
      ...same('h', 'hour', 'hours', 'hr', 'hrs'),
      ...same('minute', 'min', 'mins', 'minutes'),
      ...same('s', 'sec', 'secs', 'second', 'seconds'),
      ...same('day', 'd', 'days'),
    },
    mixUps: { m: 'min' },
  },
  ratio: {
    unit: '1',
    written: '%',
    say: 'a share in %, or a number from 0 to 1',
    example: '20 %',
    spellings: { '%': '%', percent: '%' },
  },
  perKelvin: {
    unit: '1/K',
    written: '%/degC',
    say: 'a change per degree in %/degC',
    example: '-0.36 %/degC',
    spellings: { ...same('%/K', '%/degC', '%/°C', '%/C', '%/ºC'), ...same('1/K', '/K', '/degC', '/°C', '1/degC') },
  },
  voltagePerKelvin: {
    unit: 'V/K',
    written: 'V/K',
    say: 'a change per degree in mV/K',
    example: '-24 mV/K',
    spellings: { ...same('V/K', 'V/degC', 'V/°C', 'V/C'), ...same('mV/K', 'mV/degC', 'mV/°C', 'mV/C') },
  },
  volume: {
    unit: 'L',
    written: 'L',
    say: 'a volume in L',
    example: '45 L',
    spellings: {
      ...same('L', 'l', 'litre', 'litres', 'liter', 'liters'),
      ...same('m^3', 'm3', 'm³'),
      ...same('ft^3', 'ft3', 'ft³', 'cu ft', 'cu. ft.', 'cuft', 'cubic feet', 'cubic foot'),
    },
  },
  irradiation: {
    unit: 'kWh/m^2',
    written: 'kWh/m2/day',
    say: 'an irradiation in kWh/m2/day or peak sun hours',
    example: '4.2 kWh/m2/day',
    spellings: {
      ...same('kWh/m^2', 'kWh/m2', 'kWh/m²', 'peak sun hours', 'peak sun hour', 'PSH', 'h', 'hours'),
      ...same('Wh/m^2', 'Wh/m2', 'Wh/m²'),
      ...same('MJ/m^2', 'MJ/m2', 'MJ/m²'),
    },
    perDay: 'allowed',
  },
  energyPerDay: {
    unit: 'Wh',
    written: 'Wh/day',
    say: 'an energy a day in kWh/day or Wh/day',
    example: '0.33 kWh/day',
    spellings: { ...same('Wh', 'W h'), ...same('kWh', 'kW h') },
    perDay: 'needed',
    mixUps: { kWh: 'kWh/day', Wh: 'Wh/day' },
  },
  speed: {
    unit: 'm/s',
    written: 'm/s',
    say: 'a speed in m/s',
    example: '3 m/s',
    spellings: { ...same('m/s'), ...same('km/h', 'kph', 'kmh'), ...same('mile/h', 'mph'), ...same('knot', 'kn', 'kt') },
  },
  count: { unit: '1', written: '', say: 'a number of times', example: '12', spellings: {}, perDay: 'allowed' },
} as const satisfies Record<string, DimensionSpec>;

/** A kind of quantity. */
export type Dimension = keyof typeof DIMENSIONS;
