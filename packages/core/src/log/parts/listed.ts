import type { Task } from '../../math/index.js';
import { type Assembled, assembleTask } from '../../simulate/index.js';
import type { CompareContext } from './compare-context.js';
import { CABIN_DOUBT_K, type ListedDraw } from './nights.js';

/** A load is on all the time above this share of a step, and a timetable's loads are off below this [W]. */
const ON_SHARE = 0.98;
const OFF_W = 1;

/** What the rig as written draws at its quietest, as told and in a cabin that is warmer or colder than told. */
export function* listedDraw({ rig, replay, assembled, steps }: CompareContext): Task<ListedDraw> {
  const { conditions, startSoc } = replay;
  const follows = rig.loads.some((load) => load.kind === 'scheduled' && load.draw.kind === 'expression');
  const variants: Assembled[] = [];
  for (const moreK of follows ? [-CABIN_DOUBT_K, CABIN_DOUBT_K] : []) {
    const cabinC = conditions.cabinC.map((c) => c + moreK);
    variants.push(yield* assembleTask({ ...rig, solar: [] }, { ...conditions, cabinC }, startSoc));
    yield;
  }
  const volts = rig.battery.nominalV * rig.battery.series * 1.09;
  return (step) => {
    const busV = Number.isNaN(steps.voltageV[step]!) ? volts : steps.voltageV[step]!;
    const asTold = quietA(assembled, assembled.standbyW, step, busV);
    const others = variants.map((one) => quietA(one, assembled.standbyW, step, busV));
    return { asTold, low: Math.min(asTold, ...others), high: Math.max(asTold, ...others) };
  };
}

function quietA(
  { plain, inverter, fridges, heaterW }: Assembled,
  standbyW: number,
  step: number,
  busV: number,
): number {
  let amps = (standbyW + fridges.reduce((sum, lane) => sum + lane.standbyW, 0) + (heaterW?.[step] ?? 0)) / busV;
  for (const { load, onShare, meanW, meanA } of plain) {
    const isSpread = load.hoursPerDay !== undefined || load.timesPerDay !== undefined || load.share < 1;
    if (!isSpread && onShare[step]! >= ON_SHARE) amps += meanW ? meanW[step]! / busV : (meanA?.[step] ?? 0);
  }
  if (inverter && !(inverter.askedW[step]! > OFF_W)) amps += inverter.columns.inputW[step]! / busV;
  return amps;
}
