// Before every file of tests: SEED=n draws all properties from one seed, so that what was seen elsewhere can be seen again.
import fc from 'fast-check';

const { SEED } = process.env;
if (SEED !== undefined) fc.configureGlobal({ ...fc.readConfigureGlobal(), seed: Number(SEED) });
