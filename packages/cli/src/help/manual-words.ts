import { EXIT } from '../failure.js';

/** What each exit code means. */
export const EXIT_CODES: readonly (readonly [code: number, says: string])[] = [
  [EXIT.done, 'done; so too when the reader of the results has gone'],
  [EXIT.targetMissed, 'done, but a target that was asked for is not met'],
  [EXIT.wrongInput, 'the call or a file is wrong; nothing was written'],
  [EXIT.ourFault, 'a fault of the program'],
  [EXIT.stopped, 'stopped by Ctrl-C; nothing is left half-written'],
];

/** Variables of the environment that are heeded. */
export const ENVIRONMENT: readonly (readonly [names: string, says: string])[] = [
  ['NO_COLOR', 'when set, no colours'],
  ['TERM', 'dumb: no colours and no signs beyond ASCII'],
  ['COLUMNS', 'width of the output where it is no terminal (80)'],
  ['LC_ALL, LC_CTYPE, LANG', 'whether signs beyond ASCII can be shown'],
  [
    'SLURM_ARRAY_TASK_ID, SLURM_ARRAY_TASK_COUNT, SLURM_ARRAY_TASK_MIN, SLURM_ARRAY_TASK_STEP',
    'the part of a sweep in an array job of Slurm',
  ],
  ['JOB_COMPLETION_INDEX, STAYPUT_PARTS', 'the part of a sweep in an indexed job of Kubernetes'],
  ['STAYPUT_DEBUG', 'when set, a fault tells where it happened'],
];
