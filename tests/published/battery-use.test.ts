import { batteryUseChecks } from './battery-use.checks.js';
import { testChecks } from './test-checks.js';

testChecks('batteries in use', batteryUseChecks);
