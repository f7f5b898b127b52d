import type { StayStudy } from '@stayput/core';
import { monthName } from '../show/number.js';
import type { StayTarget, StopStay } from '../show/stay-text.js';
import { daysText } from '../show/stay-words.js';
import { oneLine } from '../show/style.js';

/** Of a trip its stops count, each in its own month; else every month that was asked for. */
export function stayTargets(
  study: StayStudy,
  stops: readonly StopStay[],
  atLeast: number | undefined,
  overloads: readonly string[],
): StayTarget[] {
  if (atLeast === undefined) return [];
  const rows =
    stops.length > 0
      ? stops.map((stop) => ({ ...stop, where: `${oneLine(stop.name)} in ${monthName(stop.month)}` }))
      : study.months.map((month) => ({ ...month, where: monthName(month.month) }));
  const { horizonDays } = study;
  const short = rows.filter(({ parkedDaysP10 }) => parkedDaysP10 < atLeast);
  const missed = short.map(({ where, parkedDaysP10 }) => `${daysText(parkedDaysP10, horizonDays)} (${where})`);
  return [
    {
      target: 'at-least',
      met: short.length === 0 && overloads.length === 0,
      text: `at least ${daysText(atLeast, Infinity)}: ${[
        ...(overloads.length > 0 ? ['no stay lasts with the overload above'] : []),
        ...(short.length > 0
          ? [`nine stays in ten last only ${missed.join(', ')}`]
          : overloads.length === 0
            ? ['nine stays in ten last so long']
            : []),
      ].join('; ')}`,
    },
  ];
}
