import { testChecks } from './check.js';
import { skyChecks } from './sky.checks.js';

testChecks('light outside the air and the clear sky', skyChecks);
