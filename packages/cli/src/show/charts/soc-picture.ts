import type { Rig, Run } from '@stayput/core';
import { DAY_MS, HOUR_MS, type RunSpread } from '@stayput/core/model';
import type { EChartsOption } from 'echarts';
import { verdict } from '../../words/verdict-words.js';
import { dayText, momentText, percent } from '../number.js';
import { oneLine } from '../style.js';
import { numbersAxis } from './axes.js';
import type { Chart, ChartSize } from './chart.js';
import { fitted } from './fitted.js';
import { INK } from './palette.js';
import { bandSeries, floorSeries } from './soc-series.js';
import { chartPoints, localMs, thinned, timeAxis } from './time-axis.js';

/** Longer runs are shown by the lowest and the highest of each day. */
const MAX_DAYS_BY_STEP = 40;
/** Less than this is rounding, not a load that went without [W]. */
const NOTHING_W = 0.01;
const LETTER_PX = 6.6;
const VEHICLES = '8 in 10 vehicles';

/** State of charge over a run, with the floor, the stops, when something went without power, and the band of an ensemble. */
export function socPicture(rig: Rig, run: Run, spread?: RunSpread): Chart {
  const { summary, days, trace, daily } = run;
  const { floor } = rig.battery;
  const byDay = daily.length > MAX_DAYS_BY_STEP;
  const band = byDay ? undefined : spread?.band;
  const lacking = byDay ? 'a day with a load without power' : 'a load without power';
  const isShort = trace.unservedW.some((power) => power > NOTHING_W);
  const from = Date.parse(`${days[0]!.date}T00:00:00Z`);
  const { startMs, stepH, steps } = trace.grid;
  const at = (step: number) => localMs(days, startMs + (step + 1) * stepH * HOUR_MS);
  const to = localMs(days, startMs + (steps - 1) * stepH * HOUR_MS) + stepH * HOUR_MS;
  const stops = stopsOf(run);
  const lowest = `${percent(summary.lowestSoc, floor)}, ${momentText(summary.lowestAt)}`;
  const first = daily[0]!.date;
  const last = daily.at(-1)!.date;

  return {
    id: 'soc',
    title: `${oneLine(rig.name)}: state of charge`,
    subtitle: `${dayText(first)} to ${dayText(last)} ${last.slice(0, 4)}, ${stops.map(({ name }) => name).join(', ')}`,
    description: `${verdict(rig, run).text} State of charge from ${percent(summary.startSoc)} at the start to ${percent(summary.endSoc)} at the end, lowest ${lowest}.`,
    foot: byDay ? 'Between the lowest and the highest of each day; an estimate by stayput.' : 'An estimate by stayput.',
    keys: [
      byDay
        ? { words: 'lowest to highest of the day', mark: 'bar', colour: INK.battery }
        : { words: 'state of charge', mark: 'line', colour: INK.battery },
      ...(band ? [{ words: VEHICLES, mark: 'band', colour: INK.battery } as const] : []),
      { words: `floor ${percent(floor)}`, mark: 'dashed', colour: INK.soft },
      ...(isShort ? [{ words: lacking, mark: 'bar', colour: INK.trouble } as const] : []),
    ],
    height: 250,
    ...(stops.length > 1 && { roomAbove: 16 }),
    option: (size, plotWidth): EChartsOption => ({
      xAxis: timeAxis(from, to, plotWidth),
      yAxis: numbersAxis((value) => `${value} %`, { min: 0, max: 100, interval: 25 }),
      series: [
        ...(band ? bandSeries(VEHICLES, band, at, chartPoints(size)) : []),
        ...(byDay
          ? dailyBand(run)
          : [
              line(
                thinned(
                  Array.from(trace.soc, (soc) => 100 * soc),
                  at,
                  chartPoints(size),
                ),
                band === undefined,
              ),
            ]),
        {
          ...floorSeries(floor),
          ...(stops.length > 1 && { markArea: stopBands(stops, size, plotWidth / (to - from)) }),
        },
        ...(isShort ? [shaded(lacking, byDay ? lackingDays(run) : spells(run, (to - from) / chartPoints(size)))] : []),
        {
          type: 'scatter',
          z: 6,
          data: [[localMs(days, Date.parse(summary.lowestAt)), 100 * summary.lowestSoc]],
          symbolSize: 8,
          itemStyle: { color: INK.ink, opacity: 1 },
          label: {
            show: true,
            formatter: lowest,
            color: INK.ink,
            fontSize: 12,
            // over a band it would hide where the band ends
            ...(band === undefined && { backgroundColor: INK.ground }),
            padding: [2, 4],
            distance: 8,
            ...labelSide(localMs(days, Date.parse(summary.lowestAt)), from, to, summary.lowestSoc),
          },
        },
      ],
    }),
  };
}

function line(data: [number, number | null][], isFilled: boolean): object {
  return {
    name: 'state of charge',
    type: 'line',
    symbol: 'none',
    data,
    lineStyle: { color: INK.battery, width: 2 },
    ...(isFilled && { areaStyle: { color: INK.battery, opacity: 0.12 } }),
  };
}

/** Two lines on each other, the lower unseen. */
function dailyBand({ daily }: Run): object[] {
  const noon = (date: string) => Date.parse(`${date}T00:00:00Z`) + DAY_MS / 2;
  const share = (soc: number) => Number((100 * soc).toFixed(1));
  const common = { type: 'line', symbol: 'none', stack: 'day', step: 'middle' };
  return [
    { ...common, data: daily.map((day) => [noon(day.date), share(day.lowestSoc)]), lineStyle: { opacity: 0 } },
    {
      ...common,
      name: 'lowest to highest of the day',
      data: daily.map((day) => [noon(day.date), share(day.highestSoc - day.lowestSoc)]),
      lineStyle: { opacity: 0 },
      areaStyle: { color: INK.battery, opacity: 1 },
    },
  ];
}

interface Stop {
  readonly name: string;
  readonly from: number;
  readonly to: number;
}

function stopsOf({ daily }: Run): Stop[] {
  const stops: Stop[] = [];
  for (const { date, stop } of daily) {
    const from = Date.parse(`${date}T00:00:00Z`);
    const before = stops.at(-1);
    const name = oneLine(stop);
    if (before?.name === name) stops[stops.length - 1] = { ...before, to: from + DAY_MS };
    else stops.push({ name, from, to: from + DAY_MS });
  }
  return stops;
}

/** Every other stop on a ground of its own, its name above where there is room. */
function stopBands(stops: readonly Stop[], size: ChartSize, pxPerMs: number): object {
  const fontSize = size === 'wide' ? 12 : 11;
  return {
    silent: true,
    animation: false,
    label: { show: true, position: 'top', color: INK.soft, fontSize, distance: 4 },
    data: stops.map(({ name, from, to }, k) => {
      const room = Math.floor(((to - from) * pxPerMs) / LETTER_PX);
      return [
        {
          name: room < 3 ? '' : fitted(name, room),
          xAxis: from,
          itemStyle: { color: INK.soft, opacity: k % 2 === 1 ? 0.09 : 0 },
        },
        { xAxis: to },
      ];
    }),
  };
}

interface Spell {
  readonly from: number;
  to: number;
}

/** When a load went without power; spells so close that a picture cannot part them are one. */
function spells({ trace, days }: Run, minMs: number): Spell[] {
  const { startMs, stepH, steps } = trace.grid;
  const stepMs = stepH * HOUR_MS;
  const found: Spell[] = [];
  for (let i = 0; i < steps; i++) {
    if (!(trace.unservedW[i]! > NOTHING_W)) continue;
    const from = startMs + i * stepMs;
    const before = found.at(-1);
    if (before && from - before.to <= minMs) before.to = from + stepMs;
    else found.push({ from, to: from + stepMs });
  }
  return found.map(({ from, to }) => {
    const local = localMs(days, from);
    return { from: local, to: local + Math.max(to - from, minMs) };
  });
}

/** Days on which a load went without power, those in a row together. */
function lackingDays({ daily }: Run): Spell[] {
  const found: Spell[] = [];
  for (const { date, unservedWh } of daily) {
    if (!(unservedWh > NOTHING_W)) continue;
    const from = Date.parse(`${date}T00:00:00Z`);
    const before = found.at(-1);
    if (before?.to === from) before.to = from + DAY_MS;
    else found.push({ from, to: from + DAY_MS });
  }
  return found;
}

function shaded(name: string, times: readonly Spell[]): object {
  return {
    name,
    type: 'line',
    data: [],
    silent: true,
    markArea: {
      silent: true,
      animation: false,
      itemStyle: { color: INK.trouble, opacity: 0.32 },
      data: times.map(({ from, to }) => [{ xAxis: from }, { xAxis: to }]),
    },
  };
}

/** Where the words at the lowest point stay on the picture. */
function labelSide(at: number, from: number, to: number, soc: number): object {
  const share = (at - from) / (to - from);
  return {
    position: soc > 0.5 ? 'bottom' : 'top',
    align: share > 0.7 ? 'right' : share < 0.3 ? 'left' : 'center',
  };
}
