import { chargingChecks } from './charging.checks.js';
import { testChecks } from './check.js';

testChecks('charging', chargingChecks);
