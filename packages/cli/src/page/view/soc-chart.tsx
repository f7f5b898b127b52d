import { useState } from 'preact/hooks';
import type { Format } from '../format.js';
import type { Followed, Reading } from '../protocol.js';
import { WORDS } from '../strings.js';
import { Card, useWidth } from './elements.js';

const HEIGHT = 220;
const [LEFT, RIGHT, TOP, BOTTOM] = [40, 8, 10, 26];

/** The charge through the trip. A finger, or the arrow keys, reads it out. */
export function SocChart({
  followed,
  reading,
  f,
  isStale,
}: {
  followed: Followed;
  reading: Reading;
  f: Format;
  isStale: boolean;
}) {
  const { soc, days, summary, daily } = followed;
  const [ref, width] = useWidth();
  const [at, setAt] = useState<number>();
  const [inner, height] = [width - LEFT - RIGHT, HEIGHT - TOP - BOTTOM];
  const x = (sample: number) => LEFT + (inner * sample) / soc.length;
  const y = (share: number) => TOP + height * (1 - share);
  const line = Array.from(soc, (value, k) => `${x(k + 1).toFixed(1)},${y(value).toFixed(1)}`).join('L');
  const { floor } = reading.rig.battery;
  const every = Math.max(1, Math.ceil((days.length * 46) / inner));
  const off = summary.hoursOff >= 0.5 ? WORDS.cutFor(`${f.number(summary.hoursOff, 0)} h`) : WORDS.neverOff;
  const name =
    reading.stops.length > 1 && !reading.trip.stops.every(({ place }) => place === reading.trip.stops[0]!.place)
      ? reading.trip.name
      : reading.place.name;
  const sample = at === undefined ? undefined : Math.min(soc.length - 1, at);
  const words = sample === undefined ? '' : readOut(followed, sample, f);
  return (
    <Card title={WORDS.charge} about={WORDS.chargeAbout(days.length, WORDS.date(days[0]!.date), name)}>
      <div ref={ref} class={isStale ? 'chart stale' : 'chart'}>
        <svg
          role="img"
          aria-label={WORDS.chargeAlt(
            f.percent(summary.lowestSoc),
            WORDS.moment(summary.lowestAt),
            f.percent(floor),
            off,
          )}
          width={width}
          height={HEIGHT}
          viewBox={`0 0 ${width} ${HEIGHT}`}
        >
          {[0, 0.25, 0.5, 0.75, 1].map((share) => (
            <g key={share}>
              <line class="rule" x1={LEFT} x2={width - RIGHT} y1={y(share)} y2={y(share)} />
              <text x={LEFT - 6} y={y(share) + 4} text-anchor="end">
                {share === 1 ? f.percent(1) : f.number(share * 100, 0)}
              </text>
            </g>
          ))}
          {days.map(({ date, from }, k) => (
            <g key={date}>
              {k > 0 && <line class="rule" x1={x(from)} x2={x(from)} y1={TOP} y2={TOP + height} />}
              {k % every === 0 && (
                <text x={x(from) + 3} y={HEIGHT - 8}>
                  {WORDS.date(date)}
                </text>
              )}
            </g>
          ))}
          <path class="area" d={`M${LEFT},${y(0)}L${line}L${width - RIGHT},${y(0)}Z`} />
          <line class="floor" x1={LEFT} x2={width - RIGHT} y1={y(floor)} y2={y(floor)} />
          <text class="floor-mark" x={width - RIGHT - 4} y={y(floor) - 5} text-anchor="end">
            {WORDS.floorMark(f.percent(floor))}
          </text>
          <path class="line" d={`M${line}`} />
          {sample !== undefined && (
            <g class="reader">
              <line x1={x(sample + 1)} x2={x(sample + 1)} y1={TOP} y2={TOP + height} />
              <circle cx={x(sample + 1)} cy={y(soc[sample]!)} r="5" />
            </g>
          )}
        </svg>
        <input
          class="scrub"
          type="range"
          min={0}
          max={soc.length - 1}
          step={1}
          value={sample ?? 0}
          aria-label={WORDS.readAt}
          aria-valuetext={words || WORDS.readAt}
          onInput={({ currentTarget }) => setAt(currentTarget.valueAsNumber)}
          onPointerMove={(event) => {
            const { left, width: wide } = event.currentTarget.getBoundingClientRect();
            const share = (event.clientX - left) / wide;
            setAt(Math.max(0, Math.min(soc.length - 1, Math.round(share * soc.length))));
          }}
        />
      </div>
      <p class="read-out" aria-hidden="true">
        {words || `${f.percent(summary.lowestSoc)} · ${WORDS.moment(summary.lowestAt)}`}
      </p>
      <p class="happened">{followed.verdict}</p>
      {followed.others.length > 0 && (
        <ul class="others" aria-label={WORDS.troubles}>
          {followed.others.map((text) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      )}
      <details>
        <summary>{WORDS.tableOf}</summary>
        <div class="scroll">
          <table>
            <thead>
              <tr>
                <th scope="col">{WORDS.day}</th>
                <th scope="col">{WORDS.lowest}</th>
                <th scope="col">{WORDS.highest}</th>
                <th scope="col">{WORDS.sun}</th>
                <th scope="col">{WORDS.used}</th>
              </tr>
            </thead>
            <tbody>
              {daily.map((row) => (
                <tr key={row.date}>
                  <th scope="row">{WORDS.date(row.date)}</th>
                  <td>{f.percent(row.lowestSoc)}</td>
                  <td>{f.percent(row.highestSoc)}</td>
                  <td>{f.energy(row.pvHarvestWh)}</td>
                  <td>{f.energy(row.loadWh)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      </details>
    </Card>
  );
}

function readOut({ soc, sunW, engineW, loadW, startMs, sampleH, zones }: Followed, sample: number, f: Format): string {
  const zone = zones.findLast(({ from }) => from <= sample)!.zone;
  const at = new Date(startMs + (sample + 1) * sampleH * 3_600_000);
  const time = new Intl.DateTimeFormat('en-GB', {
    timeZone: zone,
    day: 'numeric',
    month: 'short',
    hour: '2-digit',
    minute: '2-digit',
  }).format(at);
  const watts = (column: Float32Array) => `${f.number(column[sample]!, 0)} W`;
  const engine = engineW[sample]! > 0.5 ? WORDS.readEngine(watts(engineW)) : '';
  return WORDS.readOut(time, f.percent(soc[sample]!), watts(sunW), watts(loadW), engine);
}
