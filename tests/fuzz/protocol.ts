import type { TargetName } from './targets.js';

/** One try: an input by its number, or one that was kept. */
export interface Ask {
  readonly target: TargetName;
  readonly seed: number;
  readonly number: number;
  readonly file?: string;
}

export interface Tried {
  readonly ms: number;
  /** with an error of ours; else a value was given */
  readonly refused: boolean;
  readonly rssMb: number;
  /** anything else: a crash, a changed prototype, a ledger that does not close */
  readonly fault?: string;
}
