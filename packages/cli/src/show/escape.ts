/** Signs that neither XML nor HTML can hold, even escaped: most control characters, halves of pairs, non-characters. */
const UNWRITABLE = /[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu;

const ENTITY: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text as it stands in HTML or SVG, between tags or in a quoted attribute. */
export function escaped(text: string): string {
  return text.replace(UNWRITABLE, '\ufffd').replace(/[&<>"']/g, (sign) => ENTITY[sign]!);
}
