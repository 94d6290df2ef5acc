/** Pictures on their way into the books: read as base64, with a small copy for lists. */

const thumbSide = 360;
/** Characters of base64 the contract takes for a small copy. */
const thumbMost = 390_000;

/** A file as base64, without the prefix of a data address. */
export const readBase64 = (file: Blob): Promise<string> =>
  new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => {
      resolve(typeof reader.result === 'string' ? reader.result.slice(reader.result.indexOf(',') + 1) : '');
    };
    reader.onerror = () => {
      reject(reader.error ?? new Error('The file could not be read.'));
    };
    reader.readAsDataURL(file);
  });

const toBlob = (canvas: HTMLCanvasElement, quality: number): Promise<Blob | null> =>
  new Promise((resolve) => {
    canvas.toBlob(resolve, 'image/jpeg', quality);
  });

/**
 * A picture as a JPEG no larger than `side` pixels, or undefined when the browser cannot draw the file.
 * @returns base64, without the prefix of a data address
 */
export const jpegOf = async (file: Blob, side: number): Promise<string | undefined> => {
  let picture: ImageBitmap;
  try {
    picture = await createImageBitmap(file);
  } catch {
    // Not a picture, or of a kind only other programs can show: the books decide what it is.
    return undefined;
  }
  const scale = Math.min(1, side / Math.max(picture.width, picture.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(picture.width * scale));
  canvas.height = Math.max(1, Math.round(picture.height * scale));
  canvas.getContext('2d')?.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  const blob = await toBlob(canvas, 0.72);
  return blob === null ? undefined : readBase64(blob);
};

/** A small JPEG for lists, or undefined when the browser cannot draw the file. */
export const smallCopy = async (file: Blob): Promise<string | undefined> => {
  const base64 = (await jpegOf(file, thumbSide)) ?? '';
  return base64 === '' || base64.length > thumbMost ? undefined : base64;
};
