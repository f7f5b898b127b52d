import { useMemo, useState } from 'preact/hooks';
import { controlsOf } from '../controls.js';
import type { Format } from '../format.js';
import { positionOf } from '../made-trip.js';
import type { MadeTrip, Reading, Setup } from '../protocol.js';
import type { Store } from '../store.js';
import { WORDS } from '../strings.js';
import { Card, Slider, Stepper, useId } from './elements.js';

/** What is dragged and stepped. */
export function Controls({ setup, reading, store, f }: { setup: Setup; reading: Reading; store: Store; f: Format }) {
  const controls = controlsOf(reading, f);
  const group = (name: 'power' | 'use') =>
    controls
      .filter((control) => control.group === name)
      .map((control) => {
        const change = (value: number) => store.edit(control.id, ...control.edits(value));
        return control.kind === 'slider' ? (
          <Slider key={control.id} control={control} change={change} />
        ) : (
          <Stepper key={control.id} control={control} change={change} />
        );
      });
  return (
    <Card title={WORDS.controls} about={WORDS.controlsHint} id="controls">
      <h3>{WORDS.groups.where}</h3>
      <Where setup={setup} reading={reading} store={store} />
      <h3>{WORDS.groups.power}</h3>
      {group('power')}
      {reading.rig.solar.length === 0 && (
        <button
          type="button"
          onClick={() =>
            store.edit('add panel', { file: 'rig', path: ['solar'], value: [{ power: '150 W', mount: 'gap' }] })
          }
        >
          {WORDS.addPanel}
        </button>
      )}
      <h3>{WORDS.groups.use}</h3>
      {group('use')}
      {setup.made && reading.rig.alternator && (
        <>
          <h3>{WORDS.groups.engine}</h3>
          <Driving made={setup.made} store={store} f={f} />
        </>
      )}
    </Card>
  );
}

function Where({ setup, reading, store }: { setup: Setup; reading: Reading; store: Store }) {
  const { places } = store.state;
  const id = useId();
  const [typed, setTyped] = useState<string>();
  const [isUnknown, setUnknown] = useState(false);
  const options = useMemo(() => places.map((place) => <option key={place} value={place} />), [places]);
  const choose = (text: string) => {
    setTyped(undefined);
    const name = text.trim();
    if (name === '' || name === reading.place.name) return;
    const known = places.find((place) =>
      [place, place.split(',')[0]!].some((one) => one.toLowerCase() === name.toLowerCase()),
    );
    const isFound = positionOf(name) !== undefined || known !== undefined;
    setUnknown(!isFound);
    if (isFound) store.changeTrip('place', { where: known ?? name });
  };
  return (
    <>
      {reading.stops.length > 1 && !setup.made && (
        <div class="control">
          <label for={`${id}s`}>{WORDS.stopOf}</label>
          <select
            id={`${id}s`}
            value={String(setup.stop)}
            onChange={({ currentTarget }) =>
              store.change('stop', {
                stop: Number(currentTarget.value),
                ...(setup.month && { month: reading.stops[Number(currentTarget.value)]!.month }),
              })
            }
          >
            {reading.stops.map(({ name, from }, k) => (
              <option key={`${from}${name}`} value={String(k)}>
                {`${name}, ${WORDS.date(from)}`}
              </option>
            ))}
          </select>
        </div>
      )}
      <div class="control">
        <label for={`${id}p`}>{reading.stops.length > 1 && !setup.made ? WORDS.otherPlace : WORDS.place}</label>
        <input
          id={`${id}p`}
          list={`${id}l`}
          autocomplete="off"
          value={typed ?? (reading.stops.length > 1 && !setup.made ? '' : reading.place.name)}
          placeholder={WORDS.placeHint}
          onFocus={({ currentTarget }) => currentTarget.select()}
          onInput={({ currentTarget }) => setTyped(currentTarget.value)}
          onChange={({ currentTarget }) => choose(currentTarget.value)}
          aria-describedby={isUnknown ? `${id}e` : undefined}
        />
        <datalist id={`${id}l`}>{options}</datalist>
        {isUnknown && (
          <p class="problem" id={`${id}e`} role="alert">
            {WORDS.placeUnknown}
          </p>
        )}
      </div>
      <div class="control">
        <label for={`${id}m`}>{WORDS.monthLabel}</label>
        <select
          id={`${id}m`}
          data-control="month"
          value={String(reading.month)}
          onChange={({ currentTarget }) => store.chooseMonth(Number(currentTarget.value))}
        >
          {Array.from({ length: 12 }, (_, k) => k + 1).map((month) => (
            <option key={month} value={String(month)}>
              {WORDS.month(month)}
            </option>
          ))}
        </select>
      </div>
      {setup.made && (
        <div class="control">
          <label for={`${id}t`}>{WORDS.startsAt}</label>
          <input
            id={`${id}t`}
            type="time"
            value={setup.made.startsAt ?? '00:00'}
            onChange={({ currentTarget }) => store.changeTrip('start', { startsAt: currentTarget.value || '00:00' })}
          />
        </div>
      )}
    </>
  );
}

function Driving({ made, store, f }: { made: MadeTrip; store: Store; f: Format }) {
  return (
    <>
      <Slider
        control={{
          id: 'driveEvery',
          group: 'use',
          label: WORDS.driveEvery,
          value: made.driveEvery === 0 ? 8 : made.driveEvery,
          min: 1,
          max: 8,
          step: 1,
          kind: 'slider',
          shown: (days) => (days > 7 ? WORDS.never : WORDS.everyDays(days)),
          edits: () => [],
        }}
        change={(days) => store.changeTrip('driveEvery', { driveEvery: days > 7 ? 0 : days })}
      />
      {made.driveEvery > 0 && (
        <Slider
          control={{
            id: 'driveH',
            group: 'use',
            label: WORDS.driveHours,
            value: made.driveH,
            min: 0.25,
            max: 6,
            step: 0.25,
            kind: 'slider',
            shown: (hours) => `${f.number(hours, 2)} h`,
            edits: () => [],
          }}
          change={(driveH) => store.changeTrip('driveH', { driveH })}
        />
      )}
    </>
  );
}
