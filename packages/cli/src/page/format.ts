import { fixed } from '../show/number.js';

/** How figures are shown: the digits are the command line's, the signs between them the reader's. */
export interface Format {
  readonly units: 'metric' | 'imperial';
  number(value: number, decimals: number): string;
  /** "2.7", "12", "60+" as on the command line */
  days(days: number, horizonDays: number): string;
  energy(wh: number): string;
  percent(ratio: number): string;
  temperature(c: number): string;
  /** a difference of temperature */
  kelvin(k: number): string;
  mass(kg: number): string;
}

const F_PER_C = 1.8;
const LB_PER_KG = 1 / 0.45359237;

export function formatFor(locale: string, units: Format['units']): Format {
  const parts = new Intl.NumberFormat(locale).formatToParts(1234567.5);
  const sign = (type: string) => parts.find((part) => part.type === type)?.value ?? '';
  const [decimal, group] = [sign('decimal') || '.', sign('group')];
  const number = (value: number, decimals: number) =>
    fixed(value, decimals).replace(/[.,]/g, (found) => (found === '.' ? decimal : group));
  const isMetric = units === 'metric';
  return {
    units,
    number,
    days: (days, horizonDays) => (days >= horizonDays ? `${horizonDays}+` : number(days, days < 9.95 ? 1 : 0)),
    energy: (wh) =>
      Math.abs(wh) < 999.5 ? `${number(wh, Math.abs(wh) < 9.95 ? 1 : 0)} Wh` : `${number(wh / 1000, 2)} kWh`,
    percent: (ratio) => `${number(ratio * 100, 0)} %`,
    temperature: (c) =>
      isMetric ? `${number(c, Number.isInteger(c) ? 0 : 1)} °C` : `${number(c * F_PER_C + 32, 0)} °F`,
    kelvin: (k) => (isMetric ? `${number(k, Number.isInteger(k) ? 0 : 1)} °C` : `${number(k * F_PER_C, 0)} °F`),
    mass: (kg) => (isMetric ? `${number(kg, kg < 10 ? 1 : 0)} kg` : `${number(kg * LB_PER_KG, 0)} lb`),
  };
}
