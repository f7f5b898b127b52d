import { useState } from 'preact/hooks';
import type { Format } from '../format.js';
import type { ComparedTraces } from '../log-file.js';
import type { LogAnswer } from '../protocol.js';
import type { Side } from '../state.js';
import type { Store } from '../store.js';
import { WORDS } from '../strings.js';
import { Card, useId, useWidth } from './elements.js';
import { save } from './rig-text.js';

const GRAVEST_FIRST = { danger: 0, caution: 1, note: 2 } as const;

/** What a monitor wrote, held against the rig in front. */
export function LogTab({ side, store, f }: { side: Side; store: Store; f: Format }) {
  const { log } = store.state;
  const [isOver, setOver] = useState(false);
  const { reading } = side.answer;
  const [zone, setZone] = useState('');
  const id = useId();
  const take = (file: File | undefined) => file && store.readLog(file, zone);
  return (
    <>
      <Card title={WORDS.log.title} about={WORDS.log.about(reading?.rig.name ?? '', reading?.place.name ?? '')}>
        <label
          class={isOver ? 'drop over' : 'drop'}
          onDragOver={(event) => {
            event.preventDefault();
            setOver(true);
          }}
          onDragLeave={() => setOver(false)}
          onDrop={(event) => {
            event.preventDefault();
            setOver(false);
            take(event.dataTransfer?.files[0]);
          }}
        >
          {WORDS.log.drop}
          <input
            class="unseen"
            type="file"
            accept=".csv,.tsv,.txt,.gz,.zip,text/*"
            onChange={({ currentTarget }) => {
              take(currentTarget.files?.[0]);
              currentTarget.value = '';
            }}
          />
        </label>
        <div class="control">
          <label for={id}>{WORDS.log.zone}</label>
          <input
            id={id}
            value={zone}
            placeholder={WORDS.log.zoneHint}
            autocomplete="off"
            onInput={({ currentTarget }) => setZone(currentTarget.value)}
          />
        </div>
        {log?.stage && (
          <p role="status">
            {WORDS.log.stages[log.stage]} <progress value={log.done} max={1} aria-label={WORDS.log.stages[log.stage]} />
          </p>
        )}
        {log?.why && (
          <p class="problem" role="alert">
            {WORDS.cannotRead(log.name, log.why)}
          </p>
        )}
      </Card>
      {log?.answer && <Compared answer={log.answer} name={log.name} f={f} />}
      {log?.answer && <Fitted store={store} f={f} />}
    </>
  );
}

function Compared({ answer, name, f }: { answer: LogAnswer; name: string; f: Format }) {
  const { verdict, rows, span, findings, untold, fit, warnings, traces } = answer;
  const order = [...findings].sort((a, b) => GRAVEST_FIRST[a.level] - GRAVEST_FIRST[b.level]);
  return (
    <>
      <Card title={WORDS.log.says}>
        <p class="verdict">{verdict}</p>
        <p class="about">
          {WORDS.log.rows(
            name,
            f.number(rows.read, 0),
            f.number(span.days, 0),
            f.number(rows.corrected, 0),
            f.number(rows.rejected, 0),
          )}
        </p>
        <ul class="findings">
          {order.map((finding) => (
            <li key={`${finding.code}${finding.path}${finding.text}`} class={finding.level}>
              <b>{WORDS.levels[finding.level]}</b> {finding.text}
              <p class="about">{WORDS.log.evidence(finding.evidence, finding.confidence)}</p>
            </li>
          ))}
        </ul>
        {fit.socRmse !== undefined && <p>{WORDS.log.agrees(f.percent(fit.socRmse))}</p>}
        {untold.length + warnings.length > 0 && (
          <details>
            <summary>{WORDS.log.untold}</summary>
            <ul>
              {[...untold, ...warnings].map((text) => (
                <li key={text}>{text}</li>
              ))}
            </ul>
          </details>
        )}
        <p class="about">{WORDS.log.caution}</p>
      </Card>
      {traces && <Picture traces={traces} f={f} fit={fit.socRmse} />}
    </>
  );
}

const HEIGHT = 210;
const [LEFT, RIGHT, TOP, BOTTOM] = [40, 8, 10, 26];

function Picture({ traces, f, fit }: { traces: ComparedTraces; f: Format; fit: number | undefined }) {
  const { logSoc, modelSoc, days } = traces;
  const [ref, width] = useWidth();
  const [inner, height] = [width - LEFT - RIGHT, HEIGHT - TOP - BOTTOM];
  const x = (sample: number) => LEFT + (inner * sample) / logSoc.length;
  const y = (share: number) => TOP + height * (1 - share);
  const every = Math.max(1, Math.ceil((days.length * 46) / inner));
  if (logSoc.every(Number.isNaN)) return null;
  return (
    <Card title={WORDS.log.picture} about={WORDS.log.pictureAbout}>
      <div ref={ref} class="chart">
        <svg
          role="img"
          aria-label={WORDS.log.pictureAlt(days.length, fit === undefined ? '?' : f.percent(fit))}
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
          {days.map(
            ({ date, from }, k) =>
              k % every === 0 && (
                <text key={date} x={x(from) + 3} y={HEIGHT - 8}>
                  {WORDS.date(date)}
                </text>
              ),
          )}
          <path class="line" d={path(logSoc, x, y)} />
          <path class="model" d={path(modelSoc, x, y)} />
        </svg>
      </div>
      <p class="legend">
        <span class="of-log">{WORDS.log.ofLog}</span> <span class="of-model">{WORDS.log.ofModel}</span>
      </p>
    </Card>
  );
}

/** A line with gaps where nothing was measured. */
function path(column: Float32Array, x: (k: number) => number, y: (share: number) => number): string {
  let isOpen = false;
  return Array.from(column, (value, k) => {
    if (Number.isNaN(value)) {
      isOpen = false;
      return '';
    }
    const move = isOpen ? 'L' : 'M';
    isOpen = true;
    return `${move}${x(k).toFixed(1)},${y(value).toFixed(1)}`;
  }).join('');
}

function Fitted({ store, f }: { store: Store; f: Format }) {
  const { log } = store.state;
  const fitted = log?.fitted;
  return (
    <Card title={WORDS.log.fit} about={WORDS.log.fitAbout}>
      {!fitted && (
        <button type="button" disabled={log?.stage !== undefined} onClick={() => store.calibrate()}>
          {WORDS.log.fit}
        </button>
      )}
      {fitted && (
        <>
          {fitted.values.length === 0 && <p>{WORDS.log.fitNone}</p>}
          <ul class="findings">
            {fitted.values.map(({ name, path, text }) => (
              <li key={path + name}>
                <b>{name}</b> {text}
              </li>
            ))}
          </ul>
          {fitted.before.socRmse !== undefined && fitted.after.socRmse !== undefined && (
            <p>{WORDS.log.fitError(f.percent(fitted.before.socRmse), f.percent(fitted.after.socRmse))}</p>
          )}
          {fitted.values.length > 0 && (
            <p class="buttons">
              <button type="button" onClick={() => store.change('fitted', { rig: fitted.rigText })}>
                {WORDS.log.take}
              </button>
              <button type="button" onClick={() => save('fitted.yaml', fitted.rigText)}>
                {WORDS.save}
              </button>
            </p>
          )}
        </>
      )}
    </Card>
  );
}
