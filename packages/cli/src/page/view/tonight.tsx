import { useState } from 'preact/hooks';
import type { Format } from '../format.js';
import type { TonightAnswer, TonightAsked } from '../protocol.js';
import type { Side } from '../state.js';
import type { Store } from '../store.js';
import { WORDS } from '../strings.js';
import { Card, useId, useWidth } from './elements.js';

const SKIES = ['rain', 'dull', 'cloudy', 'fair', 'clear'] as const;
/** Days whose sky is asked for. */
const SKY_DAYS = 3;
const USUAL_SKY: TonightAsked['sky'] = Array.from({ length: SKY_DAYS }, () => 'fair');

/** What can be used from now until the sun has paid the night back. */
export function TonightTab({ side, store, f }: { side: Side; store: Store; f: Format }) {
  const { tonight } = store.state;
  const [asked, setAsked] = useState<TonightAsked>({
    soc: 60,
    volts: '',
    amps: '',
    now: '',
    sky: USUAL_SKY,
    use: '',
    drive: '',
  });
  const id = useId();
  const give = (change: Partial<TonightAsked>) => {
    const next = { ...asked, ...change };
    setAsked(next);
    store.tonight(next);
  };
  const field = (key: 'now' | 'volts' | 'amps' | 'use' | 'drive') => (
    <div class="control">
      <label for={id + key}>{WORDS.tonight[key]}</label>
      <input
        id={id + key}
        autocomplete="off"
        value={asked[key]}
        placeholder={WORDS.tonight.hints[key]}
        onInput={({ currentTarget }) => setAsked({ ...asked, [key]: currentTarget.value })}
        onChange={({ currentTarget }) => give({ [key]: currentTarget.value })}
      />
    </div>
  );
  const { reading } = side.answer;
  return (
    <>
      <Card title={WORDS.tonight.title} about={WORDS.tonight.about(reading?.place.name ?? '')}>
        <div class="control">
          <label for={`${id}s`}>{WORDS.tonight.soc}</label>
          <output for={`${id}s`}>{asked.volts.trim() ? WORDS.tonight.byVolts : f.percent(asked.soc / 100)}</output>
          <input
            id={`${id}s`}
            type="range"
            min={0}
            max={100}
            step={1}
            disabled={asked.volts.trim() !== ''}
            value={asked.soc}
            aria-valuetext={f.percent(asked.soc / 100)}
            onInput={({ currentTarget }) => give({ soc: currentTarget.valueAsNumber })}
          />
        </div>
        {asked.sky.map((sky, k) => (
          <div class="control" key={k}>
            <label for={`${id}d${k}`}>{WORDS.tonight.sky(k)}</label>
            <select
              id={`${id}d${k}`}
              value={sky}
              onChange={({ currentTarget }) =>
                give({ sky: asked.sky.map((one, n) => (n === k ? currentTarget.value : one)) })
              }
            >
              {SKIES.map((one) => (
                <option key={one}>{one}</option>
              ))}
            </select>
          </div>
        ))}
        {field('use')}
        {field('drive')}
        <details>
          <summary>{WORDS.tonight.more}</summary>
          {field('volts')}
          {field('amps')}
          {field('now')}
        </details>
        <p class="buttons">
          <button type="button" onClick={() => store.tonight(asked)}>
            {WORDS.tonight.go}
          </button>
          <span role="status">{tonight?.isRunning ? WORDS.working : ''}</span>
        </p>
        {tonight?.why && (
          <p class="problem" role="alert">
            {tonight.why}
          </p>
        )}
      </Card>
      {tonight?.answer && (
        <Said answer={tonight.answer} isStale={tonight.isRunning || tonight.why !== undefined} f={f} />
      )}
    </>
  );
}

function Said({ answer, isStale, f }: { answer: TonightAnswer; isStale: boolean; f: Format }) {
  const { spare, end, entries, findings } = answer;
  return (
    <div class={isStale ? 'stale' : undefined}>
      <Card title={WORDS.tonight.says}>
        <p class="verdict">{spare}</p>
        <p>{end}</p>
        <dl class="tonight">
          {entries.map(([name, text]) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{text}</dd>
            </div>
          ))}
        </dl>
        {findings.length > 0 && (
          <ul class="findings">
            {findings.map((text) => (
              <li class="caution" key={text}>
                {text}
              </li>
            ))}
          </ul>
        )}
        <Band answer={answer} f={f} />
      </Card>
    </div>
  );
}

const HEIGHT = 200;
const [LEFT, RIGHT, TOP, BOTTOM] = [40, 8, 10, 26];

function Band({ answer: { band, floor, end }, f }: { answer: TonightAnswer; f: Format }) {
  const [ref, width] = useWidth();
  const steps = band.p50.length;
  const [inner, height] = [width - LEFT - RIGHT, HEIGHT - TOP - BOTTOM];
  const x = (step: number) => LEFT + (inner * step) / steps;
  const y = (share: number) => TOP + height * (1 - share);
  const points = (column: readonly number[]) =>
    column.map((share, k) => `${x(k + 1).toFixed(1)},${y(share).toFixed(1)}`);
  return (
    <div ref={ref} class="chart">
      <svg
        role="img"
        aria-label={`${WORDS.tonight.band} ${end}`}
        width={width}
        height={HEIGHT}
        viewBox={`0 0 ${width} ${HEIGHT}`}
      >
        {[0, 0.5, 1].map((share) => (
          <g key={share}>
            <line class="rule" x1={LEFT} x2={width - RIGHT} y1={y(share)} y2={y(share)} />
            <text x={LEFT - 6} y={y(share) + 4} text-anchor="end">
              {share === 1 ? f.percent(1) : f.number(share * 100, 0)}
            </text>
          </g>
        ))}
        {band.midnights.map(({ step, date }) => (
          <g key={date}>
            <line class="rule" x1={x(step)} x2={x(step)} y1={TOP} y2={TOP + height} />
            <text x={x(step) + 3} y={HEIGHT - 8}>
              {WORDS.date(date)}
            </text>
          </g>
        ))}
        <path class="area" d={`M${points(band.p10).join('L')}L${points(band.p90).toReversed().join('L')}Z`} />
        <line class="floor" x1={LEFT} x2={width - RIGHT} y1={y(floor)} y2={y(floor)} />
        <text class="floor-mark" x={width - RIGHT - 4} y={y(floor) - 5} text-anchor="end">
          {WORDS.floorMark(f.percent(floor))}
        </text>
        <path class="line" d={`M${points(band.p50).join('L')}`} />
      </svg>
      <p class="about">{WORDS.tonight.band}</p>
    </div>
  );
}
