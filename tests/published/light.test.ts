import { lightChecks } from './light.checks.js';
import { testChecks } from './test-checks.js';

testChecks('light of a run', lightChecks);
