import type { StayMonth } from '@stayput/core';
import { monthSpans } from '../../show/stay-words.js';
import type { Format } from '../format.js';
import { helpsFor } from '../helps.js';
import type { Answer } from '../state.js';
import type { Store } from '../store.js';
import { WORDS } from '../strings.js';

const DEFAULT_HORIZON = 60;

/** The answer in a word, for where the whole of it is out of sight. */
export function AnswerNow({ answer, f }: { answer: Answer; f: Format }) {
  const { reading, glance, study, fresh, refused } = answer;
  if (!reading || !glance) return null;
  const row = rowOf(answer) ?? glance;
  const shown = f.days(row.parkedDaysP10, study?.horizonDays ?? DEFAULT_HORIZON);
  return (
    <output class={fresh.has('glance') && !refused ? 'now' : 'now stale'} aria-hidden="true">
      {row.indefinite ? WORDS.asLong : `${shown} ${WORDS.dayWord(shown)}`}
    </output>
  );
}

/** The study's row is the one that the command line prints; until it is there, the glance stands for it. */
function rowOf({ fresh, study, reading }: Answer): StayMonth | undefined {
  return fresh.has('study') ? study?.months.find(({ month }) => month === reading?.month) : undefined;
}

/** The answer: how long, when not and why, and what would help most. */
export function Hero({ answer, store, f }: { answer: Answer; store: Store; f: Format }) {
  const { reading, glance, isEstimate, study, followed, fresh, refused, costs } = answer;
  if (!reading || !glance) return <p class="loading">{WORDS.loading}</p>;
  const row = rowOf(answer) ?? glance;
  const { parkedDaysP10Low: low, parkedDaysP10High: high }: Partial<StayMonth> = row;
  const horizon = study?.horizonDays ?? DEFAULT_HORIZON;
  const days = (value: number) => {
    const shown = f.days(value, horizon);
    return `${shown} ${WORDS.dayWord(shown)}`;
  };
  const month = WORDS.month(reading.month);
  const nine = f.days(row.parkedDaysP10, horizon);
  const [cause, share] = Object.entries(row.endedBy).sort(([, a], [, b]) => b - a)[0] ?? [];
  const isStale = !fresh.has('glance') || refused !== undefined;
  const isOld = !fresh.has('study');
  const helps = study && helpsFor(reading, study, isOld || fresh.has('costs') ? costs : undefined, f);
  return (
    <div class={isStale ? 'hero stale' : 'hero'} aria-busy={isStale}>
      <h1>{WORDS.question(reading.place.name, month)}</h1>
      <p class="answer" data-figure="p10" data-value={row.parkedDaysP10}>
        {row.indefinite ? (
          <strong class="words">{WORDS.asLong}</strong>
        ) : (
          <>
            <strong>{nine}</strong> <span>{WORDS.dayWord(nine)}</span>
          </>
        )}
      </p>
      {!row.indefinite && (
        <p class="about">{reading.rig.solar.length > 0 ? WORDS.nineInTen(month) : WORDS.nineInTenNoSun}</p>
      )}
      {low !== undefined && high !== undefined && !row.indefinite && (
        <p class="about">{WORDS.mayBe(f.days(low, horizon), f.days(high, horizon))}</p>
      )}
      <dl class="figures">
        <div>
          <dt>{WORDS.half}</dt>
          <dd data-figure="p50">{days(row.parkedDaysP50)}</dd>
        </div>
        <div>
          <dt>{WORDS.dark}</dt>
          <dd data-figure="dark">{days(row.darkDays)}</dd>
        </div>
      </dl>
      <p class="sureness" role="status">
        {isStale
          ? WORDS.working
          : isEstimate
            ? WORDS.estimate
            : WORDS.years(study?.weatherYears ?? glance.weatherYears)}
      </p>
      {cause !== undefined && !row.indefinite && (
        <p class="why">
          {WORDS.whyEnds(cause as keyof typeof row.endedBy, share!, f)}{' '}
          {followed && <Budget followed={followed} f={f} />}
        </p>
      )}
      {study && (
        <p class={fresh.has('study') ? 'when' : 'when stale'}>
          <When study={study} days={days} />
        </p>
      )}
      {helps && (
        <section class={isOld ? 'helps stale' : 'helps'} aria-label={WORDS.helpTitle}>
          <h2>{WORDS.helpTitle}</h2>
          {row.indefinite && <p>{WORDS.helpNone}</p>}
          {!row.indefinite && helps.length === 0 && <p>{WORDS.helpLittle}</p>}
          <ul>
            {helps.map((help) => (
              <li key={help.what}>
                <span>
                  <b>{help.what}</b> {help.indefinite ? WORDS.helpGivesEndless : WORDS.helpGives(days(help.days))}
                </span>
                {help.edits && (
                  <button
                    type="button"
                    disabled={isOld}
                    aria-label={`${WORDS.helpTry}: ${help.what}`}
                    onClick={() => store.edit(`help ${help.what}`, ...help.edits!)}
                  >
                    {WORDS.helpTry}
                  </button>
                )}
              </li>
            ))}
          </ul>
        </section>
      )}
    </div>
  );
}

function Budget({ followed: { summary }, f }: { followed: NonNullable<Answer['followed']>; f: Format }) {
  const aDay = (wh: number) => f.energy(wh / summary.days);
  const spilled = summary.pvSpilledWh / summary.days;
  return (
    <>
      {WORDS.budget(aDay(summary.loadWh + summary.unservedWh), aDay(summary.pvHarvestWh), Math.round(summary.days))}{' '}
      {summary.alternatorWh > 1 && `${WORDS.budgetEngine(aDay(summary.alternatorWh))} `}
      {spilled > 0.05 * (summary.pvHarvestWh / summary.days) && WORDS.spilled(f.energy(spilled))}
    </>
  );
}

function When({ study, days }: { study: NonNullable<Answer['study']>; days: (value: number) => string }) {
  const endless = study.months.filter(({ indefinite }) => indefinite).map(({ month }) => month);
  const limited = study.months.filter(({ indefinite }) => !indefinite).map(({ month }) => month);
  const hardest = study.months.find(({ month }) => month === study.hardestMonth)!;
  return (
    <>
      <b>{WORDS.whenTitle}.</b>{' '}
      {WORDS.when(endless.length > 0 ? monthSpans(endless) : '', limited.length > 0 ? monthSpans(limited) : '')}{' '}
      {!hardest.indefinite && WORDS.hardest(WORDS.month(hardest.month), days(hardest.parkedDaysP10))}
    </>
  );
}
