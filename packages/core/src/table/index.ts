export {
  type ColumnRole,
  clockOffsetOf,
  dailyAirOf,
  roleOf,
  type StampPosition,
  stampPositionOf,
  unitOf,
  wordsOf,
} from './column-wording.js';
export { type DateOrder, dateOrderOf, readStamp, readTimeOfDay, type Stamp } from './time-stamp.js';
