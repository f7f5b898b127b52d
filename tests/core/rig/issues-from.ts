import { ConfigError, type ConfigIssue } from '../../../packages/core/src/rig/index.js';

/** The issues of the ConfigError that `run` throws; any other outcome fails the test. */
export function issuesFrom(run: () => unknown): readonly ConfigIssue[] {
  try {
    run();
  } catch (error) {
    if (error instanceof ConfigError) return error.issues;
    throw error;
  }
  throw new Error('it was read without complaint');
}
