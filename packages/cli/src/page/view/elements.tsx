import type { ComponentChildren } from 'preact';
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { Control } from '../controls.js';
import { WORDS } from '../strings.js';

let ids = 0;

/** A name for an element that no other has, as long as it is there. */
export function useId(): string {
  return useState(() => `e${++ids}`)[0];
}

/** Width of an element on the screen [px], as drawings are made for it. */
export function useWidth(): [ref: { current: HTMLDivElement | null }, width: number] {
  const ref = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(340);
  useLayoutEffect(() => {
    const element = ref.current!;
    const measure = () => setWidth(Math.max(240, Math.round(element.clientWidth)));
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  return [ref, width];
}

export function Card({
  title,
  about,
  children,
  id,
}: {
  title: string;
  about?: string;
  children: ComponentChildren;
  id?: string;
}) {
  const heading = useId();
  return (
    <section class="card" aria-labelledby={heading} id={id}>
      <h2 id={heading}>{title}</h2>
      {about && <p class="about">{about}</p>}
      {children}
    </section>
  );
}

interface Moved {
  readonly control: Control;
  readonly change: (value: number) => void;
}

/** A slider follows the finger at once, and the set-up as soon as it has read the change. */
export function Slider({ control, change }: Moved) {
  const { label, value, min, max, step, shown } = control;
  const id = useId();
  const [own, setOwn] = useState<number>();
  // What was dragged to gives way to what was read, once that is the same or the finger has been gone for a while.
  useEffect(() => {
    if (own === undefined) return;
    if (own === value) return setOwn(undefined);
    const timer = setTimeout(() => setOwn(undefined), 4000);
    return () => clearTimeout(timer);
  }, [own, value]);
  const now = own ?? value;
  return (
    <div class="control">
      <label for={id}>{label}</label>
      <output for={id}>{shown(now)}</output>
      <input
        id={id}
        type="range"
        data-control={control.id}
        min={min}
        max={max}
        step={step}
        value={now}
        aria-valuetext={shown(now)}
        onInput={({ currentTarget }) => {
          setOwn(currentTarget.valueAsNumber);
          change(currentTarget.valueAsNumber);
        }}
      />
    </div>
  );
}

export function Stepper({ control, change }: Moved) {
  const { label, value, min, max, step, shown } = control;
  const [own, setOwn] = useState<number>();
  useEffect(() => setOwn(undefined), [value]);
  const now = own ?? value;
  const to = (next: number) => {
    setOwn(next);
    change(next);
  };
  return (
    <fieldset class="control" data-control={control.id}>
      <legend class="unseen">{label}</legend>
      <span aria-hidden="true">{label}</span>
      <span class="stepper">
        <button type="button" aria-label={WORDS.less(label)} disabled={now - step < min} onClick={() => to(now - step)}>
          −
        </button>
        <output aria-live="polite">{shown(now)}</output>
        <button type="button" aria-label={WORDS.more(label)} disabled={now + step > max} onClick={() => to(now + step)}>
          +
        </button>
      </span>
    </fieldset>
  );
}
