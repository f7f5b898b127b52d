import { testChecks } from './check.js';
import { solarChecks } from './solar.checks.js';

testChecks('solar: module, heat, shade, converter', solarChecks);
