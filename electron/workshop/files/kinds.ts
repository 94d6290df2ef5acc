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
