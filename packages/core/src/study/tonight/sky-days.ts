import { normalQuantile, Z90 } from '../../math/index.js';
import { closest, parseQuantity, QuantityError, shown } from '../../quantity/index.js';

/** The light of a day to come, as someone would say it. */
export type SkyDay =
  | { readonly kind: 'word'; readonly word: SkyWord }
  /** share of the light of a clear sky, 0..1 */
  | { readonly kind: 'clear share'; readonly share: number }
  /** on the horizontal [kWh/m²] */
  | { readonly kind: 'irradiation'; readonly kwhM2: number };

/**
 * Between what and what the light of such a day lies, as a share of a clear day's. Cloud of N eighths leaves 1 − 0.75·(N/8)^3.4 of the
 * clear sky's light (Kasten & Czeplak, Solar Energy 24, 1980, p. 177; from memory): 0.25 overcast, 0.52 and 0.72 with 7 and 6
 * eighths, 0.85 to 0.97 with 5 to 3, 1 below; single overcast skies have 0.16 (rain) to 0.27 (thin layers) and more. The ends are so drawn that the
 * words join.
 */
export const SKY_WORDS = {
  rain: { low: 0.08, high: 0.22 },
  dull: { low: 0.14, high: 0.38 },
  cloudy: { low: 0.35, high: 0.65 },
  fair: { low: 0.6, high: 0.95 },
  clear: { low: 0.92, high: 1.02 },
} as const;
export type SkyWord = keyof typeof SKY_WORDS;

/** Said otherwise. */
const SAME_AS: Readonly<Record<string, SkyWord>> = {
  rainy: 'rain',
  wet: 'rain',
  overcast: 'dull',
  grey: 'dull',
  gray: 'dull',
  dark: 'dull',
  mixed: 'fair',
  sunny: 'clear',
  bright: 'clear',
};
/** A forecast of a day's light is off by so much of it, 9 times in 10. Common practice, no source. */
const FORECAST_OFF = 0.2;
const MAX_DAYS = 14;
const HELP = 'write dull, dull, fair (or rain, cloudy, clear), or 40 %, or 3.2 kWh/m2';

/**
 * "dull, dull, fair", "20 %, 35 %", "1.2, 3 kWh/m2" as days.
 * @throws QuantityError
 */
export function parseSky(text: string): SkyDay[] {
  const days = text.split(',').map((one) => one.trim());
  if (days.length > MAX_DAYS)
    throw new QuantityError(
      'not_a_quantity',
      `${days.length} days are more than anyone can foresee (${MAX_DAYS})`,
      HELP,
    );
  const lastUnit = /[a-z%].*$/i.exec(days.at(-1) ?? '')?.[0];
  return days.map((day): SkyDay => {
    const word = day.toLowerCase();
    const known = Object.hasOwn(SKY_WORDS, word)
      ? (word as SkyWord)
      : Object.hasOwn(SAME_AS, word)
        ? SAME_AS[word]
        : undefined;
    if (known) return { kind: 'word', word: known };
    if (!/^[\d.]/.test(day)) {
      const near = closest(word, [...Object.keys(SKY_WORDS), ...Object.keys(SAME_AS)]);
      const what = day === '' ? 'a day is missing' : `${shown(day)} is no sky`;
      throw new QuantityError('not_a_quantity', what, near ? `did you mean ${near}?` : HELP);
    }
    // "1, 2, 3 kWh/m2": the unit at the end is for all of them.
    const whole =
      /[a-z%]/i.test(day) || lastUnit === undefined || SKY_UNIT.test(lastUnit) === false ? day : `${day} ${lastUnit}`;
    if (/%\s*$/.test(whole)) {
      const share = parseQuantity(whole, 'ratio');
      if (!(share >= 0 && share <= 1.1))
        throw new QuantityError(
          'not_a_quantity',
          `${shown(day)} of a clear sky's light is out of range: 0 to 110 %`,
          HELP,
        );
      return { kind: 'clear share', share };
    }
    const kwhM2 = parseQuantity(whole, 'irradiation');
    if (!(kwhM2 >= 0 && kwhM2 <= 14))
      throw new QuantityError('not_a_quantity', `${shown(day)} is out of range: 0 to 14 kWh/m2 a day`, HELP);
    return { kind: 'irradiation', kwhM2 };
  });
}

const SKY_UNIT = /^(%|k?Wh|MJ)/i;

/**
 * What such a day's light may be.
 * @param clearKwhM2 of a clear sky on that day
 * @param share 0..1, of all that it may be what lies below
 * @returns on the horizontal [kWh/m²]
 */
export function skyKwhM2(day: SkyDay, clearKwhM2: number, share: number): number {
  if (day.kind === 'word') {
    const { low, high } = SKY_WORDS[day.word];
    return clearKwhM2 * (low + (high - low) * share);
  }
  const kwhM2 = day.kind === 'irradiation' ? day.kwhM2 : day.share * clearKwhM2;
  return Math.min(1.1 * clearKwhM2, kwhM2 * Math.max(0, 1 + (FORECAST_OFF / Z90) * normalQuantile(share)));
}
