import { useState } from 'preact/hooks';
import type { Format } from '../format.js';
import type { SizePoint } from '../protocol.js';
import type { Store } from '../store.js';
import { WORDS } from '../strings.js';
import { Card, useId, useWidth } from './elements.js';

const HEIGHT = 260;
const [LEFT, RIGHT, TOP, BOTTOM] = [44, 14, 14, 40];

/** What could be bought, as a picture to explore. */
export function SizeTab({ store, f }: { store: Store; f: Format }) {
  const { size } = store.state;
  const id = useId();
  const [typed, setTyped] = useState<string>();
  return (
    <>
      <Card title={WORDS.size.title} about={WORDS.size.about}>
        <label for={id}>{WORDS.size.parts}</label>
        <textarea
          id={id}
          class="parts"
          spellcheck={false}
          wrap="off"
          rows={14}
          value={typed ?? store.partsText}
          onInput={({ currentTarget }) => {
            setTyped(currentTarget.value);
            store.setParts(currentTarget.value);
          }}
        />
        {size?.issues && (
          <div class="problems" role="alert">
            <ul>
              {size.issues.map((issue) => (
                <li key={`${issue.path}${issue.message}`}>
                  {issue.line !== undefined && <b>{WORDS.issueAt(issue.line, issue.column)}</b>}{' '}
                  <code>{issue.path}</code> {issue.message}
                  {issue.hint && ` (${issue.hint})`}
                </li>
              ))}
            </ul>
          </div>
        )}
        <p class="buttons">
          <button type="button" onClick={() => store.size()}>
            {WORDS.size.go}
          </button>
          {size?.isRunning && (
            <span role="status">
              {WORDS.size.working} <progress value={size.done} max={1} aria-label={WORDS.size.working} />
            </span>
          )}
        </p>
      </Card>
      {size?.points && <Picture points={size.points} verdict={size.verdict ?? ''} currency={size.currency} f={f} />}
    </>
  );
}

function Picture({
  points,
  verdict,
  currency,
  f,
}: {
  points: readonly SizePoint[];
  verdict: string;
  currency: string;
  f: Format;
}) {
  const [by, setBy] = useState<'massKg' | 'price'>('massKg');
  const [at, setAt] = useState(0);
  const most = {
    massKg: Math.max(...points.map(({ massKg }) => massKg)),
    price: Math.max(...points.map(({ price }) => price)),
  };
  const [limits, setLimits] = useState(most);
  const [ref, width] = useWidth();
  const id = useId();
  const shown = [...points].sort((a, b) => a[by] - b[by]);
  const isWithin = ({ massKg, price }: SizePoint) => massKg <= limits.massKg && price <= limits.price;
  // even, so that the line half way up is a whole night too
  const nights = 2 * Math.max(1, Math.ceil(Math.max(...points.map(({ nightsWithout }) => nightsWithout)) / 2));
  const [inner, height] = [width - LEFT - RIGHT, HEIGHT - TOP - BOTTOM];
  const x = (point: SizePoint) => LEFT + (inner * point[by]) / (most[by] * 1.05 || 1);
  const y = (point: SizePoint) => TOP + height * (1 - point.nightsWithout / nights);
  const chosen = shown[Math.min(at, shown.length - 1)];
  const value = (point: SizePoint) =>
    by === 'massKg' ? f.mass(point.massKg) : `${f.number(point.price, 0)} ${currency}`;
  const words = (point: SizePoint) =>
    WORDS.size.point(
      point.parts,
      f.mass(point.massKg),
      `${f.number(point.price, 0)} ${currency}`,
      point.nightsWithout,
      point.meets,
    );
  return (
    <Card title={WORDS.size.picture} about={verdict}>
      <p class="buttons">
        {(['massKg', 'price'] as const).map((one) => (
          <button type="button" key={one} aria-pressed={by === one} onClick={() => setBy(one)}>
            {WORDS.size.by[one]}
          </button>
        ))}
      </p>
      <div ref={ref} class="chart">
        <svg aria-hidden="true" width={width} height={HEIGHT} viewBox={`0 0 ${width} ${HEIGHT}`}>
          {[0, 0.5, 1].map((share) => (
            <g key={share}>
              <line
                class="rule"
                x1={LEFT}
                x2={width - RIGHT}
                y1={TOP + height * (1 - share)}
                y2={TOP + height * (1 - share)}
              />
              <text x={LEFT - 6} y={TOP + height * (1 - share) + 4} text-anchor="end">
                {f.number(share * nights, 0)}
              </text>
              <text
                x={LEFT + inner * share}
                y={HEIGHT - 22}
                text-anchor={share === 0 ? 'start' : share === 1 ? 'end' : 'middle'}
              >
                {by === 'massKg' ? f.mass(most.massKg * 1.05 * share) : f.number(most.price * 1.05 * share, 0)}
              </text>
            </g>
          ))}
          <text x={LEFT} y={HEIGHT - 5}>
            {WORDS.size.axes(WORDS.size.by[by])}
          </text>
          {shown.map((point) => (
            <circle
              key={point.parts}
              class={[
                point.meets ? 'meets' : 'misses',
                isWithin(point) ? '' : 'beyond',
                point === chosen ? 'chosen' : '',
              ].join(' ')}
              cx={x(point)}
              cy={y(point)}
              r={point === chosen ? 9 : 6}
            />
          ))}
        </svg>
        <input
          class="scrub"
          type="range"
          min={0}
          max={shown.length - 1}
          value={at}
          aria-label={WORDS.size.choose}
          aria-valuetext={chosen && words(chosen)}
          onInput={({ currentTarget }) => setAt(currentTarget.valueAsNumber)}
          onPointerMove={(event) => {
            const box = event.currentTarget.getBoundingClientRect();
            const [px, py] = [event.clientX - box.left, event.clientY - box.top];
            const distance = (point: SizePoint) => Math.hypot(x(point) - px, y(point) - py);
            const nearest = shown.reduce((a, b) => (distance(b) < distance(a) ? b : a));
            setAt(shown.indexOf(nearest));
          }}
        />
      </div>
      {chosen && <p class="read-out">{words(chosen)}</p>}
      {(['massKg', 'price'] as const).map((limit) => (
        <div class="control" key={limit}>
          <label for={`${id}${limit}`}>{WORDS.size.limit[limit]}</label>
          <output for={`${id}${limit}`}>
            {limit === 'massKg' ? f.mass(limits.massKg) : `${f.number(limits.price, 0)} ${currency}`}
          </output>
          <input
            id={`${id}${limit}`}
            type="range"
            min={0}
            max={Math.ceil(most[limit])}
            step={limit === 'massKg' ? 0.5 : 5}
            value={limits[limit]}
            onInput={({ currentTarget }) => setLimits({ ...limits, [limit]: currentTarget.valueAsNumber })}
          />
        </div>
      ))}
      <details>
        <summary>{WORDS.tableOf}</summary>
        <ul>
          {shown.filter(isWithin).map((point) => (
            <li key={point.parts}>
              {value(point)}: {words(point)}
            </li>
          ))}
        </ul>
      </details>
    </Card>
  );
}
