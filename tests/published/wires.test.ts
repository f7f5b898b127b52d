import { testChecks } from './test-checks.js';
import { wireChecks } from './wires.checks.js';

testChecks('wires and fuses', wireChecks);
