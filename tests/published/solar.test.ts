import { solarChecks } from './solar.checks.js';
import { testChecks } from './test-checks.js';

testChecks('solar: module, heat, shade, converter', solarChecks);
