import { sizingChecks } from './sizing.checks.js';
import { testChecks } from './test-checks.js';

testChecks('sizing', sizingChecks);
