import { skyChecks } from './sky.checks.js';
import { testChecks } from './test-checks.js';

testChecks('light outside the air and the clear sky', skyChecks);
