import { loadChecks } from './loads.checks.js';
import { testChecks } from './test-checks.js';

testChecks('loads and the inverter', loadChecks);
