import type { Comparison } from '@stayput/core';
import { dayText, percent } from '../number.js';
import { oneLine } from '../style.js';
import type { Chart } from './chart.js';
import { hoursPicture } from './hours-picture.js';
import { linesPicture } from './lines-picture.js';
import { localMs } from './time-axis.js';

const FOOT = 'An estimate by stayput.';

/** State of charge of log and model over the days of the log. */
export function compareSocPicture(rigName: string, comparison: Comparison): Chart | undefined {
  const { traces, fit, from, to } = comparison;
  if (fit.socRmse === undefined) return undefined;
  const at = traces.timeMs.map((ms) => localMs(traces.days, ms));
  const shares = (soc: Float64Array) => soc.map((value) => 100 * value);
  return linesPicture({
    id: 'compare-soc',
    title: `${oneLine(rigName)}: state of charge, log and model`,
    subtitle: `${dayText(from)} to ${dayText(to)} ${to.slice(0, 4)}; the model begins with the log and is not set right afterwards`,
    description: `The model's state of charge differs from the log's by ${percent(fit.socRmse)} (root mean square).`,
    foot: FOOT,
    unit: '%',
    from: 0,
    to: 100,
    lines: [
      { name: 'log', localMs: at, values: shares(traces.logSoc) },
      { name: 'model', localMs: at, values: shares(traces.modelSoc) },
    ],
  });
}

/** Harvest by the hour of the day: what the log has, and what the rig promises where the battery takes all. */
export function panelHoursPicture(rigName: string, { panel, from, to }: Comparison): Chart | undefined {
  if (!panel) return undefined;
  const perHour = (share: (ratio: number) => number) => {
    const values = new Float64Array(24);
    for (const { hour, ratio, offeredWh } of panel.hours) values[hour] = offeredWh * share(ratio);
    const all = panel.hours.reduce((sum, { offeredWh }) => sum + offeredWh, 0);
    return values.map((wh) => (100 * wh) / all);
  };
  return hoursPicture({
    id: 'compare-panel',
    title: `${oneLine(rigName)}: what the panel gives of what it should`,
    subtitle: `by local hour, ${dayText(from)} to ${dayText(to)} ${to.slice(0, 4)}; a whole day's promise is 100 %`,
    description: `The panel gives ${percent(panel.share)} of its promise over a whole day. By hour: ${panel.hours
      .filter(({ ratio }) => !Number.isNaN(ratio))
      .map(({ hour, ratio }) => `${hour} h ${percent(ratio)}`)
      .join(', ')}.`,
    foot: FOOT,
    unit: '%',
    bars: [
      { name: 'given', values: perHour((ratio) => ratio) },
      { name: 'promised', values: perHour(() => 1) },
    ],
  });
}

/** The one that says most: the panel's hours where they are known, else the state of charge. */
export function comparePicture(rigName: string, comparison: Comparison): Chart | undefined {
  return compareSocPicture(rigName, comparison) ?? panelHoursPicture(rigName, comparison);
}
