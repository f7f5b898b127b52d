import { climateChecks } from './climate.checks.js';
import { testChecks } from './test-checks.js';

testChecks('climate and made weather', climateChecks);
