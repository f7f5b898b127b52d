import { testChecks } from './check.js';
import { fridgeChecks } from './fridge.checks.js';

testChecks('fridge', fridgeChecks);
