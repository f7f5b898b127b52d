import { fridgeEdgeChecks } from './fridge-edges.checks.js';
import { testChecks } from './test-checks.js';

testChecks('fridge edges', fridgeEdgeChecks);
