/** Hands out the preview of a release, its pictures made small enough to send. */
import type { ReleaseDetail } from '../../../electron/api/releases.ts';
import { saveFile } from '../../lib/csv.ts';
import { faultOf } from '../../lib/live.svelte.ts';
import { jpegOf } from '../../lib/pictures.ts';
import { shop } from '../../lib/shop.svelte.ts';
import { toasts } from '../../lib/toasts.svelte.ts';

/** Longest side of a picture on the page, pixels: sharp at twice the width it is shown. */
const side = 900;

export const savePdf = async (id: string): Promise<void> => {
  try {
    const file = await shop.call('releases.previewPdf', { id });
    await saveFile(file.name, file.base64);
  } catch (thrown) {
    toasts.fault(faultOf(thrown));
  }
};

/** A picture of the books as a small JPEG; nothing where the browser cannot draw it. */
const small = async (photoId: string): Promise<string | undefined> => {
  const file = await shop.call('files.read', { id: photoId, size: 'full' });
  const bytes = Uint8Array.from(atob(file.base64), (letter) => letter.charCodeAt(0));
  return jpegOf(new Blob([bytes], { type: file.mime }), side);
};

export const savePage = async (release: ReleaseDetail): Promise<void> => {
  try {
    const pictures: { buildId: string; base64: string }[] = [];
    for (const { buildId, photoId, state } of release.knives) {
      if (photoId === null || state === 'withdrawn') continue;
      const base64 = await small(photoId);
      if (base64 !== undefined) pictures.push({ buildId, base64 });
    }
    const file = await shop.call('releases.previewPage', { id: release.id, pictures });
    await saveFile(file.name, file.base64);
  } catch (thrown) {
    toasts.fault(faultOf(thrown));
  }
};
