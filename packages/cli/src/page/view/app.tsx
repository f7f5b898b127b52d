import { useMemo, useState } from 'preact/hooks';
import { formatFor } from '../format.js';
import { type Answer, activeSide } from '../state.js';
import type { Store } from '../store.js';
import { WORDS } from '../strings.js';
import { Findings, InWords } from './checked.js';
import { Controls } from './controls.js';
import { AnswerNow, Hero } from './hero.js';
import { Loads } from './loads.js';
import { LogTab } from './log.js';
import { RigForm } from './rig-form.js';
import { Texts } from './rig-text.js';
import { SideBySide } from './side-by-side.js';
import { SizeTab } from './size.js';
import { SocChart } from './soc-chart.js';
import { Start } from './start.js';
import { TonightTab } from './tonight.js';
import { YearChart } from './year-chart.js';

const NOTHING: Answer = { isEstimate: false, fresh: new Set() };
const DEFAULT_HORIZON = 60;

type Tab = 'answer' | 'tonight' | 'rig' | 'log' | 'size';
const TABS: readonly Tab[] = ['answer', 'tonight', 'rig', 'log', 'size'];

export function App({ store }: { store: Store }) {
  const { state } = store;
  const [tab, setTab] = useState<Tab>('answer');
  const f = useMemo(() => formatFor(navigator.language, state.units), [state.units]);
  const { a, b, active, failed } = state;
  const side = a && activeSide(state);
  const { reading, followed, study, fresh, checked, refused, costs } = side?.answer ?? NOTHING;
  const isOld = (part: 'followed' | 'study') => !fresh.has(part) || refused !== undefined;
  const [oldRun, oldStudy] = [isOld('followed'), isOld('study')];
  const shownCosts = fresh.has('costs') ? costs : undefined;
  const horizonDays = study?.horizonDays ?? DEFAULT_HORIZON;
  // What takes long to draw is drawn anew only when what it shows is another.
  const charge = useMemo(
    () => followed && reading && <SocChart followed={followed} reading={reading} f={f} isStale={oldRun} />,
    [followed, reading, f, oldRun],
  );
  const year = useMemo(
    () =>
      study &&
      reading && (
        <YearChart
          study={study}
          month={reading.month}
          f={f}
          isStale={oldStudy}
          choose={(month) => store.chooseMonth(month)}
        />
      ),
    [study, reading?.month, f, oldStudy, store],
  );
  const loads = useMemo(
    () => followed && <Loads followed={followed} costs={shownCosts} horizonDays={horizonDays} f={f} />,
    [followed, shownCosts, horizonDays, f],
  );
  const controls = useMemo(
    () => side && reading && <Controls setup={side.setup} reading={reading} store={store} f={f} />,
    [side?.setup, reading, store, f, state.places],
  );
  if (failed !== undefined) return <p class="problem">{WORDS.failed(failed)}</p>;
  if (!side) return <p class="loading">{WORDS.loading}</p>;
  const { answer } = side;
  return (
    <>
      <header class="top">
        <span class="name">{reading?.rig.name ?? 'stayput'}</span>
        <AnswerNow answer={answer} f={f} />
        {b && <span class="lane">{WORDS.setup(active)}</span>}
        <div class="tabs" role="tablist">
          {TABS.map((one) => (
            <button
              type="button"
              role="tab"
              key={one}
              id={`tab-${one}`}
              aria-selected={tab === one}
              aria-controls="panel"
              tabIndex={tab === one ? 0 : -1}
              onClick={() => setTab(one)}
              onKeyDown={({ key, currentTarget }) => {
                const by = key === 'ArrowRight' ? 1 : key === 'ArrowLeft' ? -1 : 0;
                if (by === 0) return;
                const next = TABS[(TABS.indexOf(one) + by + TABS.length) % TABS.length]!;
                setTab(next);
                currentTarget.parentElement?.querySelector<HTMLElement>(`#tab-${next}`)?.focus();
              }}
            >
              {WORDS.tabs[one]}
            </button>
          ))}
        </div>
        <button type="button" class="undo" disabled={state.past.length === 0} onClick={() => store.undo()}>
          {WORDS.undo}
        </button>
      </header>
      {refused && tab === 'answer' && (
        <p class="problem" role="alert">
          {refused.issues[0]?.message}
          {refused.issues[0]?.hint && ` (${refused.issues[0].hint})`} {WORDS.lastGood}
        </p>
      )}
      {answer.failed && <p class="problem">{WORDS.failed(answer.failed)}</p>}
      <main>
        {tab !== 'answer' && <h1 class="unseen">{WORDS.tabs[tab]}</h1>}
        <div id="panel" role="tabpanel" aria-labelledby={`tab-${tab}`}>
          {tab === 'answer' ? (
            <div class="answer-tab">
              <div class="first">
                <Hero answer={answer} store={store} f={f} />
                {controls}
              </div>
              <div class="second">
                {charge}
                {year}
                {loads}
                <SideBySide store={store} f={f} />
                {checked && <Findings checked={checked} isShort />}
              </div>
            </div>
          ) : tab === 'tonight' ? (
            <TonightTab side={side} store={store} f={f} />
          ) : tab === 'log' ? (
            <LogTab side={side} store={store} f={f} />
          ) : tab === 'size' ? (
            <SizeTab store={store} f={f} />
          ) : (
            <div class="rig-tab">
              <div class="first">
                <RigForm side={side} store={store} />
                <Start store={store} />
                <Texts side={side} store={store} />
              </div>
              <div class="second">
                {checked && <Findings checked={checked} isShort={false} />}
                {checked && <InWords checked={checked} />}
              </div>
            </div>
          )}
        </div>
      </main>
      <Foot store={store} />
    </>
  );
}

function Foot({ store }: { store: Store }) {
  const { units } = store.state;
  return (
    <footer>
      <h2>{WORDS.cautionTitle}</h2>
      <p>{WORDS.caution}</p>
      <p class="buttons">
        <label>
          {WORDS.units.label}{' '}
          <select
            value={units}
            onChange={({ currentTarget }) => store.setUnits(currentTarget.value === 'imperial' ? 'imperial' : 'metric')}
          >
            <option value="metric">{WORDS.units.metric}</option>
            <option value="imperial">{WORDS.units.imperial}</option>
          </select>
        </label>
        <button
          type="button"
          onClick={() => {
            if (confirm(WORDS.clearSure)) store.clear();
          }}
        >
          {WORDS.clear}
        </button>
      </p>
      <p class="about kept">{WORDS.clearHint}</p>
      <details>
        <summary>{WORDS.licences}</summary>
        <pre class="licences">{document.getElementById('licences')?.textContent}</pre>
      </details>
    </footer>
  );
}
