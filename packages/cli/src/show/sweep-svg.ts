/** Grounds and inks of our drawings: own colours, light or dark with the page that shows them. */
export const SVG_STYLE = `
  .ground { fill: #fbfaf6 } .ink { fill: #26302f } .soft { fill: #55605e } .rule { stroke: #d9d8d0 }
  .line { stroke: #0f6f73; fill: none } .dot { fill: #0f6f73 }
  text { font: 13px system-ui, sans-serif } .title { font-size: 18px; font-weight: 600 } .small { font-size: 12px }
  @media (prefers-color-scheme: dark) {
    .ground { fill: #171b1c } .ink { fill: #eceae3 } .soft { fill: #b3b8b4 } .rule { stroke: #343b3c }
    .line { stroke: #5cc3c0 } .dot { fill: #5cc3c0 }
  }`;

const MOST_TITLE = 70;

/** A long name is cut, so that a title stays on its picture. */
export function fittedTitle(title: string, most = MOST_TITLE): string {
  const signs = [...title];
  return signs.length <= most ? title : `${signs.slice(0, most - 1).join('')}…`;
}

export const rounded = (value: number) => Math.round(value * 10) / 10;

export function escaped(text: string): string {
  return text.replace(/[&<>"]/g, (sign) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[sign]!);
}

/** A step of 1, 2 or 5 times a power of ten that divides a span into four to nine. */
export function niceStep(span: number): number {
  if (!(span > 0)) return 1;
  const raw = span / 6;
  const ten = 10 ** Math.floor(Math.log10(raw));
  return ([1, 2, 5].find((times) => times * ten >= raw) ?? 10) * ten;
}
