import { batteryChargingChecks } from './battery-charging.checks.js';
import { testChecks } from './test-checks.js';

testChecks('batteries, charging', batteryChargingChecks);
