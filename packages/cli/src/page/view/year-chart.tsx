import type { StayStudy } from '@stayput/core';
import type { Format } from '../format.js';
import { WORDS } from '../strings.js';
import { Card, useId, useWidth } from './elements.js';

const HEIGHT = 200;
const [TOP, BOTTOM, LEFT] = [22, 26, 30];
/** Longer stays are no longer told apart by eye [days]. */
const MAX_BAR_DAYS = 30;

/** Days by months; a touch asks about that month. */
export function YearChart({
  study,
  month,
  f,
  isStale,
  choose,
}: {
  study: StayStudy;
  month: number;
  f: Format;
  isStale: boolean;
  choose: (month: number) => void;
}) {
  const { months, horizonDays } = study;
  const [ref, width] = useWidth();
  const id = useId();
  const most = Math.max(
    4,
    Math.min(MAX_BAR_DAYS, Math.max(...months.map((row) => Math.max(row.parkedDaysP50, row.darkDays)))),
  );
  const height = HEIGHT - TOP - BOTTOM;
  const column = (width - LEFT) / 12;
  const y = (days: number) => TOP + height * (1 - Math.min(days, most) / most);
  const cell = (days: number) => f.days(days, horizonDays);
  const ticks = [0, most / 2, most].map((tick) => (most >= 10 ? Math.round(tick) : Math.round(tick * 10) / 10));
  const isCut = months.some((row) => row.parkedDaysP50 > most);
  return (
    <Card title={WORDS.year} about={`${WORDS.yearAbout}${isCut ? ` ${WORDS.yearCut(most)}` : ''}`}>
      <div ref={ref} class={isStale ? 'chart stale' : 'chart'}>
        <svg aria-hidden="true" width={width} height={HEIGHT} viewBox={`0 0 ${width} ${HEIGHT}`}>
          {ticks.map((tick) => (
            <g key={tick}>
              <line class="rule" x1={LEFT} x2={width} y1={y(tick)} y2={y(tick)} />
              <text x={LEFT - 6} y={y(tick) + 4} text-anchor="end">
                {f.number(tick, Number.isInteger(tick) ? 0 : 1)}
              </text>
            </g>
          ))}
          {months.map((row, k) => {
            const [from, wide] = [LEFT + k * column + column * 0.14, column * 0.72];
            const bar = (days: number, kind: string) => (
              <rect class={kind} x={from} width={wide} y={y(days)} height={Math.max(0, y(0) - y(days))} />
            );
            return (
              <g key={row.month} class={row.month === month ? 'chosen' : undefined}>
                {row.month === month && (
                  <rect class="pick" x={LEFT + k * column} width={column} y={0} height={HEIGHT} rx="6" />
                )}
                {bar(row.parkedDaysP50, 'half')}
                {bar(row.parkedDaysP10, 'nine')}
                {row.parkedDaysP50 > most && (
                  <path class="beyond" d={`M${from},${TOP}l${wide / 2},-7l${wide / 2},7z`} />
                )}
                <line class="dark" x1={from - 2} x2={from + wide + 2} y1={y(row.darkDays)} y2={y(row.darkDays)} />
                <text x={from + wide / 2} y={HEIGHT - 8} text-anchor="middle">
                  {width < 420 ? WORDS.monthShort(row.month).slice(0, 1) : WORDS.monthShort(row.month)}
                </text>
              </g>
            );
          })}
        </svg>
        <fieldset class="months">
          <legend class="unseen">{WORDS.year}</legend>
          {months.map((row) => (
            <label key={row.month}>
              <input
                type="radio"
                name={id}
                class="unseen"
                checked={row.month === month}
                onChange={() => choose(row.month)}
              />
              <span class="unseen">
                {WORDS.yearRow(
                  WORDS.month(row.month),
                  cell(row.parkedDaysP10),
                  cell(row.parkedDaysP50),
                  cell(row.darkDays),
                )}
              </span>
            </label>
          ))}
        </fieldset>
      </div>
      <details>
        <summary>{WORDS.tableOf}</summary>
        <div class="scroll">
          <table class="year">
            <thead>
              <tr>
                <th scope="col">{WORDS.monthLabel}</th>
                <th scope="col">{WORDS.nine}</th>
                <th scope="col">{WORDS.halfHead}</th>
                <th scope="col">{WORDS.darkHead}</th>
              </tr>
            </thead>
            <tbody>
              {months.map((row) => (
                <tr key={row.month} data-month={row.month}>
                  <th scope="row">{WORDS.month(row.month)}</th>
                  <td>{cell(row.parkedDaysP10)}</td>
                  <td>{cell(row.parkedDaysP50)}</td>
                  <td>{cell(row.darkDays)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      </details>
    </Card>
  );
}
