export {
  type ClockPoint,
  type DayWindow,
  formatClock,
  formatWindows,
  parseClock,
  parseWindows,
  windowHours,
} from './clock.js';
export { closest } from './closest.js';
export { DIMENSIONS, type Dimension, type DimensionSpec } from './dimension.js';
export {
  type CompiledExpression,
  compileExpression,
  EXPRESSION_FUNCTIONS,
  EXPRESSION_VARIABLES,
  ExpressionError,
  type Scope,
} from './expression.js';
export { formatQuantity, threeDigits, writeQuantity } from './format.js';
export { awgSectionMm2, readGauge } from './gauge.js';
export { bareNumber, parseQuantity, QuantityError, type QuantityFault, shown } from './quantity.js';
