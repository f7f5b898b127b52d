import { testChecks } from './check.js';
import { loadChecks } from './loads.checks.js';

testChecks('loads and the inverter', loadChecks);
