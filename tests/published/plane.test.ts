import { testChecks } from './check.js';
import { planeChecks } from './plane.checks.js';

testChecks('beam, diffuse and the tilted plane', planeChecks);
