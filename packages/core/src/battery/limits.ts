import type { Chemistry } from '../rig/index.js';
import { CHEMISTRIES } from './chemistry.js';

/**
 * Largest charging current that the makers allow, whatever the charger could give.
 * LFP: none below `chargeMinC` nor above 50 °C, 0.1 C below 5 °C, 0.25 C below 10 °C, else 1 C. Lead-acid: 0.25 C20
 * (flooded, gel) or 0.4 C20 (AGM), at any temperature, as the acceptance itself falls in the cold.
 * Sources: plating below 0 °C, Petzl & Danzer, J. Power Sources 254, 2014; numbers common data-sheet limits, from memory.
 * @param capacityAh of the bank [Ah]
 * @param cellC      cell (not air) temperature [°C]
 * @param chargeMinC the management system's limit, usually 0; none unless given [°C]
 * @returns >= 0 [A]
 */
export function chargeLimitA(
  chemistry: Chemistry,
  capacityAh: number,
  cellC: number,
  chargeMinC = Number.NEGATIVE_INFINITY,
): number {
  if (!(cellC >= chargeMinC)) return 0;
  const { maxChargeC, chargeByHeat } = CHEMISTRIES[chemistry];
  if (chargeByHeat === undefined) return maxChargeC * capacityAh;
  const { hotC, upTo5C, upTo10C } = chargeByHeat;
  if (cellC > hotC) return 0;
  return (cellC < 5 ? upTo5C : cellC < 10 ? upTo10C : maxChargeC) * capacityAh;
}
