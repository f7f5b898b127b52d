import { cutOutChecks } from './cut-out.checks.js';
import { testChecks } from './test-checks.js';

testChecks('cut-outs and reconnects', cutOutChecks);
