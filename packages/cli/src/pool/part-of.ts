import type { SweepPart } from '@stayput/core';
import { InputError } from '../failure.js';

/**
 * The part that a job engine's environment asks for: a Slurm array's task, or a Kubernetes indexed job's completion, which
 * does not say of how many, so STAYPUT_PARTS does.
 * @throws InputError when the variables do not fit together
 */
export function partFromEnvironment(
  env: (name: string) => string | undefined,
): (SweepPart & { readonly source: string }) | undefined {
  const task = env('SLURM_ARRAY_TASK_ID');
  if (task) {
    const [id, of, least, step] = [
      task,
      env('SLURM_ARRAY_TASK_COUNT'),
      env('SLURM_ARRAY_TASK_MIN') ?? '0',
      env('SLURM_ARRAY_TASK_STEP') ?? '1',
    ].map(Number) as [number, number, number, number];
    return checked((id - least) / step + 1, of, 'SLURM_ARRAY_TASK_ID and SLURM_ARRAY_TASK_COUNT');
  }
  const index = env('JOB_COMPLETION_INDEX');
  if (!index) return undefined;
  const of = env('STAYPUT_PARTS');
  if (!of)
    throw new InputError(
      'JOB_COMPLETION_INDEX says which part, and nothing says of how many; set STAYPUT_PARTS to the job’s completions, or give --part (1/1 for the whole)',
    );
  return checked(Number(index) + 1, Number(of), 'JOB_COMPLETION_INDEX and STAYPUT_PARTS');
}

function checked(part: number, of: number, source: string): SweepPart & { readonly source: string } {
  if (!(Number.isInteger(part) && Number.isInteger(of) && part >= 1 && part <= of))
    throw new InputError(`${source} do not say a part: ${part} of ${of}; give --part i/n (1/1 for the whole)`);
  return { part, of, source };
}
