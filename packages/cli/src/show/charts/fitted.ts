/** A long text is cut, so that it stays on the picture. */
export function fitted(text: string, most: number): string {
  const signs = [...text];
  return signs.length <= most ? text : `${signs.slice(0, Math.max(1, most - 1)).join('')}…`;
}
