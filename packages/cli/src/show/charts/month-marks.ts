import type { CustomSeriesRenderItemAPI, CustomSeriesRenderItemParams } from 'echarts';
import { monthName } from '../number.js';
import type { ChartSize } from './chart.js';
import { INK } from './palette.js';

const WHISKER_PX = 4;
const LEVEL_SHARE = 0.42;

/** From low to high at a place of the axis: data are [place, low, high]. */
export function whiskers(name: string, data: readonly (readonly [number, number, number])[]): object {
  return {
    name,
    type: 'custom',
    z: 5,
    data,
    silent: true,
    renderItem: (_: CustomSeriesRenderItemParams, api: CustomSeriesRenderItemAPI) => {
      const [x, low] = api.coord([api.value(0), api.value(1)]) as [number, number];
      const [, high] = api.coord([api.value(0), api.value(2)]) as [number, number];
      const line = (x1: number, y1: number, x2: number, y2: number) => ({
        type: 'line' as const,
        shape: { x1, y1, x2, y2 },
        style: { stroke: INK.ink, lineWidth: 1.5 },
      });
      return {
        type: 'group',
        children: [
          line(x, low, x, high),
          line(x - WHISKER_PX, low, x + WHISKER_PX, low),
          line(x - WHISKER_PX, high, x + WHISKER_PX, high),
        ],
      };
    },
  };
}

/** A short level line at a place of the axis: data are [place, height]. */
export function levels(name: string, colour: string, data: readonly (readonly [number, number])[]): object {
  return {
    name,
    type: 'custom',
    z: 4,
    data,
    silent: true,
    renderItem: (_: CustomSeriesRenderItemParams, api: CustomSeriesRenderItemAPI) => {
      const [x, y] = api.coord([api.value(0), api.value(1)]) as [number, number];
      const [width] = api.size!([1, 0]) as [number, number];
      return {
        type: 'line',
        shape: { x1: x - LEVEL_SHARE * width, y1: y, x2: x + LEVEL_SHARE * width, y2: y },
        style: { stroke: colour, lineWidth: 3 },
      };
    },
  };
}

/** "Jan", or "J" where there is little room. */
export const shortMonth = (month: number, size: ChartSize) =>
  size === 'wide' ? monthName(month) : monthName(month).slice(0, 1);
