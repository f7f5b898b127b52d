import { testChecks } from './check.js';
import { climateChecks } from './climate.checks.js';

testChecks('climate and made weather', climateChecks);
