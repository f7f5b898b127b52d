import { testChecks } from './check.js';
import { wireChecks } from './wires.checks.js';

testChecks('wires and fuses', wireChecks);
