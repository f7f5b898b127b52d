import { fixed, significant } from './number.js';

export interface Progress {
  readonly done: number;
  readonly total: number;
  /** done since `elapsedS` ago, what was there before not counted */
  readonly doneHere: number;
  readonly elapsedS: number;
}

const BAR = 20;

/** A bar of plain ASCII and whole percent, the same for every long work. */
export function barText(share: number): string {
  const filled = Math.floor(share * BAR);
  return `[${'#'.repeat(filled)}${'.'.repeat(BAR - filled)}] ${fixed(Math.floor(share * 100), 0)} %`;
}

/** How far, how fast, and how long still, in one line. */
export function progressText({ done, total, doneHere, elapsedS }: Progress): string {
  const share = total > 0 ? done / total : 1;
  const perS = doneHere > 0 && elapsedS > 0 ? doneHere / elapsedS : 0;
  const speed = perS > 0 ? `  ${significant(perS, 2)}/s  ${spanText((total - done) / perS)} left` : '';
  return `${barText(share)}  ${fixed(done, 0)} of ${fixed(total, 0)}${speed}`;
}

/** "1 h 5 min", "2 min 10 s", "8 s" */
export function spanText(seconds: number): string {
  const s = Math.ceil(seconds);
  if (s < 60) return `${s} s`;
  if (s < 3600) return `${Math.floor(s / 60)} min ${s % 60} s`;
  return `${fixed(Math.floor(s / 3600), 0)} h ${Math.floor((s % 3600) / 60)} min`;
}
