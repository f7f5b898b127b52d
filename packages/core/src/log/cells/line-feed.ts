import { isOpenQuote } from './split-line.js';

/** No line of a log is longer; beyond it the file is something else. */
const MAX_LINE = 1_000_000;
/** A quoted cell may run over so many lines; beyond it a quote was left open. */
const MAX_JOINED = 20;

/** Cuts chunks of text into lines: LF, CRLF or CR; a line break within quotes belongs to its row. */
export function createLineFeed(each: (line: string, number: number) => void, tooLong: () => never) {
  let rest = '';
  let number = 0;
  let carriageOnly: boolean | undefined;
  let open = '';
  let openLines = 0;
  const take = (raw: string, mayQuote: boolean) => {
    number++;
    const line = raw.charCodeAt(raw.length - 1) === 13 ? raw.slice(0, -1) : raw;
    if (openLines === 0 && !(mayQuote && line.includes('"'))) return each(line, number);
    const whole = openLines === 0 ? line : `${open} ${line}`;
    if (isOpenQuote(whole) && openLines < MAX_JOINED) {
      open = whole;
      openLines++;
      return;
    }
    const first = number - openLines;
    openLines = 0;
    open = '';
    each(whole, first);
  };
  return {
    push(chunk: string): void {
      let text = rest === '' ? chunk : rest + chunk;
      if (carriageOnly === undefined && text.length > 0) {
        if (text.includes('\n')) carriageOnly = false;
        else if (text.indexOf('\r') >= 0 && text.indexOf('\r') < text.length - 1) carriageOnly = true;
      }
      if (carriageOnly) text = text.replaceAll('\r', '\n');
      const mayQuote = text.includes('"');
      let from = 0;
      for (let end = text.indexOf('\n'); end >= 0; end = text.indexOf('\n', from)) {
        take(text.slice(from, end), mayQuote);
        from = end + 1;
      }
      rest = text.slice(from);
      if (rest.length > MAX_LINE) tooLong();
    },
    end(): void {
      if (rest !== '') take(rest, true);
      rest = '';
      if (openLines === 0) return;
      const whole = open;
      openLines = 0;
      each(whole, number);
    },
  };
}
