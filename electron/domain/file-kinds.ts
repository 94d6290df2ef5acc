/** What a file is by its first bytes; its name proves nothing. Pure. */

/** A kind of file the workshop keeps. */
export interface FileKind {
  readonly mime: string;
  /** Ending of the stored file. */
  readonly ending: string;
  readonly picture: boolean;
}

interface Signature extends FileKind {
  /** Where in the file the text stands, and what it is, one character per byte. */
  readonly marks: readonly (readonly [at: number, text: string])[];
}

const picture = (mime: string, ending: string, ...marks: Signature['marks']): Signature => ({
  mime,
  ending,
  picture: true,
  marks,
});

/** File signatures: PNG (ISO/IEC 15948), JPEG (ITU-T T.81), GIF 87a and 89a, WebP (RFC 9649), HEIF (ISO/IEC 23008-12), PDF (ISO 32000). */
const signatures: readonly Signature[] = [
  picture('image/png', 'png', [0, '\x89PNG\r\n\x1a\n']),
  picture('image/jpeg', 'jpg', [0, '\xff\xd8\xff']),
  picture('image/gif', 'gif', [0, 'GIF87a']),
  picture('image/gif', 'gif', [0, 'GIF89a']),
  picture('image/webp', 'webp', [0, 'RIFF'], [8, 'WEBP']),
  ...['heic', 'heix', 'heim', 'heis', 'mif1'].map((brand) =>
    picture('image/heic', 'heic', [4, `ftyp${brand}`]),
  ),
  { mime: 'application/pdf', ending: 'pdf', picture: false, marks: [[0, '%PDF-']] },
];

const stands = (bytes: Uint8Array, at: number, text: string): boolean =>
  Array.from(text).every((sign, offset) => bytes[at + offset] === sign.charCodeAt(0));

/** The kind of a file, or undefined when it is none the workshop keeps. */
export const kindOfFile = (bytes: Uint8Array): FileKind | undefined =>
  signatures.find(({ marks }) => marks.every(([at, text]) => stands(bytes, at, text)));

/** Bytes at the start of a file that are enough to tell its kind. */
export const KIND_BYTES = 16;

/** Largest file that is kept, bytes. */
export const MOST_FILE_BYTES = 32 * 1024 * 1024;

/** What is wrong with a file before it is read as a whole, in one sentence; undefined when nothing is. */
export function fileTrouble(name: string, size: number, first: Uint8Array): string | undefined {
  if (size === 0) return `${name} is empty. Choose another file; nothing was added.`;
  if (size > MOST_FILE_BYTES) {
    return `${name} is larger than 32 MB. Make it smaller first; nothing was added.`;
  }
  if (kindOfFile(first) === undefined) {
    return `${name} is not a picture or a PDF that is kept here. Use PNG, JPEG, WebP, GIF, HEIC or PDF; nothing was added.`;
  }
  return undefined;
}
