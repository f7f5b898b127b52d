import { planeChecks } from './plane.checks.js';
import { testChecks } from './test-checks.js';

testChecks('beam, diffuse and the tilted plane', planeChecks);
