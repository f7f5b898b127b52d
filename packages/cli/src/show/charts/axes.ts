import type { XAXisComponentOption, YAXisComponentOption } from 'echarts';
import { fixed } from '../number.js';
import { INK } from './palette.js';

type AxisOption = XAXisComponentOption & YAXisComponentOption;

const COMMON = {
  axisLine: { show: true, onZero: false, lineStyle: { color: INK.rule } },
  axisTick: { show: false },
  axisLabel: { color: INK.soft, fontSize: 12, hideOverlap: true },
  splitLine: { lineStyle: { color: INK.rule } },
  nameTextStyle: { color: INK.soft, fontSize: 12 },
} as const;

/** An axis of names, in their order. */
export function namesAxis(names: readonly string[], more: object = {}): AxisOption {
  return {
    ...COMMON,
    type: 'category',
    data: [...names],
    splitLine: { show: false },
    ...more,
    axisLabel: { ...COMMON.axisLabel, color: INK.ink, ...labelOf(more) },
  } as AxisOption;
}

/** An axis of numbers. */
export function numbersAxis(words: (value: number) => string, more: object = {}): AxisOption {
  return {
    ...COMMON,
    type: 'value',
    ...more,
    axisLine: { show: false },
    axisLabel: { ...COMMON.axisLabel, formatter: words, ...labelOf(more) },
  } as AxisOption;
}

/** An axis of numbers with labels and rules at these places alone. */
export function placesAxis(
  places: readonly { readonly at: number; readonly words: string }[],
  { hasRules = true, ...more }: { min: number; max: number; hasRules?: boolean } & Record<string, unknown>,
): AxisOption {
  const at = places.map((place) => place.at);
  const words = new Map(places.map((place) => [place.at, place.words]));
  return {
    ...COMMON,
    type: 'value',
    ...more,
    axisLine: { show: !hasRules, onZero: false, lineStyle: { color: INK.rule } },
    axisTick: { show: !hasRules, customValues: at, lineStyle: { color: INK.rule } },
    axisLabel: { ...COMMON.axisLabel, customValues: at, formatter: (value: number) => words.get(value) ?? '' },
    splitLine: { show: hasRules, customValues: at, lineStyle: { color: INK.rule } },
  } as AxisOption;
}

const labelOf = (more: { axisLabel?: object }): object => more.axisLabel ?? {};

/** "0.08", "12.5", "1,200": a place on an axis, with no more digits than tell it. */
export function placeWords(value: number): string {
  return Math.abs(value) >= 1000 ? fixed(value, 0) : String(Number(value.toPrecision(4)));
}
