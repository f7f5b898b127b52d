import { FOOD_SAFE_SOURCE, foodSafeC } from '../../load/index.js';
import type { Assembled } from '../inputs/assemble.js';
import type { Ledger } from '../ledger/ledger.js';
import type { LoopOutput } from '../loop/loop.js';
import type { FridgeMonth, FridgeReport } from '../types.js';
import { dayBounds } from './summarise.js';

/** Rounding above the threshold that is no warmth [K]. */
const SAME_K = 0.01;

/** How each fridge fared, by month: how much it ran in what heat, and how long its contents were too warm. */
export function fridgeReportsOf(assembled: Assembled, out: LoopOutput, ledger: Ledger): FridgeReport[] {
  const { steps, stepH } = assembled.input;
  const days = dayBounds(assembled);
  return assembled.fridges.map((lane, k) => {
    const record = ledger.loads.find((load) => load.name === lane.load.name)!;
    const insideC = out.fridgeC.subarray(k * steps, (k + 1) * steps);
    const warmAboveC = foodSafeC(lane.model, assembled.input.fridgeSwingK);
    const { roomC } = lane;
    const { holdDuty } = lane.columns;
    const { onShare, servedW } = record;
    const over = (from: number, to: number): Omit<FridgeMonth, 'month'> => {
      let room = 0;
      let on = 0;
      let hold = 0;
      let served = 0;
      let warm = 0;
      let warmestC = -Infinity;
      for (let i = from; i < to; i++) {
        room += roomC[i]!;
        on += onShare[i]!;
        hold += holdDuty[i]!;
        served += servedW[i]!;
        const inside = insideC[i]!;
        if (inside > warmAboveC + SAME_K) warm++;
        if (inside > warmestC) warmestC = inside;
      }
      const count = to - from;
      return {
        hours: count * stepH,
        roomMeanC: room / count,
        dutyCycle: on / count,
        holdDutyCycle: hold / count,
        whPerDay: (24 * served) / count,
        warmHours: warm * stepH,
        warmestC,
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
      setpointC: lane.model.setpointC,
      warmAboveC,
      warmSource: FOOD_SAFE_SOURCE[warmAboveC < 0 ? 'frozen' : 'chilled'],
      months,
      days: days
        .filter(({ from, to }) => to > from)
        .map(({ day, from, to }) => {
          const { roomMeanC, dutyCycle } = over(from, to);
          return { date: day.date, roomMeanC, dutyCycle };
        }),
    };
  });
}
