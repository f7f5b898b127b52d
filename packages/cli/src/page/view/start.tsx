import { useState } from 'preact/hooks';
import type { Starter } from '../protocol.js';
import type { Store } from '../store.js';
import { WORDS } from '../strings.js';
import { Card, useId } from './elements.js';

const CHEMISTRIES = ['LFP', 'AGM', 'gel', 'flooded'] as const;

/** A rig from nothing: four answers, and a commented file to go on from. */
export function Start({ store }: { store: Store }) {
  const [starter, setStarter] = useState<Starter>({ chemistry: 'LFP', capacityAh: 100, solarW: 150, fridgeL: 40 });
  const id = useId();
  const number = (key: 'capacityAh' | 'solarW' | 'fridgeL', step: number, max: number) => (
    <div class="control">
      <label for={`${id}${key}`}>{WORDS.start[key]}</label>
      <input
        id={`${id}${key}`}
        type="number"
        inputMode="decimal"
        min={0}
        max={max}
        step={step}
        value={starter[key]}
        onInput={({ currentTarget }) =>
          setStarter({
            ...starter,
            [key]: Number.isFinite(currentTarget.valueAsNumber) ? currentTarget.valueAsNumber : 0,
          })
        }
      />
    </div>
  );
  return (
    <Card title={WORDS.startNew} about={WORDS.start.about}>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          store.start(starter);
        }}
      >
        <div class="control">
          <label for={`${id}c`}>{WORDS.start.chemistry}</label>
          <select
            id={`${id}c`}
            value={starter.chemistry}
            onChange={({ currentTarget }) =>
              setStarter({ ...starter, chemistry: currentTarget.value as Starter['chemistry'] })
            }
          >
            {CHEMISTRIES.map((one) => (
              <option key={one}>{one}</option>
            ))}
          </select>
        </div>
        {number('capacityAh', 5, 5000)}
        {number('solarW', 5, 2000)}
        {number('fridgeL', 1, 300)}
        {store.state.startWhy && (
          <p class="problem" role="alert">
            {store.state.startWhy}
          </p>
        )}
        <button type="submit">{WORDS.start.go}</button>
      </form>
    </Card>
  );
}
