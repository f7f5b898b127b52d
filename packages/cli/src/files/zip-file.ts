const LOCAL = 0x04034b50;
const CENTRAL = 0x02014b50;
const END = 0x06054b50;
const END_LENGTH = 22;
const LONGEST_COMMENT = 65_535;
const [STORED, DEFLATED] = [0, 8];

/** Larger archives are no log: 300 MB hold some 50 million rows [bytes]. */
export const LARGEST_ZIP = 300e6;

/** Why a ZIP archive cannot be read, as what follows the archive's name. */
export class ZipError extends Error {
  override name = 'ZipError';
}

/** What a ZIP archive without a sound directory, or with bytes missing, is answered with. */
export const damagedZip = () => new ZipError('the ZIP archive is damaged or cut short');

interface Entry {
  readonly name: string;
  readonly method: number;
  readonly isEncrypted: boolean;
  readonly packed: number;
  readonly at: number;
}

/**
 * The one file in a ZIP archive (PKWARE APPNOTE 6.3.10, sections 4.3.7, 4.3.12 and 4.3.16), stored or deflated, in Node and in a browser.
 * @throws ZipError when there are several, none, or what cannot be unpacked
 */
export function zippedFile(archive: Uint8Array<ArrayBuffer>): {
  bytes: Uint8Array<ArrayBuffer>;
  isDeflated: boolean;
} {
  const view = new DataView(archive.buffer, archive.byteOffset, archive.byteLength);
  const files = entries(view).filter(({ name }) => !name.endsWith('/') && !/(^|\/)(__MACOSX|\.)/.test(name));
  const [file] = files;
  if (files.length > 1)
    throw new ZipError(
      `the ZIP archive holds ${files.length} files (${files
        .slice(0, 5)
        .map(({ name }) => name)
        .join(', ')}${files.length > 5 ? ' ...' : ''}); unpack it and name one`,
    );
  if (file === undefined) throw new ZipError('the ZIP archive holds no file');
  if (file.isEncrypted || (file.method !== STORED && file.method !== DEFLATED))
    throw new ZipError(
      `${file.name} in the ZIP archive is ${file.isEncrypted ? 'encrypted' : 'packed in a rare way'}; unpack it first`,
    );
  if (file.at + 30 > archive.length || view.getUint32(file.at, true) !== LOCAL) throw damagedZip();
  const from = file.at + 30 + view.getUint16(file.at + 26, true) + view.getUint16(file.at + 28, true);
  const bytes = archive.subarray(from, from + file.packed);
  if (bytes.length < file.packed) throw damagedZip();
  return { bytes, isDeflated: file.method === DEFLATED };
}

/** The central directory, found from the archive's end. */
function entries(view: DataView<ArrayBuffer>): Entry[] {
  let end = view.byteLength - END_LENGTH;
  const last = Math.max(0, end - LONGEST_COMMENT);
  while (end >= last && view.getUint32(end, true) !== END) end--;
  if (end < last) throw damagedZip();
  const count = view.getUint16(end + 10, true);
  let at = view.getUint32(end + 16, true);
  const found: Entry[] = [];
  for (let k = 0; k < count; k++) {
    if (at + 46 > view.byteLength || view.getUint32(at, true) !== CENTRAL) throw damagedZip();
    const nameLength = Math.min(view.getUint16(at + 28, true), view.byteLength - at - 46);
    found.push({
      name: new TextDecoder().decode(new Uint8Array(view.buffer, view.byteOffset + at + 46, nameLength)),
      method: view.getUint16(at + 10, true),
      isEncrypted: (view.getUint16(at + 8, true) & 1) === 1,
      packed: view.getUint32(at + 20, true),
      at: view.getUint32(at + 42, true),
    });
    at += 46 + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  return found;
}
