/**
 * @stayput/core: the energy model of a vehicle that stays put on 12 V. Pure: no file, console, clock or network;
 * the same input gives the same output. Read in the order in which the data flows.
 */

export * from './battery/index.js';
export * from './charge/index.js';
export * from './load/index.js';
export * from './log/index.js';
export * from './math/index.js';
export * from './place/index.js';
export * from './quantity/index.js';
export * from './rig/index.js';
export * from './simulate/index.js';
export * from './sky/index.js';
export * from './solar/index.js';
export * from './study/index.js';
export * from './table/index.js';
export * from './weather/index.js';
export * from './wire/index.js';
