import { formatQuantity, parseQuantity, QuantityError, STARTER_LIMITS } from '@stayput/core';
import type { Dimension } from '@stayput/core/model';

/** How the values of a starter rig are asked for and read. */
export const STARTER_VALUES = {
  capacity: { dimension: 'charge', limits: STARTER_LIMITS.capacityAh, mayBeNone: false },
  solar: { dimension: 'power', limits: STARTER_LIMITS.solarW, mayBeNone: true },
  fridge: { dimension: 'volume', limits: STARTER_LIMITS.fridgeL, mayBeNone: true },
} as const satisfies Record<string, { dimension: Dimension; limits: { min: number; max: number }; mayBeNone: boolean }>;

/**
 * "200 Ah" as 200; "none" and nothing but 0 as 0, where there may be none.
 * @param bare a number without its unit will do
 * @returns the value in its dimension's unit, or what is wrong with the text
 */
export function starterValue(name: keyof typeof STARTER_VALUES, text: string, bare: boolean): number | string {
  const { dimension, limits, mayBeNone } = STARTER_VALUES[name];
  if (mayBeNone && /^\s*(none|no|0(\s*[a-z]+)?)\s*$/i.test(text)) return 0;
  try {
    const value = parseQuantity(text, dimension, bare);
    if (value >= limits.min && value <= limits.max) return value;
    const [low, high] = [formatQuantity(limits.min, dimension), formatQuantity(limits.max, dimension)];
    return `${text.trim()} is out of range: ${low} to ${high}${mayBeNone ? ', or none' : ''}`;
  } catch (error) {
    if (!(error instanceof QuantityError)) throw error;
    return `${error.message}${error.hint ? ` (${error.hint})` : ''}`;
  }
}
