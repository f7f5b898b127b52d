import { Readable } from 'node:stream';
import { createInflateRaw } from 'node:zlib';
import { InputError } from '../failure.js';

/** Larger archives are no log: 300 MB hold some 50 million rows [bytes]. */
const LARGEST = 300e6;
const LOCAL = 0x04034b50;
const CENTRAL = 0x02014b50;
const END = 0x06054b50;
const END_LENGTH = 22;
const LONGEST_COMMENT = 65_535;

interface Entry {
  readonly name: string;
  readonly method: number;
  readonly isEncrypted: boolean;
  readonly packed: number;
  readonly at: number;
}

/**
 * The content of the one file in a ZIP archive (PKWARE APPNOTE 6.3.10, sections 4.3.7, 4.3.12 and 4.3.16), stored or deflated.
 * @throws InputError when there are several, none, or what cannot be unpacked
 */
export async function* unzipped(bytes: AsyncIterable<Uint8Array>, name: string): AsyncGenerator<Uint8Array> {
  const damaged = () => new InputError(`${name}: the ZIP archive is damaged or cut short`);
  const chunks: Uint8Array[] = [];
  let length = 0;
  for await (const chunk of bytes) {
    length += chunk.length;
    if (length > LARGEST)
      throw new InputError(`${name}: the ZIP archive is larger than ${LARGEST / 1e6} MB; unpack it first`);
    chunks.push(chunk);
  }
  const archive = Buffer.concat(chunks);
  const files = entries(archive, damaged).filter(
    (entry) => !entry.name.endsWith('/') && !/(^|\/)(__MACOSX|\.)/.test(entry.name),
  );
  const [file] = files;
  if (files.length > 1)
    throw new InputError(
      `${name}: the ZIP archive holds ${files.length} files (${files
        .slice(0, 5)
        .map((entry) => entry.name)
        .join(', ')}${files.length > 5 ? ' ...' : ''}); unpack it and name one`,
    );
  if (file === undefined) throw new InputError(`${name}: the ZIP archive holds no file`);
  if (file.isEncrypted || (file.method !== 0 && file.method !== 8))
    throw new InputError(
      `${name}: ${file.name} in the ZIP archive is ${file.isEncrypted ? 'encrypted' : 'packed in a rare way'}; unpack it first`,
    );
  if (file.at + 30 > archive.length || archive.readUInt32LE(file.at) !== LOCAL) throw damaged();
  const from = file.at + 30 + archive.readUInt16LE(file.at + 26) + archive.readUInt16LE(file.at + 28);
  const packed = archive.subarray(from, from + file.packed);
  if (packed.length < file.packed) throw damaged();
  if (file.method === 0) {
    yield packed;
    return;
  }
  try {
    yield* Readable.from([packed]).pipe(createInflateRaw()) as AsyncIterable<Uint8Array>;
  } catch (error) {
    throw (error as NodeJS.ErrnoException).code?.startsWith('Z_') ? damaged() : error;
  }
}

/** The central directory, found from the archive's end. */
function entries(archive: Buffer, damaged: () => Error): Entry[] {
  let end = archive.length - END_LENGTH;
  const last = Math.max(0, end - LONGEST_COMMENT);
  while (end >= last && archive.readUInt32LE(end) !== END) end--;
  if (end < last) throw damaged();
  const count = archive.readUInt16LE(end + 10);
  let at = archive.readUInt32LE(end + 16);
  const found: Entry[] = [];
  for (let k = 0; k < count; k++) {
    if (at + 46 > archive.length || archive.readUInt32LE(at) !== CENTRAL) throw damaged();
    const nameLength = archive.readUInt16LE(at + 28);
    found.push({
      name: archive.toString('utf8', at + 46, at + 46 + nameLength),
      method: archive.readUInt16LE(at + 10),
      isEncrypted: (archive.readUInt16LE(at + 8) & 1) === 1,
      packed: archive.readUInt32LE(at + 20),
      at: archive.readUInt32LE(at + 42),
    });
    at += 46 + nameLength + archive.readUInt16LE(at + 30) + archive.readUInt16LE(at + 32);
  }
  return found;
}
