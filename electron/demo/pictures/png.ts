/** Writes a canvas as PNG (ISO/IEC 15948): true colour, eight bits, no filter. */
import type { Canvas } from './raster.ts';

const table = Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let bit = 0; bit < 8; bit += 1) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c >>> 0;
});

/** CRC-32 as PNG asks for it. */
const crc = (bytes: Uint8Array): number => {
  let c = 0xffffffff;
  for (const byte of bytes) c = (table[(c ^ byte) & 255] ?? 0) ^ (c >>> 8);
  return (c ^ 0xffffffff) >>> 0;
};

const fourBytes = (value: number): Uint8Array => {
  const bytes = new Uint8Array(4);
  new DataView(bytes.buffer).setUint32(0, value);
  return bytes;
};

const join = (parts: readonly Uint8Array[]): Uint8Array<ArrayBuffer> => {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
};

const chunk = (name: string, data: Uint8Array): Uint8Array => {
  const named = join([Uint8Array.from(name, (letter) => letter.charCodeAt(0)), data]);
  return join([fourBytes(data.length), named, fourBytes(crc(named))]);
};

const deflate = async (bytes: Uint8Array<ArrayBuffer>): Promise<Uint8Array> =>
  new Uint8Array(
    await new Response(
      new Blob([bytes]).stream().pipeThrough(new CompressionStream('deflate')),
    ).arrayBuffer(),
  );

/** A canvas as the bytes of a PNG file. */
export async function toPng({ width, height, data }: Canvas): Promise<Uint8Array> {
  const lines = new Uint8Array(height * (width * 3 + 1));
  for (let y = 0; y < height; y += 1) {
    lines.set(data.subarray(y * width * 3, (y + 1) * width * 3), y * (width * 3 + 1) + 1);
  }
  const header = join([fourBytes(width), fourBytes(height), Uint8Array.of(8, 2, 0, 0, 0)]);
  const signature = Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a);
  return join([
    signature,
    chunk('IHDR', header),
    chunk('IDAT', await deflate(lines)),
    chunk('IEND', new Uint8Array()),
  ]);
}

/** Bytes as base64 text, as the contract carries files. */
export function toBase64(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += 8192)
    text += String.fromCharCode(...bytes.subarray(at, at + 8192));
  return btoa(text);
}
