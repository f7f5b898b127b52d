import { FOOD_SAFE_SOURCE, foodSafeC } from '../../load/index.js';
import type { Assembled } from '../inputs/assemble.js';
import type { Ledger } from '../ledger/ledger.js';
import type { FridgeMonth, FridgeReport } from '../types.js';
import { dayBounds, warmthOf } from './summarise.js';

/** How each fridge fared, by month: how much it ran in what heat, and how long its contents were too warm. */
export function fridgeReportsOf(assembled: Assembled, ledger: Ledger): FridgeReport[] {
  const { stepH } = assembled.input;
  const days = dayBounds(assembled);
  return assembled.fridges.map((lane) => {
    const { rooms, unservedW } = ledger.loads.find((load) => load.name === lane.load.name)!;
    const { onShare, servedW, insideC } = rooms![lane.zone]!;
    const warmAboveC = foodSafeC(lane.room, assembled.input.fridgeSwingK);
    const { roomC } = lane;
    const { holdDuty } = lane.columns;
    const over = (from: number, to: number): Omit<FridgeMonth, 'month'> => {
      let room = 0;
      let on = 0;
      let hold = 0;
      let served = 0;
      for (let i = from; i < to; i++) {
        room += roomC[i]!;
        on += onShare[i]!;
        hold += holdDuty[i]!;
        served += servedW[i]!;
      }
      const count = to - from;
      return {
        hours: count * stepH,
        roomMeanC: room / count,
        dutyCycle: on / count,
        holdDutyCycle: hold / count,
        whPerDay: (24 * served) / count,
        ...warmthOf(insideC, warmAboveC, stepH, from, to),
      };
    };
    const months: FridgeMonth[] = [];
    for (let at = 0; at < days.length; ) {
      const month = days[at]!.day.date.slice(0, 7);
      const from = days[at]!.from;
      while (at < days.length && days[at]!.day.date.startsWith(month)) at++;
      const to = days[at - 1]!.to;
      if (to > from) months.push({ month, ...over(from, to) });
    }
    return {
      name: lane.load.name,
      ...(lane.zone > 0 && { isSecondZone: true }),
      setpointC: lane.room.setpointC,
      warmAboveC,
      warmSource: FOOD_SAFE_SOURCE[warmAboveC < 0 ? 'frozen' : 'chilled'],
      months,
      days: days
        .filter(({ from, to }) => to > from)
        .map(({ day, from, to }) => {
          const { roomMeanC, dutyCycle } = over(from, to);
          return { date: day.date, roomMeanC, dutyCycle, hoursWithout: stepH * countWithout(unservedW, from, to) };
        }),
    };
  });
}

/** Less than this is rounding [W]. */
const NOTHING_W = 0.01;

function countWithout(unservedW: Float64Array, from: number, to: number): number {
  let count = 0;
  for (let i = from; i < to; i++) if (unservedW[i]! > NOTHING_W) count++;
  return count;
}
