import { batteryChecks } from './battery.checks.js';
import { testChecks } from './test-checks.js';

testChecks('batteries', batteryChecks);
