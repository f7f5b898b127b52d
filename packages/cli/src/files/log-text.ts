import { TextDecoder } from 'node:util';

/**
 * Text of a log's bytes, chunk by chunk: UTF-8, or UTF-16 by its byte-order mark or by the zero that is half of each letter.
 * What is no UTF-8 becomes U+FFFD: a degree sign of an old code page does no harm.
 */
export async function* textOf(bytes: AsyncIterable<Uint8Array>): AsyncGenerator<string, void, void> {
  let decoder: TextDecoder | undefined;
  for await (const chunk of bytes) {
    decoder ??= new TextDecoder(encodingOf(chunk));
    const text = decoder.decode(chunk, { stream: true });
    if (text !== '') yield text;
  }
  const rest = decoder?.decode() ?? '';
  if (rest !== '') yield rest;
}

function encodingOf(first: Uint8Array): string {
  const [a, b, c, d] = first;
  if (a === 0xff && b === 0xfe) return 'utf-16le';
  if (a === 0xfe && b === 0xff) return 'utf-16be';
  if (a && b === 0 && c && d === 0) return 'utf-16le';
  if (a === 0 && b && c === 0 && d) return 'utf-16be';
  return 'utf-8';
}
