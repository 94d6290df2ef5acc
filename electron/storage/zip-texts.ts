/** Texts in one zip file, for whoever takes several tables at once. */
import { Buffer } from 'node:buffer';
import { buffer } from 'node:stream/consumers';
import { ZipFile } from 'yazl';

/** One file in it. */
interface NamedText {
  readonly name: string;
  readonly text: string;
}

/**
 * Puts texts as UTF-8 into a zip file.
 * @param on local day every file in it bears
 */
export async function zipTexts(files: readonly NamedText[], on: string): Promise<Buffer> {
  const zip = new ZipFile();
  const mtime = new Date(`${on}T12:00:00.000Z`);
  for (const { name, text } of files) zip.addBuffer(Buffer.from(text, 'utf8'), name, { mtime });
  zip.end();
  return buffer(zip.outputStream);
}
