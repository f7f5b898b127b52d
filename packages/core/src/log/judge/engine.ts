import type { CompareContext } from '../parts/compare-context.js';
import { type LogFinding, sizeOf } from './finding.js';

/** A drive shows what the engine charges with when the battery stands so far below the charger's set point, per 12 V [V]. */
const ROOM_V = 0.35;
/** Gives: at least so much of the charger's rating. Dead: less than this. */
const GIVES = 0.4;
const DEAD = 0.12;
const MIN_DEAD = 2;
const AROUND_H = 1;
const MIN_DRIVE_H = 0.5;
/** A battery that may be so cold is not charged by right [K above its limit]; where its temperature is not logged, it is less sure. */
const COLD_K = { logged: 2, told: 6 } as const;

interface Drive {
  readonly date: string;
  /** beyond sun and what flows before and after [A] */
  readonly amps: number;
  readonly hasRoom: boolean;
}

/** What flows into the battery during the drives of the trip, beyond the sun and what flows before and after. */
export function judgeEngine({ rig, replay, steps, dates, dayOf }: CompareContext): LogFinding[] {
  const { alternator } = rig;
  if (alternator?.charger.kind !== 'dcdc') return [];
  const { driving } = replay.conditions.itinerary;
  const { stepH } = replay.conditions.grid;
  const ratedA = alternator.charger.currentA;
  const profile = { ...rig.battery.charge, ...alternator.charger.charge };
  const scale = (rig.battery.nominalV * rig.battery.series) / 12;
  const around = Math.round(AROUND_H / stepH);
  const besideSun = (i: number) =>
    steps.batteryA[i]! - (steps.harvestW[i]! > 0 ? steps.harvestW[i]! / steps.voltageV[i]! : 0);
  const meanOver = (from: number, to: number, of: (i: number) => number) => {
    let [sum, n] = [0, 0];
    for (let i = Math.max(0, from); i < Math.min(driving.length, to); i++) {
      const value = of(i);
      if (Number.isNaN(value)) continue;
      sum += value;
      n++;
    }
    return n > 0 ? sum / n : Number.NaN;
  };
  const drives: Drive[] = [];
  for (let from = 0; from < driving.length; from++) {
    if (!(driving[from]! >= 1)) continue;
    let to = from;
    while (to < driving.length && driving[to]! >= 1) to++;
    if ((to - from) * stepH >= MIN_DRIVE_H) {
      const beside =
        meanOver(from - around - 1, from - 1, besideSun) / 2 + meanOver(to + 1, to + around + 1, besideSun) / 2;
      const amps = meanOver(from, to, besideSun) - beside;
      const volts = meanOver(from, to, (i) => steps.voltageV[i]!);
      const cellsC = meanOver(from, to, (i) => steps.batteryC[i]!);
      const dueV = profile.absorptionV + (Number.isNaN(cellsC) ? 0 : profile.perDegreeV * (cellsC - 25));
      const isLogged = !Number.isNaN(cellsC);
      const coldestC = isLogged ? cellsC : meanOver(from, to, (i) => replay.conditions.cabinC[i]!);
      const isWarm = coldestC > (rig.battery.chargeMinC ?? -Infinity) + COLD_K[isLogged ? 'logged' : 'told'];
      if (!Number.isNaN(amps) && isWarm)
        drives.push({ date: dates[dayOf[from]!]!, amps, hasRoom: volts < dueV - ROOM_V * scale });
    }
    from = to;
  }
  const told = drives.filter(({ amps, hasRoom }) => hasRoom || amps > GIVES * ratedA);
  const lastGood = told.findLastIndex(({ amps }) => amps > DEAD * ratedA);
  const dead = told.slice(lastGood + 1);
  if (dead.length < MIN_DEAD) return [];
  const good = told.slice(0, lastGood + 1);
  const meanA = (some: readonly Drive[]) => some.reduce((sum, { amps }) => sum + amps, 0) / Math.max(1, some.length);
  return [
    {
      code: 'engine_weak',
      level: 'caution',
      path: 'alternator',
      confidence: good.length >= 2 && dead.length >= 3 ? 'high' : 'fair',
      size: sizeOf(meanA(dead), 1, 'A'),
      ...(good.length > 0 && { since: dead[0]!.date }),
      args: { ratedA, amps: meanA(dead), drives: dead.map(({ date }) => date), goodA: meanA(good), good: good.length },
    },
  ];
}
