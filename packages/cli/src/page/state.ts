import type { ConfigIssue, StayStudy } from '@stayput/core';
import type { StayGlance } from '@stayput/core/model';
import type {
  Checked,
  Edit,
  Followed,
  Given,
  Lane,
  LoadCost,
  LogAnswer,
  LogFit,
  Reading,
  Setup,
  SizePoint,
  Told,
  TonightAnswer,
} from './protocol.js';
import type { Schema } from './schema.js';

// What the page knows, and how that changes. Plain data, and functions that give the next of it.

/** What a set-up came to: each part as new as the worker has got, `isFresh` once it belongs to the set-up as it stands. */
export interface Answer {
  readonly reading?: Reading;
  readonly glance?: StayGlance;
  readonly isEstimate: boolean;
  readonly followed?: Followed;
  readonly checked?: Checked;
  readonly study?: StayStudy;
  readonly costs?: readonly LoadCost[];
  /** why the set-up as it stands has no answer; what else is here is that of the one before */
  readonly refused?: { readonly file: 'rig' | 'trip'; readonly issues: readonly ConfigIssue[] };
  readonly failed?: string;
  /** the rig's file as plain data, for its form; absent when it cannot be read at all */
  readonly values?: unknown;
  /** parts that are of this set-up */
  readonly fresh: ReadonlySet<'glance' | 'followed' | 'study' | 'costs' | 'done'>;
}

export interface Side {
  readonly setup: Setup;
  /** changes that the worker has not yet written into the set-up's files; `seq` is the question they went with */
  readonly edits: readonly (Edit & { readonly seq?: number })[];
  /** number of the last question that was put, and the set-up it was about */
  readonly seq: number;
  readonly asked?: Setup;
  readonly answer: Answer;
}

export interface State {
  readonly given: Given;
  readonly places: readonly string[];
  readonly a?: Side;
  readonly b?: Side;
  readonly active: Lane;
  readonly units: 'metric' | 'imperial';
  readonly past: readonly Snapshot[];
  readonly failed?: string;
  readonly schema?: Schema;
  /** why a rig from nothing could not be made */
  readonly startWhy?: string;
  /** of the parts list: as typed, and what it comes to */
  readonly parts?: string;
  readonly log?: {
    readonly name: string;
    readonly stage?: 'reading' | 'comparing' | 'fitting';
    readonly done: number;
    readonly answer?: LogAnswer;
    readonly fitted?: LogFit;
    readonly why?: string;
  };
  readonly tonight?: { readonly isRunning: boolean; readonly answer?: TonightAnswer; readonly why?: string };
  readonly size?: {
    readonly isRunning: boolean;
    readonly done: number;
    readonly points?: readonly SizePoint[];
    readonly verdict?: string;
    readonly currency: string;
    readonly issues?: readonly ConfigIssue[];
  };
}

/** What undo goes back to. */
export interface Snapshot {
  readonly key: string;
  readonly atMs: number;
  readonly a: Kept;
  readonly b?: Kept;
  readonly active: Lane;
}

type Kept = Pick<Side, 'setup' | 'edits'>;

const NO_ANSWER: Answer = { isEstimate: false, fresh: new Set() };
/** Changes of one control so close together are undone as one [ms]. */
const ONE_GESTURE_MS = 1500;
const MAX_PAST = 100;

export const sideOf = (setup: Setup): Side => ({ setup, edits: [], seq: 0, answer: NO_ANSWER });

export const activeSide = (state: State): Side => (state.active === 'b' && state.b ? state.b : state.a!);

/** Remembers the set-ups as they are, unless the same control has just been moved. */
export function remembered(state: State, key: string, nowMs: number): State {
  if (!state.a) return state;
  const last = state.past.at(-1);
  if (last && last.key === key && nowMs - last.atMs < ONE_GESTURE_MS)
    return { ...state, past: [...state.past.slice(0, -1), { ...last, atMs: nowMs }] };
  const kept = ({ setup, edits }: Side): Kept => ({ setup, edits });
  const { a, b, active } = state;
  const next: Snapshot = { key, atMs: nowMs, a: kept(a), ...(b && { b: kept(b) }), active };
  return { ...state, past: [...state.past, next].slice(-MAX_PAST) };
}

export function undone(state: State): State {
  const last = state.past.at(-1);
  if (!last) return state;
  const back = (kept: Kept | undefined, side: Side | undefined): Side | undefined =>
    kept && { ...(side ?? sideOf(kept.setup)), ...kept };
  const { b: _, ...rest } = state;
  const b = back(last.b, state.b);
  return { ...rest, a: back(last.a, state.a)!, ...(b && { b }), active: last.active, past: state.past.slice(0, -1) };
}

/** A side whose set-up is another: what is known of it belongs to the one before, until the worker has answered. */
export function changed(side: Side, change: Partial<Setup>, edits: readonly Edit[] = []): Side {
  return {
    ...side,
    setup: { ...side.setup, ...change },
    edits: [...side.edits, ...edits],
    answer: { ...side.answer, fresh: new Set() },
  };
}

/** A side whose question is on its way to the worker. */
export function asking(side: Side): Side {
  const seq = side.seq + 1;
  return { ...side, seq, asked: side.setup, edits: side.edits.map((edit) => ({ ...edit, seq: edit.seq ?? seq })) };
}

/** What the worker said of the last question that was put; set-ups may have changed since. */
export function heard(side: Side, told: Extract<Told, { seq: number }>): Side {
  if (told.seq !== side.seq) return side;
  const { answer } = side;
  const fresh = (part: 'glance' | 'followed' | 'study' | 'costs' | 'done') => new Set([...answer.fresh, part]);
  const edits = side.edits.filter(({ seq }) => seq === undefined);
  const written = ({ rig, trip }: Setup): Setup => ({
    ...side.setup,
    ...(side.setup.rig === side.asked?.rig && { rig }),
    ...(side.setup.trip === side.asked?.trip && { trip }),
  });
  switch (told.kind) {
    case 'read': {
      const { refused: _, failed: __, ...known } = answer;
      return {
        ...side,
        setup: written(told.setup),
        edits,
        answer: { ...known, reading: told.reading },
      };
    }
    case 'values':
      return { ...side, answer: { ...answer, values: told.values } };
    case 'refused':
      return {
        ...side,
        setup: written(told.setup),
        edits,
        answer: { ...answer, values: told.values ?? answer.values, refused: { file: told.file, issues: told.issues } },
      };
    case 'glance':
      return {
        ...side,
        answer: { ...answer, glance: told.glance, isEstimate: told.isEstimate, fresh: fresh('glance') },
      };
    case 'followed':
      return { ...side, answer: { ...answer, followed: told.followed, fresh: fresh('followed') } };
    case 'checked':
      return { ...side, answer: { ...answer, checked: told.checked } };
    case 'studied':
      return { ...side, answer: { ...answer, study: told.study, isEstimate: false, fresh: fresh('study') } };
    case 'costs':
      return { ...side, answer: { ...answer, costs: told.costs, fresh: fresh('costs') } };
    case 'done':
      return { ...side, answer: { ...answer, fresh: fresh('done') } };
    case 'failed':
      return { ...side, answer: { ...answer, failed: told.message } };
  }
}
