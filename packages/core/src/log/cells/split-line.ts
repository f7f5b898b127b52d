/** Whether a quoted cell is still open at the end of this text. */
export function isOpenQuote(text: string): boolean {
  let quotes = 0;
  for (let at = text.indexOf('"'); at >= 0; at = text.indexOf('"', at + 1)) quotes++;
  return quotes % 2 === 1;
}

/**
 * The cells of one line (RFC 4180: quoted cells may hold the delimiter, a quote is doubled). Split here
 * and not by a parser library, as a log may hold millions of lines and its reader keeps account of each.
 */
export function splitLine(line: string, delimiter: string): string[] {
  if (!line.includes('"')) return line.split(delimiter);
  const cells: string[] = [];
  let at = 0;
  for (;;) {
    let start = at;
    while (line.charCodeAt(start) === 32) start++;
    if (line.charCodeAt(start) !== 34) {
      const end = line.indexOf(delimiter, at);
      cells.push(end < 0 ? line.slice(at) : line.slice(at, end));
      if (end < 0) return cells;
      at = end + delimiter.length;
      continue;
    }
    let cell = '';
    let from = start + 1;
    for (;;) {
      const close = line.indexOf('"', from);
      if (close < 0) {
        cells.push(cell + line.slice(from));
        return cells;
      }
      cell += line.slice(from, close);
      from = close + 1;
      if (line.charCodeAt(from) !== 34) break;
      cell += '"';
      from++;
    }
    const end = line.indexOf(delimiter, from);
    cells.push(cell + (end < 0 ? line.slice(from) : line.slice(from, end)));
    if (end < 0) return cells;
    at = end + delimiter.length;
  }
}
