import { percent } from '../number.js';
import { BAND_OPACITY } from './chart.js';
import { INK } from './palette.js';

/**
 * Between two courses of a state of charge: two lines on each other, the lower unseen.
 * @param at where a step's end stands on the axis of time [ms]
 * @param points about so many are drawn
 */
export function bandSeries(
  name: string,
  { p10, p90 }: { readonly p10: ArrayLike<number>; readonly p90: ArrayLike<number> },
  at: (step: number) => number,
  points: number,
): object[] {
  const every = Math.max(1, Math.ceil(p10.length / points));
  const steps = Array.from({ length: Math.ceil(p10.length / every) }, (_, k) => k * every);
  const share = (soc: number) => Number((100 * soc).toFixed(1));
  const common = { type: 'line', symbol: 'none', stack: name, silent: true, lineStyle: { opacity: 0 } };
  return [
    { ...common, data: steps.map((step) => [at(step), share(p10[step]!)]) },
    {
      ...common,
      name,
      data: steps.map((step) => [at(step), share(p90[step]! - p10[step]!)]),
      areaStyle: { color: INK.battery, opacity: BAND_OPACITY },
    },
  ];
}

/** The floor of a state of charge, 0..1, as a dashed line across the picture. */
export const floorSeries = (floor: number) => ({
  name: `floor ${percent(floor)}`,
  type: 'line',
  data: [],
  silent: true,
  markLine: {
    silent: true,
    symbol: 'none',
    animation: false,
    label: { show: false },
    lineStyle: { color: INK.soft, type: 'dashed', width: 1.5 },
    data: [{ yAxis: 100 * floor }],
  },
});
