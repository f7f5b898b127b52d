import { chargingChecks } from './charging.checks.js';
import { testChecks } from './test-checks.js';

testChecks('charging', chargingChecks);
