import type * as z from 'zod';
import { cablePart, resolveCable, SOLAR_CABLE } from './cable-part.js';
import { chargeOverrides, chargePart } from './charge-part.js';
import { type Defaults, sizeUp, tidy } from './defaults.js';
import { choice, clockHour, number, offField, type PartOf, part, quantity, text, wrong } from './field.js';
import { LARGE_PANEL_CELLS, LARGE_PANEL_W, PANEL_CELLS } from './panel-cells.js';
import type { HorizonPoint, SolarArray, SolarController } from './types.js';

const share = { min: 0, max: 1 };

export const controllerPart = part('the charge controller of an array', {
  kind: choice('how it works', ['MPPT', 'PWM']).optional(),
  current: quantity('current', 'largest output current', { min: 1, max: 500 }, '20 A').optional(),
  inputVoltage: quantity('voltage', 'largest permitted input voltage', { min: 10, max: 1500 }, '100 V').optional(),
  efficiency: quantity('ratio', 'peak efficiency of an MPPT', { min: 0.5, max: 1 }, '97 %').optional(),
  standby: quantity('power', 'own draw, day and night', { min: 0, max: 50 }, '0.5 W').optional(),
  startMargin: quantity(
    'voltage',
    'an MPPT starts when the array is so far above the battery',
    { min: 0, max: 50 },
    '5 V',
  ).optional(),
  charge: chargePart.optional(),
});

const datasheetPart = part(
  'electrical values of one module at standard test conditions',
  {
    voc: quantity('voltage', 'open-circuit voltage', { min: 1, max: 200 }, '24.3 V'),
    isc: quantity('current', 'short-circuit current', { min: 0.1, max: 50 }, '9.2 A').optional(),
    vmp: quantity('voltage', 'voltage at maximum power', { min: 1, max: 200 }, '20.4 V'),
    imp: quantity('current', 'current at maximum power', { min: 0.1, max: 50 }, '8.6 A').optional(),
    tempPower: quantity(
      'perKelvin',
      'change of power with temperature',
      { min: -0.01, max: 0 },
      '-0.36 %/degC',
    ).optional(),
    tempVoltage: quantity(
      'perKelvin',
      'change of open-circuit voltage with temperature',
      { min: -0.01, max: 0 },
      '-0.28 %/degC',
    ).optional(),
    tempCurrent: quantity(
      'perKelvin',
      'change of short-circuit current with temperature',
      { min: -0.002, max: 0.005 },
      '0.05 %/degC',
    ).optional(),
    cells: number('cells in series in one module', { min: 1, max: 200, whole: true }).optional(),
  },
  (sheet, context) => {
    if (sheet.vmp >= sheet.voc)
      wrong(context, ['vmp'], `vmp ${sheet.vmp} V must be below voc ${sheet.voc} V`, 'are they swapped?');
    if (sheet.imp !== undefined && sheet.isc !== undefined && sheet.imp >= sheet.isc)
      wrong(context, ['imp'], `imp ${sheet.imp} A must be below isc ${sheet.isc} A`, 'are they swapped?');
  },
);

export const horizonPart = part('a point of the skyline', {
  azimuth: quantity('angle', '0 = north, clockwise', { min: 0, max: 360 }, '180 deg'),
  elevation: quantity('angle', 'height of the skyline there', { min: 0, max: 90 }, '10 deg'),
})
  .array()
  .meta({ description: 'the skyline, point by point round the compass' });

const shadePart = part(
  'a time of day when the panel is shaded',
  {
    from: clockHour('begins', '07:00'),
    to: clockHour('ends', '09:30'),
    keeps: quantity('ratio', 'share of direct sun left', share, '40 %'),
    edge: choice('hard (a roof box, a mast: whole cells are dark) or soft (leaves: all of it is dimmed)', [
      'hard',
      'soft',
    ]).optional(),
  },
  (window, context) => {
    if (window.from === window.to) wrong(context, ['to'], 'the shade begins and ends at the same time');
  },
);

export const solarShape = {
  name: text('what you call it', 'roof').optional(),
  power: quantity('power', 'nameplate of one module (STC); 2x175 W is two of them', { min: 1, max: 2000 }, '175 W'),
  count: number('modules; 0 = as if it were not there', { min: 0, max: 100, whole: true }).optional(),
  off: offField,
  series: number('modules in series in one string', { min: 1, max: 20, whole: true }).optional(),
  technology: choice('kind of cells', ['mono', 'poly', 'thin film']).optional(),
  mount: choice('bonded to the roof, above a gap, on an open rack, or portable on the ground', [
    'bonded',
    'gap',
    'rack',
    'ground',
  ]).optional(),
  tilt: quantity('angle', 'from flat', { min: 0, max: 90 }, '0 deg').optional(),
  azimuth: quantity(
    'angle',
    'where it looks: 0 = north, clockwise; left out = toward the equator of the place',
    { min: 0, max: 360 },
    '180 deg',
  ).optional(),
  reaimed: quantity('count', 'turned to the sun so many times a day', { min: 0, max: 24 }, '3 times a day').optional(),
  losses: part('shares of the power that are lost', {
    soiling: quantity('ratio', 'dirt', { min: 0, max: 0.95 }, '4 %').optional(),
    mismatch: quantity('ratio', 'modules that differ, and nameplate tolerance', { min: 0, max: 0.5 }, '2 %').optional(),
    ageing: quantity('ratio', 'lost since new', { min: 0, max: 0.9 }, '2 %').optional(),
    other: quantity(
      'ratio',
      'found by measuring, cause not told apart; below 0 where it gives more than it should',
      { min: -1, max: 0.95 },
      '20 %',
    ).optional(),
    soilingRange: part('between what and what the dirt is likely to lie', {
      low: quantity('ratio', 'least', { min: 0, max: 0.95 }, '2 %'),
      high: quantity('ratio', 'most', { min: 0, max: 0.95 }, '10 %'),
    }).optional(),
  }).optional(),
  shade: shadePart.array().meta({ description: 'hours of shade' }).optional(),
  horizon: horizonPart.optional(),
  datasheet: datasheetPart.optional(),
  cells: number('cells in series in one module, where there is no datasheet', {
    min: 1,
    max: 200,
    whole: true,
  }).optional(),
  controller: controllerPart.optional(),
  cable: cablePart.optional(),
  outputCable: cablePart.optional(),
  mass: quantity('mass', 'mass of each module', { min: 0, max: 100 }, '3.1 kg').optional(),
  price: number('price of each module', { min: 0, max: 1e6 }).optional(),
  area: quantity('area', 'area of each module', { min: 0.01, max: 10 }, '0.9 m2').optional(),
};

type SolarFile = PartOf<typeof solarShape>;

export function checkSolar(array: SolarFile, context: z.core.$RefinementCtx): void {
  const [count, series] = [array.count ?? array.series ?? 1, array.series ?? 1];
  if (count % series !== 0)
    wrong(
      context,
      ['count'],
      `${count} modules cannot be wired in strings of ${series}`,
      `count must be a multiple of series`,
    );
  const sheet = array.datasheet;
  const sheetW = sheet?.imp === undefined ? undefined : sheet.vmp * sheet.imp;
  if (sheetW !== undefined && !(sheetW > array.power * 0.8 && sheetW < array.power * 1.25))
    wrong(
      context,
      ['datasheet'],
      `vmp times imp is ${Math.round(sheetW)} W, but power says ${array.power} W`,
      'both are for one module',
    );
  if (sheet && array.cells !== undefined && sheet.cells !== undefined && sheet.cells !== array.cells)
    wrong(context, ['cells'], `cells is ${array.cells}, but the datasheet says ${sheet.cells}`, 'keep one of them');
  const range = array.losses?.soilingRange;
  if (range && range.low > range.high) wrong(context, ['losses', 'soilingRange', 'low'], 'low is above high');
}

export const solarPart = part('an array of equal solar modules with its controller', solarShape, checkSolar);

/** Usual ratings of controllers [A]; common practice, no source. */
export const CONTROLLER_SIZES = [10, 15, 20, 30, 40, 50, 60, 70, 85, 100, 150, 200, 300, 500];

/** @param scale nominal voltage of the bank over 12 V */
export function resolveSolar(
  array: SolarFile,
  name: string,
  scale: number,
  path: string,
  defaults: Defaults,
): SolarArray {
  const at = (key: string) => `${path}.${key}`;
  const series = defaults.plain(array.series, at('series'), 1, 'all modules in parallel');
  const count = defaults.plain(array.count, at('count'), series, series === 1 ? 'one module' : 'one string');
  const soiling = array.losses?.soiling;
  // A panel that lies flat and is washed by rain only loses 5 to 10 %, a tilted one 2 to 7 % (common practice).
  const soilingUsed = defaults.quantity(
    soiling,
    at('losses.soiling'),
    0.05,
    'ratio',
    'a flat roof panel, washed now and then',
  );
  const range = array.losses?.soilingRange;
  return {
    name,
    powerW: array.power,
    count,
    series,
    technology: defaults.plain(array.technology, at('technology'), 'mono', 'most modules sold'),
    mount: defaults.plain(array.mount, at('mount'), 'gap', 'on brackets, with air under it'),
    tiltDeg: defaults.quantity(array.tilt, at('tilt'), 0, 'angle', 'flat on the roof'),
    ...resolveAzimuth(array, at('azimuth'), defaults),
    reaimedPerDay: array.reaimed ?? 0,
    losses: {
      soiling: soilingUsed,
      // Common practice: mismatch 1 to 3 %, nameplate tolerance 0 to 3 %.
      mismatch: defaults.quantity(
        array.losses?.mismatch,
        at('losses.mismatch'),
        0.02,
        'ratio',
        'modules are never quite equal',
      ),
      // Common practice: 1 to 3 % in the first days of light, then 0.4 to 0.8 % a year.
      ageing: defaults.quantity(array.losses?.ageing, at('losses.ageing'), 0.02, 'ratio', 'a few years old'),
      ...(array.losses?.other !== undefined && { other: array.losses.other }),
    },
    soilingRange:
      range ??
      defaults.take(
        at('losses.soilingRange'),
        { low: tidy(soilingUsed / 2), high: tidy(Math.min(0.95, soilingUsed * 2)) },
        `{ low: ${tidy(soilingUsed * 50)} %, high: ${tidy(Math.min(95, soilingUsed * 200))} % }`,
        'half to twice the soiling: nobody knows it better',
      ),
    shade: (array.shade ?? []).map((window) => ({
      fromH: window.from,
      toH: window.to,
      keeps: window.keeps,
      ...(window.edge === 'soft' && { edge: window.edge }),
    })),
    horizon: horizonPoints(array.horizon),
    ...resolveDatasheet(array, at('datasheet'), defaults),
    ...resolveCells(array, series, scale, at('cells'), defaults),
    controller: resolveController(array.controller, array.power * count, scale, at('controller'), defaults),
    ...resolveCable(array.cable, at('cable'), defaults, SOLAR_CABLE),
    ...renamed('outputCable', resolveCable(array.outputCable, at('outputCable'), defaults).cable),
    ...(array.mass !== undefined && { massKg: array.mass }),
    ...(array.price !== undefined && { price: array.price }),
    ...(array.area !== undefined && { areaM2: array.area }),
  };
}

function resolveAzimuth(array: SolarFile, path: string, defaults: Defaults): Pick<SolarArray, 'azimuthDeg'> {
  if (array.azimuth !== undefined) return { azimuthDeg: array.azimuth % 360 };
  const isFlat = (array.tilt ?? 0) === 0;
  defaults.take(path, undefined, 'toward the equator', isFlat ? 'no matter when flat' : 'where the sun is at noon');
  return {};
}

/** A panel made for 12 V stays one, however large, unless its data say otherwise. */
function resolveCells(
  array: SolarFile,
  series: number,
  scale: number,
  path: string,
  defaults: Defaults,
): Pick<SolarArray, 'cells'> {
  if (array.cells !== undefined) return { cells: array.cells };
  if (array.datasheet) return {};
  const technology = array.technology ?? 'mono';
  if (scale > 1 && series === 1 && array.power > LARGE_PANEL_W)
    return { cells: defaults.plain(undefined, path, LARGE_PANEL_CELLS[technology], 'a large module') };
  defaults.take(path, undefined, String(PANEL_CELLS[technology]), 'made for 12 V; give its datasheet if it is not');
  return {};
}

export function horizonPoints(points: readonly { azimuth: number; elevation: number }[] | undefined): HorizonPoint[] {
  return (points ?? [])
    .map((point) => ({ azimuthDeg: point.azimuth % 360, elevationDeg: point.elevation }))
    .sort((a, b) => a.azimuthDeg - b.azimuthDeg);
}

export function renamed<K extends string, T>(key: K, value: T | undefined): { [key in K]?: T } {
  return value === undefined ? {} : ({ [key]: value } as { [key in K]?: T });
}

const ISC_TO_IMP = 1.06;

function resolveDatasheet(array: SolarFile, path: string, defaults: Defaults): Pick<SolarArray, 'datasheet'> {
  const sheet = array.datasheet;
  if (!sheet) return {};
  // The two currents follow from power and voltage where a label leaves them out: Isc is 4 to 8 % above Imp (common practice, no source).
  const impA = defaults.quantity(
    sheet.imp,
    `${path}.imp`,
    tidy(
      Number(
        (sheet.isc === undefined
          ? array.power / sheet.vmp
          : Math.min(array.power / sheet.vmp, sheet.isc / ISC_TO_IMP)
        ).toPrecision(4),
      ),
    ),
    'current',
    'its power over vmp',
  );
  const iscA = defaults.quantity(
    sheet.isc,
    `${path}.isc`,
    tidy(Number((impA * ISC_TO_IMP).toPrecision(4))),
    'current',
    'usually 6 % above imp',
  );
  return {
    datasheet: {
      vocV: sheet.voc,
      iscA,
      vmpV: sheet.vmp,
      impA,
      // Crystalline silicon: -0.29 to -0.50 %/K, modern cells -0.36 (common practice).
      tempPowerPerK: defaults.quantity(
        sheet.tempPower,
        `${path}.tempPower`,
        -0.0036,
        'perKelvin',
        'usual for crystalline cells',
      ),
      ...(sheet.tempVoltage !== undefined && { tempVoltagePerK: sheet.tempVoltage }),
      ...(sheet.tempCurrent !== undefined && { tempCurrentPerK: sheet.tempCurrent }),
      ...(sheet.cells !== undefined && { cells: sheet.cells }),
    },
  };
}

function resolveController(
  controller: z.output<typeof controllerPart> | undefined,
  arrayW: number,
  scale: number,
  path: string,
  defaults: Defaults,
): SolarController {
  const kind = defaults.plain(controller?.kind, `${path}.kind`, 'MPPT', 'most controllers fitted now');
  const isMppt = kind === 'MPPT';
  return {
    kind,
    currentA: defaults.quantity(
      controller?.current,
      `${path}.current`,
      sizeUp(arrayW / (12.5 * scale), CONTROLLER_SIZES),
      'current',
      `the next usual size for ${tidy(arrayW)} W at ${tidy(12.5 * scale)} V`,
    ),
    ...(controller?.inputVoltage !== undefined && { maxInputV: controller.inputVoltage }),
    // Common practice: MPPT 94 to 98 %, PWM 97 to 99 %.
    efficiency: defaults.quantity(
      controller?.efficiency,
      `${path}.efficiency`,
      isMppt ? 0.97 : 0.98,
      'ratio',
      `usual for ${kind}`,
    ),
    // 10 to 40 mA; common practice, no source.
    standbyW: defaults.quantity(
      controller?.standby,
      `${path}.standby`,
      isMppt ? 0.3 : 0.1,
      'power',
      `usual for ${kind}`,
    ),
    // Common practice, no source.
    startMarginV: defaults.quantity(
      controller?.startMargin,
      `${path}.startMargin`,
      isMppt ? 5 : 0,
      'voltage',
      `usual for ${kind}`,
    ),
    ...chargeOverrides(controller?.charge),
  };
}
