import { testChecks } from './check.js';
import { sunChecks } from './sun.checks.js';

testChecks('the sun', sunChecks);
