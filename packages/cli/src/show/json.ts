/** One JSON document; what has no value (never on, no limit) is null. */
export function jsonText(document: unknown): string {
  return `${JSON.stringify(document, (_, value: unknown) => (value instanceof Float64Array ? [...value] : value), 2)}\n`;
}
