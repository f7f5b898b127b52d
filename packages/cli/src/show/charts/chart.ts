import type { EChartsOption } from 'echarts';

/** For a page or a file, and for a phone. */
export type ChartSize = 'wide' | 'narrow';

/** A mark of the legend and its words. */
export interface ChartKey {
  readonly words: string;
  readonly mark: keyof typeof KEY_MARKS;
  readonly colour: string;
}

/**
 * A picture before it is drawn: plain data, cheap to make. `drawSvg` draws it for a file, a page draws it wide and narrow.
 * Texts are shown as they stand, so what comes from a file should have gone through `oneLine`.
 */
export interface Chart {
  /** a word; begins the ids inside the picture, so it is unlike that of every other picture of a page */
  readonly id: string;
  readonly title: string;
  /** one line on what it rests on */
  readonly subtitle: string;
  /** what someone who cannot see it should know */
  readonly description: string;
  /** one line under it */
  readonly foot: string;
  readonly keys: readonly ChartKey[];
  /** of what lies between legend and foot [px] */
  readonly height: number;
  /** the same on a phone, where it differs [px] */
  readonly narrowHeight?: number;
  /** for words above the topmost line, beside what the axis' own name takes; and for a scale at the right [px] */
  readonly roomAbove?: number;
  readonly roomRight?: number;
  /** two pictures in one: side by side, on a phone one above the other; its axes are arrays of two */
  readonly isTwin?: true;
  /** axes and series; grid, legend and titles are given by the frame. `plotWidth` is about what lies between the axes [px] */
  readonly option: (size: ChartSize, plotWidth: number) => EChartsOption;
  /** what is said of one mark when it is pointed at */
  readonly markWords?: (series: number, item: number) => string | undefined;
}

/** A band about a line is as pale in the legend as in the picture. */
export const BAND_OPACITY = 0.3;

/** Shapes of the legend's marks, as the series draw them. */
export const KEY_MARKS = {
  bar: 'rect',
  band: 'rect',
  hollow: 'path://M0 0H14V14H0ZM1.8 1.8V12.2H12.2V1.8Z',
  line: 'path://M0 5.5H18V8.5H0Z',
  dashed: 'path://M0 5.8H5V8.2H0ZM7 5.8H12V8.2H7ZM14 5.8H19V8.2H14Z',
  whisker: 'path://M3 0H11V1.6H7.8V12.4H11V14H3V12.4H6.2V1.6H3Z',
  dot: 'circle',
  square: 'path://M2 2H12V12H2ZM3.6 3.6V10.4H10.4V3.6Z',
} as const;
