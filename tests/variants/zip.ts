import { deflateRawSync } from 'node:zlib';

/** A ZIP archive (PKWARE APPNOTE 6.3: local headers, central directory, its end), deflated. */
export function zipOf(files: Readonly<Record<string, Uint8Array>>): Buffer {
  const locals: Buffer[] = [];
  const central: Buffer[] = [];
  let at = 0;
  for (const [name, content] of Object.entries(files)) {
    const packed = deflateRawSync(content);
    const common = Buffer.alloc(26);
    common.writeUInt16LE(20, 0); // version needed
    common.writeUInt16LE(8, 4); // deflate
    common.writeUInt32LE(crc32(content), 10);
    common.writeUInt32LE(packed.length, 14);
    common.writeUInt32LE(content.length, 18);
    common.writeUInt16LE(Buffer.byteLength(name), 22);
    const local = Buffer.concat([Buffer.from('PK\u0003\u0004'), common, Buffer.from(name), packed]);
    const rest = Buffer.alloc(14);
    rest.writeUInt32LE(at, 10);
    central.push(Buffer.concat([Buffer.from('PK\u0001\u0002\u0014\u0000'), common, rest, Buffer.from(name)]));
    locals.push(local);
    at += local.length;
  }
  const directory = Buffer.concat(central);
  const end = Buffer.alloc(18);
  end.writeUInt16LE(central.length, 4);
  end.writeUInt16LE(central.length, 6);
  end.writeUInt32LE(directory.length, 8);
  end.writeUInt32LE(at, 12);
  return Buffer.concat([...locals, directory, Buffer.from('PK\u0005\u0006'), end]);
}

function crc32(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
  }
  return (crc ^ 0xffffffff) >>> 0;
}
