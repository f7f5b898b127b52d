import { testChecks } from './check.js';
import { panelChecks } from './panels.checks.js';

testChecks('panels in shade and snow', panelChecks);
