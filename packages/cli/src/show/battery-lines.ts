import type { Recovery, Rig, Run, RunRecovery } from '@stayput/core';
import { type ChargeCause, type ChargeLimit, lifeIsPredictable, MAX_ENGINE_MINUTES } from '@stayput/core/model';
import { worstDayText } from '../words/run-words.js';
import { labelled } from './labelled.js';
import { daysCounted, energy, fixed, hours, percent, significant } from './number.js';
import type { Style } from './style.js';

/** What the battery offered, what held its charge back and what the run cost it. */
export function batteryLines(
  rig: Rig,
  run: Run,
  recovery: RunRecovery | undefined,
  width: number,
  style: Style,
): string[] {
  return [style.bold('The battery'), ...labelled(batteryEntries(rig, run, recovery), width, style)];
}

export function batteryEntries(rig: Rig, run: Run, recovery: RunRecovery | undefined): [string, string][] {
  return [
    ['Usable', usable(rig, run)],
    ['Charging', charging(run)],
    ['Wear', wear(rig, run)],
    ...(recovery ? [['Recovery', back(recovery)] satisfies [string, string]] : []),
  ];
}

/** Less than this out of reach is not worth a word. */
const MIN_COLD = 0.05;

function usable({ battery: { chemistry, floor } }: Rig, { battery }: Run): string {
  const { capacityAh, usableAh, usableWh, outOfReach, coldestC, chargedWh, lossWh } = battery;
  const offers = `of ${significant(capacityAh)} Ah ${chemistry}, ${significant(usableAh)} Ah (${energy(usableWh)}) above the floor of ${percent(floor)}`;
  const cold =
    outOfReach < MIN_COLD
      ? ''
      : `; at its coldest, ${fixed(coldestC, 0)} °C, the lowest ${percent(outOfReach)} can be drawn slowly only${outOfReach <= floor ? ' (below the floor)' : ''}`;
  const lost =
    chargedWh < 1
      ? ''
      : `; ${energy(chargedWh)} went in, and ${significant((100 * lossWh) / chargedWh, 2)} of every 100 Wh were lost inside it`;
  return offers + cold + lost;
}

const BECAUSE: Readonly<Record<ChargeCause, string>> = {
  full: 'because the battery was full',
  acceptance: 'because the battery accepted no more',
  rating: 'by the permitted current',
  cold: 'by the cold',
  relay: 'because the relay held the voltage up',
  sun: 'too weak to use',
  engine: 'while the engine charged',
  mains: 'while the mains charged',
};

function charging({ charging, daily }: Run): string {
  const { spilledWh, acceptanceFromSoc } = charging;
  const spilled = (Object.keys(BECAUSE) as ChargeCause[])
    .filter((cause) => spilledWh[cause] >= 0.5)
    .sort((a, b) => spilledWh[b] - spilledWh[a])
    .map((cause) => `${energy(spilledWh[cause])} ${BECAUSE[cause]}`);
  return [
    worstDayText(charging, daily.length),
    ...(spilled.length > 0 ? [`Over the run this much sun was not taken: ${spilled.join(', ')}.`] : []),
    ...(acceptanceFromSoc !== undefined
      ? [`Its acceptance held the charge back from ${percent(acceptanceFromSoc)} upwards.`]
      : []),
  ].join(' ');
}

const HELD: Readonly<Record<ChargeCause, string>> = {
  sun: 'the sun',
  engine: 'the alternator itself',
  mains: 'the mains',
  rating: 'the permitted current',
  relay: 'the small voltage across relay and cables',
  acceptance: 'what the battery accepts',
  cold: 'the cold',
  full: 'a full battery',
};

/** What held the charge back while the engine ran: "the permitted current (3.2 h), what the battery accepts (40 min)". */
export function engineLimits({ charging: { engineHours } }: Run): string {
  return (Object.keys(HELD) as ChargeCause[])
    .filter((cause) => engineHours[cause] > 0.05)
    .sort((a, b) => engineHours[b] - engineHours[a])
    .map((cause) => `${HELD[cause]} (${hours(engineHours[cause])})`)
    .join(', ');
}

const YEAR_DAYS = 360;

function wear(
  { battery: { chemistry } }: Rig,
  { wear: { equivalentFullCycles, yearsTo80, cycleShare, calendarShare, longestWithoutFullH }, summary }: Run,
): string {
  const used = `${fixed(equivalentFullCycles, 1)} full cycles; longest without a full charge ${hours(longestWithoutFullH)}.`;
  if (!lifeIsPredictable(chemistry, longestWithoutFullH))
    return `${used} How long it lasts so cannot be told: lead-acid that is not filled sulphates within months`;
  const years = (value: number) => fixed(value, value < 9.5 ? 1 : 0);
  const byCycling = cycleShare.mid / (cycleShare.mid + calendarShare.mid);
  const likeThis =
    summary.days < YEAR_DAYS
      ? `if all time were like ${summary.days === 1 ? 'this day' : `these ${daysCounted(summary.days)}`}`
      : 'if each year is like this';
  return `${used} 80 % of its capacity would be left after ${years(yearsTo80.low)} to ${years(yearsTo80.high)} years, ${likeThis}; ${percent(byCycling)} of the wear is by cycling, the rest by age`;
}

const LIMIT: Readonly<Record<ChargeLimit, string>> = {
  none: 'nothing charges',
  source: 'the alternator gives no more',
  rating: 'the permitted current is the limit',
  voltage: 'the voltage left for charging is the limit',
  cold: 'the cold is the limit',
  full: 'the battery is full',
};

function back({ fromSoc, toSoc, ambientC, loadsW, driving, idling, minutesADay }: RunRecovery): string {
  const from = `from ${percent(fromSoc)} back to the floor of ${percent(toSoc)}, at ${fixed(ambientC, 0)} °C,`;
  const mornings =
    minutesADay === undefined
      ? ''
      : Number.isFinite(minutesADay)
        ? `. Driving ${hours(minutesADay / 60)} more every morning would have kept it above the floor`
        : `. Not even ${hours(MAX_ENGINE_MINUTES / 60)} more of driving every morning would have kept it above the floor`;
  const loads = `the loads take ${significant(loadsW, 2)} W meanwhile${mornings}`;
  const [road, idle] = [took(driving), took(idling)];
  if (road === idle) return `${from} ${road} of engine, driving or idling${why(driving)}; ${loads}`;
  return `${from} ${road} of driving${why(driving)}, or ${idle} of idling${why(idling)}; ${loads}`;
}

const why = ({ limit }: Recovery) => ` (${LIMIT[limit]})`;

const took = ({ minutes }: Recovery) =>
  Number.isFinite(minutes) ? `takes ${hours(minutes / 60)}` : 'needs more than two days';
