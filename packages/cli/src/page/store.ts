import { startWorker } from './client.js';
import { firstOf, tripText } from './made-trip.js';
import type { Ask, Edit, Given, Lane, MadeTrip, Setup, Starter, Told, TonightAsked } from './protocol.js';
import { activeSide, asking, changed, heard, remembered, type Side, type State, sideOf, undone } from './state.js';

/** The one place where the page's state is kept: it asks the worker, keeps what was typed, and says when something changed. */
export class Store {
  state: State;
  private readonly ask: (ask: Ask) => void;
  /** sides whose question has no estimate yet, and those whose next one waits for that */
  private readonly busy = new Set<Lane>();
  private readonly waiting = new Set<Lane>();
  private saving: ReturnType<typeof setTimeout> | undefined;

  constructor(
    given: Given,
    private readonly shown: () => void,
  ) {
    const units = /^en-(US|LR|MM)/.test(navigator.language) ? 'imperial' : 'metric';
    this.state = { given, places: [], active: 'a', units, past: [] };
    this.ask = startWorker(
      (told) => this.hear(told),
      (failed) => this.set({ ...this.state, failed }),
    );
    const { timeZone } = Intl.DateTimeFormat().resolvedOptions();
    this.ask({ kind: 'begin', given, zone: timeZone, today: today() });
    addEventListener('pagehide', () => this.save());
    addEventListener('visibilitychange', () => this.save());
  }

  /** Changes the set-up in front: its files by edits, or what is asked of it. */
  change(key: string, change: Partial<Setup>, edits: readonly Edit[] = []): void {
    const state = remembered(this.state, key, Date.now());
    const lane = state.active === 'b' && state.b ? 'b' : 'a';
    this.set({ ...state, [lane]: changed(activeSide(state), change, edits) });
    this.question(lane);
  }

  edit(key: string, ...edits: readonly Edit[]): void {
    this.change(key, {}, edits);
  }

  /** A fortnight as the sliders have it; what the trip was before can be had back by undo. */
  changeTrip(key: string, change: Partial<MadeTrip>): void {
    const { setup, answer } = activeSide(this.state);
    const stop = answer.reading?.stops[setup.stop];
    const before = setup.made ?? {
      where: whereOf(this.state),
      from: stop?.from ?? today(),
      driveEvery: 0,
      driveH: 1,
    };
    const made = { ...before, ...change };
    if (made.startsAt === '00:00') delete made.startsAt;
    const { month: _, ...rest } = setup;
    const state = remembered(this.state, key, Date.now());
    const lane = state.active === 'b' && state.b ? 'b' : 'a';
    const side = changed({ ...activeSide(state), setup: rest }, { made, trip: tripText(made), stop: 0 });
    this.set({ ...state, [lane]: side });
    this.question(lane);
  }

  /** Another month: of a made trip the chart goes there too, of one that somebody wrote only what is asked. */
  chooseMonth(month: number): void {
    const { setup } = activeSide(this.state);
    if (setup.made) this.changeTrip('month', { from: firstOf(month, today()) });
    else this.change('month', { month });
  }

  /** A trip that somebody wrote is no longer one of sliders. */
  changeTripText(trip: string): void {
    const state = remembered(this.state, 'trip text', Date.now());
    const lane = state.active === 'b' && state.b ? 'b' : 'a';
    const side = activeSide(state);
    const { made: _, month: __, ...setup } = side.setup;
    this.set({ ...state, [lane]: changed({ ...side, setup }, { trip, stop: 0 }) });
    this.question(lane);
  }

  /** Keeps the set-up in front as A and goes on with a copy of it as B. */
  compare(): void {
    const state = remembered(this.state, 'compare', Date.now());
    const side = activeSide(state);
    this.set({ ...state, a: side, b: side, active: 'b' });
    if (!side.answer.fresh.has('done')) this.question('b');
  }

  /** Goes on with one of the two. */
  keep(lane: Lane): void {
    const { b: _, ...state } = remembered(this.state, 'keep', Date.now());
    this.set({ ...state, a: this.state[lane]!, active: 'a' });
    this.question('a');
  }

  show(active: Lane): void {
    this.set({ ...this.state, active });
  }

  undo(): void {
    const before = this.state;
    this.set(undone(before));
    for (const lane of ['a', 'b'] as const)
      if (this.state[lane] && this.state[lane]?.setup !== before[lane]?.setup) this.question(lane);
  }

  wantSchema(): void {
    if (!this.state.schema) this.ask({ kind: 'schema' });
  }

  /** A rig from nothing, in the place of the one in front; undo brings that back. */
  start(starter: Starter): void {
    this.ask({ kind: 'start', starter });
  }

  readLog(file: File, zone: string): void {
    this.set({ ...this.state, log: { name: file.name, stage: 'reading', done: 0 } });
    this.ask({ kind: 'log', setup: activeSide(this.state).setup, file, zone: zone.trim(), today: today() });
  }

  calibrate(): void {
    if (!this.state.log) return;
    this.set({ ...this.state, log: { ...this.state.log, stage: 'fitting', done: 0 } });
    this.ask({ kind: 'calibrate', setup: activeSide(this.state).setup });
  }

  tonight(asked: TonightAsked): void {
    const { answer } = this.state.tonight ?? {};
    this.set({ ...this.state, tonight: { isRunning: true, ...(answer && { answer }) } });
    this.ask({ kind: 'tonight', setup: activeSide(this.state).setup, asked, nowMs: Date.now() });
  }

  get partsText(): string {
    return this.state.parts ?? '';
  }

  setParts(parts: string): void {
    this.set({ ...this.state, parts });
  }

  size(): void {
    const { issues: _, ...before } = this.state.size ?? { currency: '' };
    this.set({ ...this.state, size: { ...before, isRunning: true, done: 0 } });
    this.ask({ kind: 'size', setup: activeSide(this.state).setup, parts: this.partsText });
  }

  setUnits(units: State['units']): void {
    this.set({ ...this.state, units });
  }

  /** Forgets what the browser keeps, and begins again with what the page was made with. */
  clear(): void {
    try {
      localStorage.removeItem(this.keepKey);
    } catch {
      // there is nothing kept where nothing may be kept
    }
    const { a: _, b: __, ...state } = this.state;
    this.set({ ...state, past: [], active: 'a' });
    const { timeZone } = Intl.DateTimeFormat().resolvedOptions();
    this.ask({ kind: 'begin', given: this.state.given, zone: timeZone, today: today() });
  }

  private set(state: State): void {
    this.state = state;
    this.shown();
    clearTimeout(this.saving);
    this.saving = setTimeout(() => this.save(), 400);
  }

  /** Puts the set-up of a side to the worker, once it has given its first estimate of the one before. */
  private question(lane: Lane): void {
    if (this.busy.has(lane)) {
      this.waiting.add(lane);
      return;
    }
    this.busy.add(lane);
    this.waiting.delete(lane);
    this.state = { ...this.state, [lane]: asking(this.state[lane]!) };
    const { setup, edits, seq } = this.state[lane]!;
    this.ask({ kind: 'answer', lane, seq, setup, edits: edits.map(({ seq: _, ...edit }) => edit) });
  }

  private hear(told: Told): void {
    if (told.kind === 'begun') {
      const { units, sides, active, ...kept } = this.restored(told.setup);
      this.set({ ...this.state, units, places: told.places, parts: kept.parts ?? told.parts, ...sides, active });
      for (const lane of ['a', 'b'] as const) if (sides[lane]) this.question(lane);
      return;
    }
    if (!('seq' in told)) {
      this.hearAside(told);
      return;
    }
    const { lane } = told;
    const side = this.state[lane];
    if (side) this.set({ ...this.state, [lane]: heard(side, told) });
    if (told.kind !== 'glance' && told.kind !== 'refused' && told.kind !== 'failed') return;
    this.busy.delete(lane);
    if (this.waiting.has(lane) && this.state[lane]) this.question(lane);
  }

  /** What is not the answer of a set-up. */
  private hearAside(told: Exclude<Told, { kind: 'begun' } | { seq: number }>): void {
    const { log, size } = this.state;
    if (told.kind === 'schema') this.set({ ...this.state, schema: told.schema });
    else if (told.kind === 'started') {
      const { startWhy: _, ...state } = this.state;
      this.set({ ...state, ...(told.why !== undefined && { startWhy: told.why }) });
      if (told.rig !== undefined) this.change('start', { rig: told.rig });
    } else if (told.kind === 'log' && log)
      this.set({ ...this.state, log: { ...log, stage: told.stage, done: told.done } });
    else if (told.kind === 'logged' && log) {
      const { stage: _, why: __, ...known } = log;
      const { kind: ___, ...news } = told;
      this.set({ ...this.state, log: { ...known, ...news } });
    } else if (told.kind === 'tonight') {
      const { kind: _, ...news } = told;
      this.set({ ...this.state, tonight: { ...this.state.tonight, ...news, isRunning: false } });
    } else if (told.kind === 'sizing' && size) this.set({ ...this.state, size: { ...size, done: told.done } });
    else if (told.kind === 'sized') {
      const { kind: _, ...news } = told;
      this.set({ ...this.state, size: { currency: '', ...news, isRunning: false, done: 1 } });
    }
  }

  /** Each page keeps its own: one that was made anew for another rig begins with that. */
  private get keepKey(): string {
    const { version: _, ...given } = this.state.given;
    return `stayput ${hash(JSON.stringify(given))}`;
  }

  private save(): void {
    const { a, b, active, units, parts } = this.state;
    if (!a) return;
    const kept = ({ setup, edits }: Side) => ({ setup, edits });
    try {
      localStorage.setItem(
        this.keepKey,
        JSON.stringify({ a: kept(a), ...(b && { b: kept(b) }), active, units, parts }),
      );
    } catch {
      // a browser that keeps nothing for files still shows all of it
    }
  }

  private restored(setup: Setup): Pick<State, 'units' | 'active' | 'parts'> & { sides: { a: Side; b?: Side } } {
    const fresh = { units: this.state.units, active: 'a' as const, sides: { a: sideOf(setup) } };
    try {
      const kept = JSON.parse(localStorage.getItem(this.keepKey) ?? 'null');
      if (typeof kept?.a?.setup?.rig !== 'string' || typeof kept.a.setup.trip !== 'string') return fresh;
      const side = (one: Pick<Side, 'setup' | 'edits'>): Side => ({ ...sideOf(one.setup), edits: one.edits ?? [] });
      return {
        units: kept.units === 'imperial' ? 'imperial' : 'metric',
        ...(typeof kept.parts === 'string' && { parts: kept.parts }),
        active: kept.b && kept.active === 'b' ? 'b' : 'a',
        sides: { a: side(kept.a), ...(kept.b && { b: side(kept.b) }) },
      };
    } catch {
      return fresh;
    }
  }
}

/** The reader's civil date, ISO. */
export function today(): string {
  const now = new Date();
  const two = (value: number) => String(value).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

function whereOf(state: State): string {
  const { setup, answer } = activeSide(state);
  const stop = answer.reading?.trip.stops[setup.stop];
  return stop?.place ?? (stop?.at ? `${stop.at.latDeg}, ${stop.at.lonDeg}` : 'Porto');
}

/** FNV-1a, 32 bits: tells pages apart, and hides nothing. */
function hash(text: string): string {
  let value = 0x811c9dc5;
  for (let k = 0; k < text.length; k++) value = Math.imul(value ^ text.charCodeAt(k), 0x01000193);
  return (value >>> 0).toString(36);
}
