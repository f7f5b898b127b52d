import { ConfigError } from './config-error.js';

// A web standard that Node and browsers both have; the ES2022 library does not declare it.
declare const TextDecoder: new (label: string, options: { fatal: boolean }) => { decode(bytes: Uint8Array): string };

/** Largest rig, trip or parts list that is read [bytes]: real ones hold a few kilobytes, and a broken one must be reported soon. */
export const LARGEST_FILE = 200_000;

/**
 * The text of a file. A byte-order mark is taken off.
 * @throws ConfigError for a file that is too large, UTF-16, binary, or not UTF-8
 */
export function decodeText(bytes: Uint8Array, file: string, options: { readonly maxBytes?: number } = {}): string {
  const limit = options.maxBytes ?? LARGEST_FILE;
  if (bytes.length > limit)
    throw refused('too_large', `the file has ${megabytes(bytes.length)}; at most ${megabytes(limit)} are read`, file);
  if (isUtf16(bytes)) throw refused('encoding', 'the file is in UTF-16', file, 'save it as UTF-8');
  if (bytes.includes(0)) throw refused('binary', 'this is a binary file, not text', file);
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return text.startsWith('\uFEFF') ? text.slice(1) : text;
  } catch {
    throw refused('encoding', 'the file is not UTF-8 text', file, 'save it as UTF-8');
  }
}

function isUtf16(bytes: Uint8Array): boolean {
  const [a, b] = bytes;
  if ((a === 0xff && b === 0xfe) || (a === 0xfe && b === 0xff)) return true;
  const start = bytes.subarray(0, 64 - (64 % 2));
  if (start.length < 4) return false;
  const zeros = [0, 0];
  start.forEach((byte, i) => {
    if (byte === 0) zeros[i % 2]!++;
  });
  const half = Math.floor(start.length / 2);
  return (zeros[0] === 0 && zeros[1]! > half * 0.8) || (zeros[1] === 0 && zeros[0]! > half * 0.8);
}

const megabytes = (bytes: number) => `${Number((bytes / 1e6).toFixed(1))} MB`;

function refused(code: string, message: string, file: string, hint?: string): ConfigError {
  return new ConfigError([{ code, path: '', file, message, ...(hint && { hint }) }]);
}
