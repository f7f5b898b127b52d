/**
 * The standard normal value below which a share p of all values lies.
 * Source: Wichura, Algorithm AS 241 (PPND7), Applied Statistics 37(3), 1988, p. 477; coefficients from memory, tested against
 * published quantiles. Relative accuracy about 1e-7. Nearly always plain arithmetic, so the same on each machine.
 * @param p 0 to 1, both excluded
 */
export function normalQuantile(p: number): number {
  const q = p - 0.5;
  if (Math.abs(q) <= 0.425) {
    const r = 0.180625 - q * q;
    return (
      (q * (3.3871327179 + r * (50.434271938 + r * (159.29113202 + r * 59.10937472)))) /
      (1 + r * (17.895169469 + r * (78.757757664 + r * 67.1875636)))
    );
  }
  const tail = Math.sqrt(-Math.log(Math.max(1e-300, q < 0 ? p : 1 - p)));
  let value: number;
  if (tail <= 5) {
    const r = tail - 1.6;
    value =
      (1.4234372777 + r * (2.75681539 + r * (1.3067284816 + r * 0.17023821103))) /
      (1 + r * (0.7370016425 + r * 0.12021132975));
  } else {
    const r = tail - 5;
    value =
      (6.657905115 + r * (3.081226386 + r * (0.42868294337 + r * 0.017337203997))) /
      (1 + r * (0.24197894225 + r * 0.012258202635));
  }
  return q < 0 ? -value : value;
}

/**
 * Share of a standard normal distribution below z. Source: Abramowitz & Stegun, Handbook of Mathematical Functions, 1964,
 * eq. 26.2.17. Accuracy 7.5e-8.
 */
export function normalShare(z: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(z));
  const tail =
    0.3989422804014327 *
    Math.exp((-z * z) / 2) *
    t *
    (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  return z < 0 ? tail : 1 - tail;
}
