import { ConfigError, type Datasheet, type PanelTechnology } from '../rig/index.js';
import { BAND_GAP, curveAt, type ModuleParameters, STC_C, STC_WM2, THERMAL_VOLT_PER_K } from './module.js';
import { maximumPower, openCircuitV } from './single-diode.js';

/** Usual open-circuit voltage of one cell, to count cells when the datasheet does not [V]. Common practice, no source. */
export const CELL_VOC_V: Readonly<Record<PanelTechnology, number>> = { mono: 0.675, poly: 0.615, 'thin film': 0.6 };

/** Usual temperature coefficient of short-circuit current [1/K]. Common practice, no source: 0.03 to 0.07 %/K for silicon. */
export const ISC_TEMP_PER_K: Readonly<Record<PanelTechnology, number>> = { mono: 5e-4, poly: 5e-4, 'thin film': 1e-4 };

/** Ideality per cell between which the fit looks. Real modules lie at 0.9 to 1.4 in this translation; more is allowed. */
const IDEALITY_LOW = 0.4;
const IDEALITY_HIGH = 2;
/** Mean slope of power is taken between 25 °C and this, the range in which panels work. */
const HOT_C = 65;
const ROOM_K = 298.15;

/** Which temperature coefficient of the datasheet the fifth equation meets. */
export type FitTo = 'power' | 'voltage';

/**
 * The four equations at standard conditions for a given `aV`: short circuit, open circuit and the maximum power point
 * lie on the curve, and power is stationary there. With Rs also given the first three are linear in Iph, I0 and 1/Rsh,
 * so one unknown is left: Rs is bisected until dP/dV = 0.
 * @returns undefined when no Rs ≥ 0 and 1/Rsh ≥ 0 do it
 */
export function fitAtIdeality(
  sheet: Pick<Datasheet, 'vocV' | 'iscA' | 'vmpV' | 'impA'>,
  aV: number,
): { photoA: number; saturationA: number; seriesOhm: number; shuntOhm: number } | undefined {
  const { vocV, iscA, vmpV, impA } = sheet;
  const dark = Math.exp(-vocV / aV);
  // Saturation current is carried as I0·exp(Voc/a), of the order of Isc, so that nothing overflows.
  const solve = (rs: number) => {
    const short = Math.exp((iscA * rs - vocV) / aV);
    const mpp = Math.exp((vmpV + impA * rs - vocV) / aV);
    const openV = vocV - iscA * rs;
    const mppV = vmpV + (impA - iscA) * rs;
    const det = (1 - short) * mppV - openV * (mpp - short);
    const atOpenA = (iscA * mppV - openV * (iscA - impA)) / det;
    const shuntS = ((1 - short) * (iscA - impA) - (mpp - short) * iscA) / det;
    const slopeS = (atOpenA / aV) * mpp + shuntS;
    return { rs, atOpenA, shuntS, short, excess: impA - (vmpV * slopeS) / (1 + rs * slopeS) };
  };
  const maxOhm = (vocV - vmpV) / impA;
  const pieces = 64;
  let left = solve(0);
  for (let k = 1; k <= pieces; k++) {
    const right = solve((maxOhm * k) / pieces);
    if (left.excess * right.excess <= 0 && Number.isFinite(left.excess) && Number.isFinite(right.excess)) {
      let low = left;
      let high = right;
      for (let n = 0; n < 60; n++) {
        const middle = solve((low.rs + high.rs) / 2);
        if (middle.excess * low.excess > 0) low = middle;
        else high = middle;
      }
      const { rs, atOpenA, shuntS, short } = high;
      // A shunt conductance of rounding size below zero is an ideal shunt.
      if (atOpenA > 0 && shuntS > -1e-9)
        return {
          photoA: iscA + atOpenA * (short - dark) + Math.max(0, shuntS) * iscA * rs,
          saturationA: atOpenA * dark,
          seriesOhm: rs,
          shuntOhm: 1 / Math.max(0, shuntS),
        };
    }
    left = right;
  }
  return undefined;
}

/** Mean relative slope of maximum power from 25 to 65 °C at 1000 W/m² [1/K]. */
export function powerTempPerK(module: ModuleParameters): number {
  const cool = maximumPower(curveAt(module, STC_WM2, STC_C)).powerW;
  return (maximumPower(curveAt(module, STC_WM2, HOT_C)).powerW / cool - 1) / (HOT_C - STC_C);
}

/** Mean relative slope of open-circuit voltage from 25 to 65 °C at 1000 W/m² [1/K]. */
export function voltageTempPerK(module: ModuleParameters): number {
  const cool = openCircuitV(curveAt(module, STC_WM2, STC_C));
  return (openCircuitV(curveAt(module, STC_WM2, HOT_C)) / cool - 1) / (HOT_C - STC_C);
}

/**
 * Five parameters from a datasheet: the three points, stationary power, and a temperature coefficient, which in this
 * translation fixes the ideality. De Soto's fifth equation is the coefficient of open-circuit voltage (`fitTo:
 * 'voltage'`); the default meets that of power instead, which every datasheet gives and which energy hangs on.
 * Both are nearly linear in the ideality, so it is bisected. Rounded or marketing-led points may leave no resistances
 * ≥ 0 at the ideality wanted; then the nearest is taken and the band gap, which has no part in the three points, is
 * moved to meet the coefficient.
 * Source: De Soto, Klein & Beckman, Solar Energy 80, 2006, p. 78.
 * @param cells in series; absent = the datasheet's, else counted from Voc
 * @throws ConfigError when no module can have these values
 */
export function fitModule(
  sheet: Datasheet,
  cells: number | undefined,
  technology: PanelTechnology,
  fitTo: FitTo = 'power',
): ModuleParameters {
  checkSheet(sheet);
  const inSeries = cells ?? sheet.cells ?? Math.max(1, Math.round(sheet.vocV / CELL_VOC_V[technology]));
  const gap = BAND_GAP[technology];
  const iscTempAPerK = (sheet.tempCurrentPerK ?? ISC_TEMP_PER_K[technology]) * sheet.iscA;
  const moduleAt = (ideality: number): ModuleParameters | undefined => {
    const aV = ideality * inSeries * THERMAL_VOLT_PER_K * ROOM_K;
    const four = fitAtIdeality(sheet, aV);
    return four && { ...four, aV, cells: inSeries, iscTempAPerK, bandGapEv: gap.ev, bandGapPerK: gap.perK };
  };
  if (fitTo === 'voltage' && sheet.tempVoltagePerK === undefined)
    throw new RangeError('a fit to the voltage coefficient needs tempVoltagePerK');
  const wanted = fitTo === 'voltage' ? sheet.tempVoltagePerK! : sheet.tempPowerPerK;
  const coefficient = fitTo === 'voltage' ? voltageTempPerK : powerTempPerK;

  // The idealities that the fill factor allows are one interval; both coefficients fall along it.
  const steps = 64;
  let before: ModuleParameters | undefined;
  let beforeN = IDEALITY_LOW;
  for (let k = 0; k <= steps; k++) {
    const n = IDEALITY_LOW + ((IDEALITY_HIGH - IDEALITY_LOW) * k) / steps;
    const module = moduleAt(n);
    if (module && coefficient(module) <= wanted) {
      if (!before) return withBandGapFor(module, wanted, coefficient);
      return bisectIdeality(beforeN, n, before, wanted, moduleAt, coefficient);
    }
    if (module) {
      before = module;
      beforeN = n;
    } else if (before) break;
  }
  if (before) return withBandGapFor(before, wanted, coefficient);
  throw notAModule(
    `no single-diode module has these four values: fill factor ${fillFactor(sheet).toFixed(2)}, vmp/voc ` +
      `${(sheet.vmpV / sheet.vocV).toFixed(2)}, imp/isc ${(sheet.impA / sheet.iscA).toFixed(2)}; real ones have about ` +
      `0.68 to 0.82, 0.78 to 0.86 and 0.88 to 0.96`,
  );
}

type Coefficient = (module: ModuleParameters) => number;

function bisectIdeality(
  low: number,
  high: number,
  start: ModuleParameters,
  wanted: number,
  moduleAt: (ideality: number) => ModuleParameters | undefined,
  coefficient: Coefficient,
): ModuleParameters {
  let best = start;
  for (let i = 0; i < 40; i++) {
    const n = (low + high) / 2;
    const module = moduleAt(n);
    if (!module) break;
    best = module;
    if (coefficient(module) > wanted) low = n;
    else high = n;
  }
  return best;
}

/** The same curve at 25 °C with the band gap at which the coefficient is met; it falls as the gap widens. */
function withBandGapFor(module: ModuleParameters, wanted: number, coefficient: Coefficient): ModuleParameters {
  let low = module.bandGapEv / 2;
  let high = module.bandGapEv * 2;
  for (let i = 0; i < 50; i++) {
    const bandGapEv = (low + high) / 2;
    if (coefficient({ ...module, bandGapEv }) > wanted) low = bandGapEv;
    else high = bandGapEv;
  }
  return { ...module, bandGapEv: (low + high) / 2 };
}

function fillFactor(sheet: Datasheet): number {
  return (sheet.vmpV * sheet.impA) / (sheet.vocV * sheet.iscA);
}

function checkSheet(sheet: Datasheet): void {
  const { vocV, iscA, vmpV, impA, tempPowerPerK } = sheet;
  const numbers = [vocV, iscA, vmpV, impA, tempPowerPerK];
  if (!numbers.every(Number.isFinite) || !(vocV > 0 && iscA > 0 && vmpV > 0 && impA > 0))
    throw notAModule('voc, isc, vmp and imp must be more than 0');
  if (!(vmpV < vocV)) throw notAModule(`vmp (${vmpV} V) must be less than voc (${vocV} V)`);
  if (!(impA < iscA)) throw notAModule(`imp (${impA} A) must be less than isc (${iscA} A)`);
  if (!(vmpV > vocV / 2 && impA > iscA / 2))
    throw notAModule(
      `vmp (${vmpV} V) and imp (${impA} A) must be more than half of voc (${vocV} V) and isc (${iscA} A): power peaks there`,
    );
  if (!(tempPowerPerK < 0))
    throw notAModule(`tempPower must be negative, such as -0.36 %/degC; got ${tempPowerPerK * 100} %/degC`);
}

function notAModule(message: string): ConfigError {
  return new ConfigError([{ code: 'not_a_module', path: 'datasheet', message }]);
}
