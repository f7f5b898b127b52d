import { batteryChecks } from './battery.checks.js';
import { testChecks } from './check.js';

testChecks('batteries', batteryChecks);
