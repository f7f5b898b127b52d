/** As core's; here again because the help, which loads this, loads nothing of core. */
const MONTH_NAMES = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'] as const;

/** Three significant digits, thousands set apart: 1,234 · 12.3 · 0.123. Nothing is shown as -0 or 1e21. */
export function significant(value: number, digits = 3): string {
  if (!Number.isFinite(value)) return '-';
  const rounded = Number(value.toPrecision(digits));
  const decimals = rounded === 0 ? 0 : Math.max(0, digits - 1 - Math.floor(Math.log10(Math.abs(rounded))));
  return fixed(rounded, decimals);
}

/** So many decimals, thousands set apart. */
export function fixed(value: number, decimals: number): string {
  if (!Number.isFinite(value)) return '-';
  const text = Math.abs(value).toFixed(decimals);
  const [whole = '0', fraction] = text.split('.');
  const sign = value < 0 && Number(text) !== 0 ? '-' : '';
  return `${sign}${whole.replace(/\B(?=(\d{3})+$)/g, ',')}${fraction ? `.${fraction}` : ''}`;
}

export function energy(wh: number): string {
  return Math.abs(wh) < 999.5 ? `${fixed(wh, Math.abs(wh) < 9.95 ? 1 : 0)} Wh` : `${significant(wh / 1000)} kWh`;
}

/** A ratio 0..1 as whole percent; with a decimal where it would otherwise look equal to `beside`. */
export function percent(ratio: number, beside?: number): string {
  const whole = Math.round(ratio * 100);
  if (beside !== undefined && ratio !== beside && whole === Math.round(beside * 100))
    return `${fixed(ratio * 100, 1)} %`;
  return `${fixed(whole, 0)} %`;
}

export function hours(h: number): string {
  if (h > 0 && h < 0.995) return `${Math.max(1, Math.round(h * 60))} min`;
  if (h < 9.95) return `${significant(h, 2)} h`;
  return h < 96 ? `${fixed(h, 0)} h` : `${fixed(h / 24, 1)} days`;
}

/** "1 day", "3 days" */
export function counted(count: number, noun: string): string {
  return `${fixed(count, 0)} ${noun}${count === 1 ? '' : 's'}`;
}

/** "7 days", or "6.3 days" where a run starts at a clock time. */
export function daysCounted(days: number): string {
  return Number.isInteger(days) ? counted(days, 'day') : `${fixed(days, 1)} days`;
}

const WEEKDAYS = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'] as const;

/** "3 Oct" from an ISO date or date and time. */
export function dayText(iso: string): string {
  return `${Number(iso.slice(8, 10))} ${monthText(iso)}`;
}

export function monthText(iso: string): string {
  return MONTH_NAMES[Number(iso.slice(5, 7)) - 1] ?? iso;
}

export const monthNames = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
] as const;

/** "Jan" of 1. */
export function monthName(month: number): string {
  return MONTH_NAMES[month - 1] ?? String(month);
}

export function weekdayText(isoDate: string): string {
  return WEEKDAYS[new Date(`${isoDate.slice(0, 10)}T00:00:00Z`).getUTCDay()]!;
}

/** "5 Oct 08:10" from an ISO local date and time with offset: the civil time as written. */
export function momentText(iso: string): string {
  return `${dayText(iso)} ${iso.slice(11, 16)}`;
}
