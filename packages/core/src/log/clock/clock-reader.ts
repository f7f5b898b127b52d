import { MINUTE_MS } from '../../math/index.js';

const COLON = 58;
const POINT = 46;
const NO_DIGIT = 100;
const MAX_DECIMALS = 6;

/** Reads a plain time of day where it stands in a text. */
export interface ClockReader {
  /** of the last one: what the decimals of its seconds add [ms] */
  decimalsMs: number;
  /** of the last one: where it ended, decimals included */
  end: number;
  /** H:MM or HH:MM from `at` on, with seconds or without [ms after midnight]; NaN when it is not, or beyond 23:59:59 */
  read(text: string, at: number): number;
}

export function createClockReader(): ClockReader {
  const decimals = (text: string, from: number): void => {
    let parts = 0;
    let weight = 1;
    let at = from;
    for (let one = digit(text, at); one !== NO_DIGIT; one = digit(text, ++at)) {
      parts = parts * 10 + one;
      weight *= 10;
    }
    if (at === from) return;
    clock.decimalsMs = at - from > MAX_DECIMALS ? Number.NaN : Math.round((parts / weight) * 1000);
    clock.end = at;
  };
  const clock: ClockReader = {
    decimalsMs: 0,
    end: 0,
    read(text, at) {
      const colon = text.charCodeAt(at + 1) === COLON ? at + 1 : at + 2;
      const hour = colon === at + 1 ? digit(text, at) : twoDigits(text, at);
      const minute = twoDigits(text, colon + 1);
      clock.decimalsMs = 0;
      clock.end = colon + 3;
      if (text.charCodeAt(colon) !== COLON || hour > 23 || minute > 59) return Number.NaN;
      const minuteMs = (hour * 60 + minute) * MINUTE_MS;
      if (text.charCodeAt(clock.end) !== COLON) return minuteMs;
      const second = twoDigits(text, clock.end + 1);
      clock.end += 3;
      if (text.charCodeAt(clock.end) === POINT) decimals(text, clock.end + 1);
      return second > 59 ? Number.NaN : minuteMs + second * 1000;
    },
  };
  return clock;
}

const twoDigits = (text: string, at: number) => digit(text, at) * 10 + digit(text, at + 1);

function digit(text: string, at: number): number {
  const value = text.charCodeAt(at) - 48;
  return value >= 0 && value <= 9 ? value : NO_DIGIT;
}
