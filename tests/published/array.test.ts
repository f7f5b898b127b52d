import { arrayChecks } from './array.checks.js';
import { testChecks } from './test-checks.js';

testChecks('panels in a run', arrayChecks);
