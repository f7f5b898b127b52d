import { bench } from 'vitest';
import { yieldStudy } from '../../packages/core/src/study/index.js';
import { someRig } from '../core/study/rig-fixture.js';

const rig = someRig();
let seed = 0;
/** 52,560 steps a year; each run draws other years, so that nothing is remembered. Target: about a second. */
bench(
  'yield of one array over ten climate years at 10 minutes',
  () => {
    const { annualKwh } = yieldStudy(rig, { at: { latDeg: 41.7, lonDeg: -8.8 } }, { seed: seed++ });
    if (!(annualKwh > 0)) throw new Error('no yield');
  },
  { iterations: 5, time: 0, warmupIterations: 1, warmupTime: 0 },
);
