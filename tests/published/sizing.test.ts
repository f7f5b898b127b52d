import { testChecks } from './check.js';
import { sizingChecks } from './sizing.checks.js';

testChecks('sizing', sizingChecks);
