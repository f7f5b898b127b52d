import type { LogDay, LogReading } from '@stayput/core';
import { DAY_MS } from '@stayput/core/model';
import type { CustomSeriesRenderItemAPI, CustomSeriesRenderItemParams, EChartsOption } from 'echarts';
import { dayText, fixed } from '../number.js';
import { numbersAxis } from './axes.js';
import type { Chart } from './chart.js';
import { INK } from './palette.js';
import { timeAxis } from './time-axis.js';

type Quantity = 'charge' | 'voltage' | 'flow';

/** How low and how high each day went; by charge where the log has it, else by voltage, else what went in and out. */
export function logPicture(reading: LogReading): Chart | undefined {
  const { daily } = reading;
  if (daily.some((day) => bounds(day, 'charge'))) return rangePicture(reading, 'charge');
  if (daily.some((day) => bounds(day, 'voltage'))) return rangePicture(reading, 'voltage');
  return logFlowPicture(reading);
}

function bounds(day: LogDay, of: Quantity): readonly [number, number] | undefined {
  const [low, high] =
    of === 'charge'
      ? [day.lowestSoc, day.highestSoc].map((soc) => (soc === undefined ? undefined : 100 * soc))
      : [day.lowestV, day.highestV];
  return low === undefined || high === undefined ? undefined : [low, high];
}

const NOON_MS = DAY_MS / 2;
/** Share of a day's room that its mark takes. */
const MARK_SHARE = 0.7;

function spanOf({ daily }: LogReading) {
  const at = (date: string) => Date.parse(`${date}T00:00:00Z`);
  const [first, last] = [daily[0]!.date, daily.at(-1)!.date];
  return {
    at,
    from: at(first),
    to: at(last) + DAY_MS,
    words: `${dayText(first)} to ${dayText(last)} ${last.slice(0, 4)}`,
  };
}

function rangePicture(reading: LogReading, of: 'charge' | 'voltage'): Chart {
  const { at, from, to, words: span } = spanOf(reading);
  const days = reading.daily.flatMap((day) => {
    const range = bounds(day, of);
    return range ? [{ date: day.date, range, isPart: day.coveredH < PART_H }] : [];
  });
  const words = (value: number) => (of === 'charge' ? `${fixed(value, 0)} %` : `${fixed(value, 2)} V`);
  const lowest = days.reduce((a, b) => (b.range[0] < a.range[0] ? b : a));
  const key = 'lowest to highest of the day';
  const part = 'a day that is not whole in the log';
  const series = (name: string, isPart: boolean) => ({
    name,
    type: 'custom',
    data: days.filter((day) => day.isPart === isPart).map(({ date, range }) => [at(date) + NOON_MS, ...range]),
    renderItem: (_: CustomSeriesRenderItemParams, api: CustomSeriesRenderItemAPI) => {
      const [x, low] = api.coord([api.value(0), api.value(1)]) as [number, number];
      const [, high] = api.coord([api.value(0), api.value(2)]) as [number, number];
      const width = MARK_SHARE * (api.size!([DAY_MS, 0]) as [number, number])[0];
      return {
        type: 'rect',
        shape: { x: x - width / 2, y: high, width, height: Math.max(1.5, low - high) },
        style: isPart ? { fill: 'transparent', stroke: INK.battery, lineWidth: 1.2 } : { fill: INK.battery },
      };
    },
  });
  const hasParts = days.some(({ isPart }) => isPart);
  return {
    id: `log-${of}`,
    title: of === 'charge' ? 'State of charge, day by day' : 'Battery voltage, day by day',
    subtitle: `${span}, as the monitor has it`,
    description: `Lowest ${words(lowest.range[0])} on ${dayText(lowest.date)}. ${days.map(({ date, range: [low, high] }) => `${dayText(date)} ${words(low)} to ${words(high)}`).join('; ')}.`,
    foot: `Lowest ${words(lowest.range[0])} on ${dayText(lowest.date)}; days without rows are left empty.`,
    keys: [
      { words: key, mark: 'bar', colour: INK.battery },
      ...(hasParts ? [{ words: part, mark: 'hollow', colour: INK.battery } as const] : []),
    ],
    height: 230,
    option: (_, plotWidth): EChartsOption => ({
      xAxis: timeAxis(from, to, plotWidth),
      yAxis: numbersAxis(
        of === 'charge' ? words : (value) => fixed(value, 1),
        of === 'charge' ? { min: 0, max: 100, interval: 25 } : { name: 'V', nameGap: 8, scale: true },
      ),
      series: [series(key, false), ...(hasParts ? [series(part, true)] : [])] as never,
    }),
    markWords: (index, item) => {
      const day = days.filter(({ isPart }) => isPart === (index === 1))[item];
      return day && `${dayText(day.date)}: ${words(day.range[0])} to ${words(day.range[1])}`;
    },
  };
}

/** A day with fewer hours in the log shows less than went in and out. */
const PART_H = 0.9 * 24;

/** What went into the battery and out of it, a bar a day each way from the line between; undefined without a current. */
export function logFlowPicture(reading: LogReading): Chart | undefined {
  const { daily } = reading;
  if (!daily.some(({ chargedAh, dischargedAh }) => chargedAh !== undefined || dischargedAh !== undefined))
    return undefined;
  const { at, from, to, words: span } = spanOf(reading);
  const key = { in: 'into the battery', out: 'out of it (below)' };
  const bars = (plotWidth: number, name: string, colour: string, of: (day: LogDay) => number | undefined) => ({
    name,
    type: 'bar',
    barGap: '-100%',
    barWidth: Math.max(1, (MARK_SHARE * plotWidth * DAY_MS) / (to - from)),
    itemStyle: { color: colour },
    data: daily.map((day) => [at(day.date) + NOON_MS, of(day) ?? '-']),
  });
  const mean = (of: (day: LogDay) => number | undefined) => {
    const whole = daily.filter(({ coveredH }) => coveredH >= PART_H).flatMap((day) => of(day) ?? []);
    return whole.length > 0 ? whole.reduce((a, b) => a + b, 0) / whole.length : undefined;
  };
  const means = [mean(({ chargedAh }) => chargedAh), mean(({ dischargedAh }) => dischargedAh)];
  const [inAh, outAh] = means.map((ah) => (ah === undefined ? 'unknown' : `${fixed(ah, 1)} Ah`));
  return {
    id: 'log-flow',
    title: 'Into the battery and out of it, day by day',
    subtitle: `${span}; in Ah`,
    description: `On days that are whole in the log ${inAh} a day went in and ${outAh} out.`,
    foot: `On whole days ${inAh} a day in, ${outAh} out.`,
    keys: [
      { words: key.in, mark: 'bar', colour: INK.sun },
      { words: key.out, mark: 'bar', colour: INK.battery },
    ],
    height: 230,
    option: (_, plotWidth): EChartsOption => ({
      xAxis: timeAxis(from, to, plotWidth),
      yAxis: numbersAxis((value) => fixed(Math.abs(value), 0), { name: 'Ah', nameGap: 8 }),
      series: [
        bars(plotWidth, key.in, INK.sun, ({ chargedAh }) => chargedAh),
        bars(plotWidth, key.out, INK.battery, ({ dischargedAh }) =>
          dischargedAh === undefined ? undefined : -dischargedAh,
        ),
      ] as never,
    }),
    markWords: (index, item) => {
      const day = daily[item];
      const ah = index === 0 ? day?.chargedAh : day?.dischargedAh;
      return day && ah !== undefined
        ? `${dayText(day.date)}: ${fixed(ah, 1)} Ah ${index === 0 ? 'in' : 'out'}`
        : undefined;
    },
  };
}
