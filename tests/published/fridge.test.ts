import { fridgeChecks } from './fridge.checks.js';
import { testChecks } from './test-checks.js';

testChecks('fridge', fridgeChecks);
