export { type AlternatorColumns, alternatorColumns, type EngineColumns } from './alternator.js';
export { dcdcInputA, dcdcMaxInputA } from './dcdc.js';
export { type MainsColumns, mainsColumns, mainsInputW } from './mains.js';
export { ABSORPTION, BULK, chargeVoltage, FLOAT, nextStage } from './stages.js';
