import { DAY_MS } from '../../math/index.js';
import { createClockReader } from './clock-reader.js';

const HALF_DAY_MS = DAY_MS / 2;
/** A date in numbers, a time of day, and behind it nothing, am or pm, an offset, or the letters of a zone. */
const PLAIN =
  /^(\d{1,4}[-/.]\d{1,2}[-/.]\d{2,4}[ T])\d{1,2}:\d\d(?::\d\d(?:\.\d{1,6})?)?(| ?[ap]m|z| ?[a-z]{3,5}|[+-]\d\d:?\d\d)$/i;

/** A log writes one way, and a date stands for a whole day: of further stamps of that day only the time of day is read. */
export interface KnownDay {
  /** whether its stamps name their offset */
  isUtc: boolean;
  /** exactly what the patterns would make of the text [ms]; NaN when it is of another day, or written in another way */
  read(text: string): number;
  /** @param ms what the patterns made of the text */
  learn(text: string, ms: number, isUtc: boolean): void;
}

export function createKnownDay(): KnownDay {
  const clock = createClockReader();
  let before = '\u0000';
  let after = '';
  let isHalf = false;
  let halfMs = 0;
  let beginMs = 0;
  const ofDayMs = (text: string): number => {
    const ms = clock.read(text, before.length);
    if (text.length !== clock.end + after.length || !text.endsWith(after)) return Number.NaN;
    return (isHalf ? (ms % HALF_DAY_MS) + halfMs : ms) + clock.decimalsMs;
  };
  const day: KnownDay = {
    isUtc: false,
    read: (text) => (text.startsWith(before) ? beginMs + ofDayMs(text) : Number.NaN),
    learn(text, ms, isUtc) {
      const found = PLAIN.exec(text);
      if (found === null) return;
      before = found[1]!;
      after = found[2]!;
      isHalf = /m$/i.test(after);
      halfMs = /p/i.test(after) ? HALF_DAY_MS : 0;
      beginMs = ms - ofDayMs(text);
      day.isUtc = isUtc;
    },
  };
  return day;
}
