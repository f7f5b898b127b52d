import { DIMENSIONS, type Dimension } from './dimension.js';

/** For people: three significant digits and the unit, "12.8 V", "33 %". A value that is not finite is said in words. */
export function formatQuantity(value: number, dimension: Dimension): string {
  const { written } = DIMENSIONS[dimension];
  if (Number.isNaN(value)) return 'unknown';
  const percent = dimension === 'ratio' || dimension === 'perKelvin';
  const number = Number.isFinite(value)
    ? threeDigits(percent ? value * 100 : value)
    : value > 0
      ? 'no limit'
      : 'no lower limit';
  return Number.isFinite(value) && written ? `${number} ${written}` : number;
}

/** Three significant digits, never in exponent form for the sizes met here; whole numbers are kept whole. */
export function threeDigits(value: number): string {
  if (value === 0) return '0';
  const size = Math.floor(Math.log10(Math.abs(value)));
  return size >= 2 ? String(Math.round(value)) : String(Number(value.toFixed(Math.min(20, 2 - size))));
}

/** The exact text that `parseQuantity` reads back as the same number. */
export function writeQuantity(value: number, dimension: Dimension): string {
  if (!Number.isFinite(value)) throw new RangeError(`value must be finite, got ${value}`);
  const { unit, written } = DIMENSIONS[dimension];
  if (dimension === 'ratio' || dimension === 'perKelvin') {
    const percent = Number((value * 100).toPrecision(15));
    if (percent / 100 === value) return `${percent} ${written}`;
    return dimension === 'ratio' ? String(value) : `${value} ${unit}`;
  }
  return written ? `${value} ${written}` : String(value);
}
