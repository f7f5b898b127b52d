import { panelChecks } from './panels.checks.js';
import { testChecks } from './test-checks.js';

testChecks('panels in shade and snow', panelChecks);
