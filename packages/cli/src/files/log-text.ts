import { isAscii } from 'node:buffer';
import { TextDecoder } from 'node:util';

/**
 * Text of a log's bytes, chunk by chunk: UTF-8, or UTF-16 by its byte-order mark or by the zero that is half of each letter.
 * What is no UTF-8 becomes U+FFFD: a degree sign of an old code page does no harm.
 */
export async function* textOf(bytes: AsyncIterable<Uint8Array>): AsyncGenerator<string, void, void> {
  let decoder: TextDecoder | undefined;
  /** a letter may have begun at the end of the chunk before */
  let isOpen = true;
  for await (const chunk of bytes) {
    decoder ??= new TextDecoder(encodingOf(chunk));
    // plain ASCII, which most of a log is, needs no decoder, and its strings take half the memory
    const isPlain = decoder.encoding === 'utf-8' && !isOpen && isAscii(chunk);
    const text = isPlain ? latin1(chunk) : decoder.decode(chunk, { stream: true });
    if (chunk.length > 0) isOpen = chunk.at(-1)! > 127;
    if (text !== '') yield text;
  }
  const rest = decoder?.decode() ?? '';
  if (rest !== '') yield rest;
}

const latin1 = ({ buffer, byteOffset, length }: Uint8Array) =>
  Buffer.from(buffer, byteOffset, length).toString('latin1');

function encodingOf(first: Uint8Array): string {
  const [a, b, c, d] = first;
  if (a === 0xff && b === 0xfe) return 'utf-16le';
  if (a === 0xfe && b === 0xff) return 'utf-16be';
  if (a && b === 0 && c && d === 0) return 'utf-16le';
  if (a === 0 && b && c === 0 && d) return 'utf-16be';
  return 'utf-8';
}
