// Stryker's checker: lets only the mutants through to the tests that were asked for. It is told pieces of source, which hold others besides; those
// it books as compile errors, outside any score.
import { keyOf } from './mutants.js';

class Only {
  static inject = ['options'];

  constructor({ only }) {
    this.keys = new Set(only);
  }

  async init() {}

  async check(mutants) {
    const answer = (mutant) =>
      this.keys.has(keyOf(mutant)) ? { status: 'passed' } : { status: 'compileError', reason: 'not asked for' };
    return Object.fromEntries(mutants.map((mutant) => [mutant.id, answer(mutant)]));
  }

  async group(mutants) {
    return [mutants.map(({ id }) => id)];
  }
}

export const strykerPlugins = [{ kind: 'Checker', name: 'only', injectableClass: Only }];
export const strykerValidationSchema = { type: 'object', properties: { only: { type: 'array' } } };
