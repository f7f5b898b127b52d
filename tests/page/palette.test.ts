import { expect, test } from 'vitest';
import { PALETTE } from '../../packages/cli/src/show/charts/palette.js';

/** Relative luminance of an sRGB colour. Source: WCAG 2.2, definition of relative luminance. */
function luminance(hex: string): number {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5]
    .map((at) => Number.parseInt(hex.slice(at, at + 2), 16) / 255)
    .map((part) => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4));
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

/** Source: WCAG 2.2, definition of contrast ratio. */
function contrast(one: string, other: string): number {
  const [dark = 0, light = 0] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (light + 0.05) / (dark + 0.05);
}

test('contrast as the standard works it out: black on white is 21 (WCAG 2.2)', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 9);
});

test.each(['ink', 'soft'] as const)('text in %s stands out by 7:1, light and dark (WCAG 2.2, 1.4.6)', (hue) => {
  for (const set of [0, 1] as const) expect(contrast(PALETTE[hue][set], PALETTE.ground[set])).toBeGreaterThanOrEqual(7);
});

test.each(['sun', 'battery', 'engine', 'mains', 'trouble'] as const)(
  'marks in %s stand out by 3:1, light and dark (WCAG 2.2, 1.4.11)',
  (hue) => {
    for (const set of [0, 1] as const)
      expect(contrast(PALETTE[hue][set], PALETTE.ground[set])).toBeGreaterThanOrEqual(3);
  },
);
