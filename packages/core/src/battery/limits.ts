import type { Chemistry } from '../rig/index.js';
import { CHEMISTRIES } from './chemistry.js';

/** LFP near freezing: at most 0.1 C from 0 to 5 °C, and the middle of 0.2 to 0.3 C from 5 to 10 °C. */
const LFP_COLD_C = { upTo5C: 0.1, upTo10C: 0.25 } as const;
/** LFP: no charge above this; middle of the common 45 to 55 °C [°C]. */
const LFP_HOT_C = 50;

/**
 * Largest charging current that the makers allow, whatever the charger could give.
 * LFP: none below `chargeMinC` nor above 50 °C, 0.1 C below 5 °C, 0.25 C below 10 °C, else 1 C. Lead-acid: 0.25 C20
 * (flooded, gel) or 0.4 C20 (AGM), at any temperature, as the acceptance itself falls in the cold.
 * Sources: plating below 0 °C, Petzl & Danzer, J. Power Sources 254, 2014; numbers common data-sheet limits, from memory.
 * @param capacityAh of the bank [Ah]
 * @param cellC      cell (not air) temperature [°C]
 * @param chargeMinC the management system's limit, usually 0 [°C]
 * @returns >= 0 [A]
 */
export function chargeLimitA(chemistry: Chemistry, capacityAh: number, cellC: number, chargeMinC: number): number {
  if (!(cellC >= chargeMinC)) return 0;
  const mostA = CHEMISTRIES[chemistry].maxChargeC * capacityAh;
  if (chemistry !== 'LFP') return mostA;
  if (cellC > LFP_HOT_C) return 0;
  if (cellC < 5) return LFP_COLD_C.upTo5C * capacityAh;
  if (cellC < 10) return LFP_COLD_C.upTo10C * capacityAh;
  return mostA;
}
