import { cabinChecks } from './cabin.checks.js';
import { testChecks } from './test-checks.js';

testChecks('cabin', cabinChecks);
