import { halfWidth90, Z90 } from '../../math/index.js';
import type { Rig, ShadeWindow } from '../../rig/index.js';
import { solarLane } from '../../simulate/index.js';
import { clock, percent } from '../compare/words.js';
import { judgePanel, type PanelLoss, type PanelVerdict } from '../judge/panel.js';
import type { Training } from '../parts/calibrate-training.js';
import { type Findings, type Found, isFound, isUntold, type NotIdentifiable } from '../parts/calibrate-types.js';

/**
 * Standard error of what no log can tell: the light itself. A small irradiance sensor on a roof is right within 5 %, so 3 %
 * is taken as one standard error; weather stations stand elsewhere; best days taken as cloudless are a guess (all common
 * practice, no source). Models of panels differ by 1 to 3 % among themselves, which is within it.
 */
const LIGHT_ERROR = { irradiance: 0.03, file: 0.05, 'clear sky': 0.08 } as const;
const MIN_DAYS = 4;
const NOON_H = 13;
/** An interval wider than this share of its value tells nothing. */
const WIDEST = 0.6;
/** `losses.other` may lie between −1 and 0.95. */
const MAX_OTHER = 0.95;
const MIN_OTHER = -1;
/** What a shade keeps is known no better than this, as its hours begin and end with the clock's. */
const KEEPS_ERROR = 0.05;
/** Shade is tried at these shares of direct sun left. */
const TRIED_KEEPS = [0, 0.15, 0.3, 0.5, 0.75, 1];

/**
 * What the panels give of the rig's promise outside all losses that come and go, and the shade of some hours of the day, both by
 * `judgePanel`. Since a step the level is that of the days since.
 */
export function calibrateSolar(
  training: Training,
  wanted: { readonly solar: boolean; readonly shade: boolean },
): Findings {
  const { rig, light } = training;
  const untold = (why: string): Findings => ({
    fitted: [],
    untold: wanted.solar ? [{ fit: 'solar', name: 'solar factor', why }] : [],
    notes: [],
  });
  if (rig.solar.length === 0) return untold('the rig has no panels');
  if (!training.hasHarvest)
    return untold('the log has no harvest to tell it from: a column of solar power or current would');
  const comparable = training.comparable.map((one, i) =>
    one === 1 && training.isTrain[i] === 1 && isUnclipped(training, i) ? 1 : 0,
  );
  const verdict = judgePanel({ ...training, comparable });
  if (!verdict || verdict.days < MIN_DAYS)
    return untold(
      `only ${verdict?.days ?? 0} days have hours in which nothing but sun and panel held the harvest back; the battery was nearly full in the others`,
    );
  const step = verdict.losses.find(({ kind }) => kind === 'since');
  const level = step ? verdict.level * step.keeps : verdict.level;
  const shades = wanted.shade ? verdict.losses.filter(({ kind }) => kind === 'hours') : [];
  const shade = shades.map((loss) => shadeOf(training, verdict, loss));
  const factor = wanted.solar
    ? factorOf(training, verdict, level, step?.days ?? verdict.days, shade.some(isFound))
    : [];
  const all = [...factor, ...shade];
  return {
    fitted: all.filter(isFound),
    untold: all.filter(isUntold),
    notes: [
      ...(light === 'clear sky' && wanted.solar
        ? [
            "The light is that of the panel's own best days, so a loss that is there every day hardly shows in the solar factor.",
          ]
        : []),
      ...(step
        ? [
            `The panels give ${percent(level)} of what the rig promises since ${training.dates[step.fromDay]!}, and gave ${percent(verdict.level)} before: the fit takes the days since. If that is corrected, fit again.`,
          ]
        : []),
    ],
  };
}

/** A step in which a controller may have been at its rating is no evidence of the panel. */
const isUnclipped = ({ offeredW, availableW }: Training, i: number) => offeredW[i]! >= availableW[i]! * (1 - 1e-9);

function factorOf(
  { rig, light, range, replay }: Training,
  { standardError }: PanelVerdict,
  ratio: number,
  days: number,
  hasShade: boolean,
): (Found | NotIdentifiable)[] {
  const half = Math.hypot(
    halfWidth90(days - 1) * standardError,
    Z90 * LIGHT_ERROR[light] * ratio,
    Z90 * replay.evidence.side.error * ratio,
  );
  const fit = { fit: 'solar', name: 'solar factor' } as const;
  if (2 * half > WIDEST * ratio)
    return [
      {
        ...fit,
        why: `the days differ too much: ${ratio.toFixed(2)}, but from ${(ratio - half).toFixed(2)} to ${(ratio + half).toFixed(2)}`,
      },
    ];
  const others = rig.solar.map(({ losses }) => 1 - ratio * (1 - (losses.other ?? 0)));
  if (others.some((other) => other > MAX_OTHER || other < MIN_OTHER))
    return [
      {
        ...fit,
        why: `the panels give ${ratio.toFixed(2)} of what the rig promises, which is beyond what a loss can be; is the power of the panels right?`,
      },
    ];
  const where = hasShade ? ', in the hours outside the shade' : '';
  const text = `The panels give ${ratio.toFixed(2)} of what the rig promises${where} (${(ratio - half).toFixed(2)} to ${(ratio + half).toFixed(2)}).`;
  return [
    {
      ...fit,
      path: 'solar[0].losses.other',
      value: ratio,
      low: ratio - half,
      high: ratio + half,
      unit: '',
      before: 1,
      by: `harvest against light, ${days} days, where nothing but sun and panel limited it`,
      text,
      applyTo: (one) => ({
        ...one,
        solar: one.solar.map((array, k) => ({ ...array, losses: { ...array.losses, other: others[k]! } })),
      }),
      writes: others.map((other, k) => ({
        path: ['solar', k, 'losses', 'other'],
        value: `${(100 * other).toFixed(1)} %`,
        comment: `Found in the log of ${range}: the panels give ${ratio.toFixed(2)} (${(ratio - half).toFixed(2)} to ${(ratio + half).toFixed(2)}) of what the other losses leave${where}.`,
      })),
    },
  ];
}

function shadeOf(training: Training, verdict: PanelVerdict, loss: PanelLoss): Found | NotIdentifiable {
  const { rig, range } = training;
  const name = `${loss.toHour <= NOON_H ? 'morning' : loss.fromHour >= NOON_H ? 'evening' : 'midday'} shade`;
  const window = { fromH: loss.fromHour, toH: loss.toHour };
  if (rig.solar.some(({ shade }) => shade.some((one) => one.fromH < window.toH && one.toH > window.fromH)))
    return {
      fit: 'shade',
      name,
      why: 'the rig has a shade in those hours already, and the panel gives still less: change its hours or what it keeps by hand',
    };
  const target = loss.keeps;
  const error = Math.hypot((loss.high - loss.low) / 2 / Z90, 0.1 * target);
  const shares = sharesUnder(training, window);
  const keepsAt = (share: number) => crossing(shares, share);
  const value = keepsAt(target);
  const low = Math.max(0, Math.min(keepsAt(target - Z90 * error), value - KEEPS_ERROR));
  const high = Math.min(1, Math.max(keepsAt(target + Z90 * error), value + KEEPS_ERROR));
  const [from, to] = [clock(window.fromH), clock(window.toH % 24)];
  const text = `From ${from} to ${to} the panels give ${(target * verdict.level).toFixed(2)} of what the rig promises, against ${verdict.level.toFixed(2)} in the other hours: something shades them${shares[0]! > target ? ", and takes part of the sky's light too, which a shade in the rig leaves" : ''}.`;
  return {
    fit: 'shade',
    name,
    path: 'solar[0].shade',
    value,
    low,
    high,
    unit: '',
    before: 1,
    by: 'harvest against light, by hour of the day',
    text,
    applyTo: (one) => ({ ...one, solar: one.solar.map((array) => withShade(array, { ...window, keeps: value })) }),
    writes: rig.solar.map(({ shade }, k) => ({
      path: shade.length > 0 ? ['solar', k, 'shade', shade.length] : ['solar', k, 'shade'],
      value: shade.length > 0 ? shadeEntry(from, to, value) : [shadeEntry(from, to, value)],
      comment: `Found in the log of ${range}: before, the panels gave ${(target * verdict.level).toFixed(2)} in these hours and ${verdict.level.toFixed(2)} in the others; direct sun left ${(100 * low).toFixed(0)} to ${(100 * high).toFixed(0)} %.`,
    })),
  };
}

const shadeEntry = (from: string, to: string, keeps: number) => ({ from, to, keeps: `${(100 * keeps).toFixed(0)} %` });

/** Share of the window's offer that it leaves at each of TRIED_KEEPS, over the steps that the log judges. */
function sharesUnder(
  { rig, conditions, comparable, isTrain, steps }: Training,
  window: Omit<ShadeWindow, 'keeps'>,
): number[] {
  const nominalV = rig.battery.nominalV * rig.battery.series;
  const hour = conditions.itinerary.localHour;
  const offerWith = (arrays: Rig['solar']) => {
    let sum = 0;
    for (const array of arrays) {
      const { availableW } = solarLane(array, rig, conditions, nominalV).columns;
      for (let i = 0; i < hour.length; i++) {
        const isInside = hour[i]! >= window.fromH && hour[i]! <= window.toH;
        if (isInside && comparable[i] === 1 && isTrain[i] === 1 && steps.cover[i]! > 0) sum += availableW[i]!;
      }
    }
    return sum;
  };
  const open = offerWith(rig.solar);
  return TRIED_KEEPS.map((keeps) =>
    keeps === 1 || !(open > 0) ? 1 : offerWith(rig.solar.map((array) => withShade(array, { ...window, keeps }))) / open,
  );
}

/** Adds a window of shade to an array. */
function withShade(array: Rig['solar'][number], window: ShadeWindow): Rig['solar'][number] {
  return { ...array, shade: [...array.shade, window] };
}

/** Where a rising curve over TRIED_KEEPS reaches a share; its ends beyond. */
function crossing(shares: readonly number[], share: number): number {
  const above = shares.findIndex((one) => one >= share);
  if (above === 0) return 0;
  if (above < 0) return 1;
  const t = (share - shares[above - 1]!) / (shares[above]! - shares[above - 1]!);
  return TRIED_KEEPS[above - 1]! + t * (TRIED_KEEPS[above]! - TRIED_KEEPS[above - 1]!);
}
