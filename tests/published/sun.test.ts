import { sunChecks } from './sun.checks.js';
import { testChecks } from './test-checks.js';

testChecks('the sun', sunChecks);
