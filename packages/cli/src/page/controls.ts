import { type DayWindow, type Load, windowHours } from '@stayput/core/model';
import type { Format } from './format.js';
import type { Edit, Reading } from './protocol.js';
import { WORDS } from './strings.js';

/** A value of the rig that is dragged or stepped. */
export interface Control {
  readonly id: string;
  readonly group: 'power' | 'use';
  readonly label: string;
  readonly value: number;
  readonly min: number;
  readonly max: number;
  readonly step: number;
  /** few values are stepped, many are dragged */
  readonly kind: 'slider' | 'stepper';
  shown(value: number): string;
  edits(value: number): readonly Edit[];
}

const set = (path: Edit['path'], value: unknown): readonly Edit[] => [{ file: 'rig', path, value }];

/** The controls of a rig: what moves its answer most, each with where it stands in the rig's file. */
export function controlsOf({ rig }: Reading, f: Format): Control[] {
  const { battery, solar, loads, cabin } = rig;
  const controls: Control[] = [
    {
      id: 'battery.capacity',
      group: 'power',
      label: WORDS.batteryCapacity,
      value: battery.capacityAh,
      min: 10,
      max: Math.max(400, battery.capacityAh),
      step: 5,
      kind: 'slider',
      shown: (ah) => `${f.number(ah, 0)} Ah`,
      edits: (ah) => set(['battery', 'capacity'], `${ah} Ah`),
    },
    {
      id: 'battery.count',
      group: 'power',
      label: WORDS.batteryCount,
      value: battery.count,
      min: 1,
      max: Math.max(8, battery.count),
      step: 1,
      kind: 'stepper',
      shown: (count) => f.number(count, 0),
      edits: (count) => set(['battery', 'count'], count),
    },
    {
      id: 'battery.floor',
      group: 'power',
      label: WORDS.floor,
      value: Math.round(battery.floor * 100),
      min: 0,
      max: 90,
      step: 5,
      kind: 'slider',
      shown: (percent) => f.percent(percent / 100),
      edits: (percent) => set(['battery', 'floor'], `${percent} %`),
    },
  ];
  for (const [k, { name, powerW, count, series, tiltDeg, datasheet }] of solar.entries()) {
    controls.push({
      id: `solar.${k}.count`,
      group: 'power',
      label: `${WORDS.panelCount(name)} (${f.number(powerW, 0)} W)`,
      value: count,
      min: series,
      max: Math.max(8 * series, count),
      step: series,
      kind: 'stepper',
      shown: (n) => f.number(n, 0),
      edits: (n) => set(['solar', k, 'count'], n),
    });
    if (!datasheet)
      controls.push({
        id: `solar.${k}.power`,
        group: 'power',
        label: WORDS.panelPower(name),
        value: powerW,
        min: 5,
        max: Math.max(450, powerW),
        step: 5,
        kind: 'slider',
        shown: (watts) => `${f.number(watts, 0)} W`,
        edits: (watts) => set(['solar', k, 'power'], `${watts} W`),
      });
    controls.push({
      id: `solar.${k}.tilt`,
      group: 'power',
      label: WORDS.tilt(name),
      value: tiltDeg,
      min: 0,
      max: Math.max(70, tiltDeg),
      step: 5,
      kind: 'slider',
      shown: (deg) => (deg === 0 ? WORDS.flat : `${f.number(deg, 0)}°`),
      edits: (deg) => set(['solar', k, 'tilt'], `${deg} deg`),
    });
  }
  for (const [k, load] of loads.entries()) controls.push(...controlsOfLoad(load, k, f));
  controls.push({
    id: 'cabin.gain',
    group: 'use',
    label: WORDS.gain,
    value: cabin.gainK,
    min: 0,
    max: Math.max(25, cabin.gainK),
    step: 1,
    kind: 'slider',
    shown: f.kelvin,
    edits: (kelvin) => set(['cabin', 'gain'], `${kelvin} degC`),
  });
  return controls;
}

function controlsOfLoad(load: Load, k: number, f: Format): Control[] {
  const common = { group: 'use', kind: 'slider' } as const;
  if (load.kind === 'fridge')
    return [
      {
        ...common,
        id: `loads.${k}.setpoint`,
        label: WORDS.setpoint(load.name),
        value: load.setpointC,
        min: Math.min(-22, load.setpointC),
        max: Math.max(14, load.setpointC),
        step: 1,
        shown: f.temperature,
        edits: (c) => set(['loads', k, 'setpoint'], `${c} degC`),
      },
    ];
  const { name, draw, hoursPerDay, timesPerDay, when } = load;
  return [
    ...(draw.kind === 'power'
      ? [
          {
            ...common,
            id: `loads.${k}.power`,
            label: WORDS.watts(name),
            value: draw.powerW,
            min: 0,
            max: Math.max(100, 2 * draw.powerW),
            step: 1,
            shown: (watts: number) => `${f.number(watts, 0)} W`,
            edits: (watts: number) => set(['loads', k, 'power'], `${watts} W`),
          },
        ]
      : []),
    ...(hoursPerDay !== undefined
      ? [
          {
            ...common,
            id: `loads.${k}.hours`,
            label: WORDS.hours(name),
            value: hoursPerDay,
            min: 0,
            max: Math.max(Math.min(12, hoursIn(when)), hoursPerDay),
            step: 0.5,
            shown: (hours: number) => `${f.number(hours, Number.isInteger(hours) ? 0 : 1)} h`,
            edits: (hours: number) => set(['loads', k, 'hours'], hours),
          },
        ]
      : []),
    ...(timesPerDay !== undefined
      ? [
          {
            ...common,
            id: `loads.${k}.times`,
            label: WORDS.times(name),
            value: timesPerDay,
            min: 0,
            max: Math.max(40, timesPerDay),
            step: 1,
            shown: (times: number) => f.number(times, 0),
            edits: (times: number) => set(['loads', k, 'times'], times),
          },
        ]
      : []),
  ];
}

/** So long a load can run in its windows at most; those that the sun sets may be short [h]. */
function hoursIn(when: readonly DayWindow[]): number {
  return when.length === 0 ? 24 : when.reduce((sum, window) => sum + (windowHours(window) ?? 4), 0);
}
