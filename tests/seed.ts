// Before every file of tests: all properties draw from one seed, so that a run can be had again and a change is judged by itself.
// SEED=n draws from another; SHRINK=1 looks for the smallest case that fails, which can take an hour where a case is a whole trip.
import fc from 'fast-check';

const { SEED = '20260301', SHRINK } = process.env;
fc.configureGlobal({ ...fc.readConfigureGlobal(), seed: Number(SEED), endOnFailure: SHRINK === undefined });
