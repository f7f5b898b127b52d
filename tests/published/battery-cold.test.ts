import { batteryColdChecks } from './battery-cold.checks.js';
import { testChecks } from './test-checks.js';

testChecks('batteries, cold', batteryColdChecks);
