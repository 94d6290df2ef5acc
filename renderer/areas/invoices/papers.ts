/** Papers of the books, saved or shown. */
import type { Input, Output } from '../../../electron/api/contract.ts';
import type { FileOut } from '../../../electron/api/costs.ts';
import { saveFile } from '../../lib/csv.ts';
import { act } from '../../lib/form.svelte.ts';
import { faultOf, type QueryName } from '../../lib/live.svelte.ts';
import { shop } from '../../lib/shop.svelte.ts';
import { toasts } from '../../lib/toasts.svelte.ts';

/** Every query that answers a file. */
type PaperName = { [N in QueryName]: Output<N> extends FileOut ? N : never }[QueryName];

/** Long enough for the new tab to have read the paper. */
const keptMs = 60_000;

const fetchPaper = async <N extends PaperName>(name: N, input: Input<N>): Promise<FileOut | undefined> => {
  try {
    return await shop.call(name, input);
  } catch (thrown) {
    toasts.fault(faultOf(thrown));
    return undefined;
  }
};

/** Whether this window can show a paper in a tab of its own; the desktop window saves it instead. */
export const canShow = (): boolean => shop.host?.kind === 'loopback';

/** Saves a paper where the person wants it. */
export const savePaper = async <N extends PaperName>(name: N, input: Input<N>): Promise<void> => {
  const file = await fetchPaper(name, input);
  if (file !== undefined) await saveFile(file.name, file.base64);
};

/** Shows a paper in a new tab of the browser. */
export const showPaper = async <N extends PaperName>(name: N, input: Input<N>): Promise<void> => {
  const file = await fetchPaper(name, input);
  if (file === undefined) return;
  const bytes = Uint8Array.from(atob(file.base64), (letter) => letter.charCodeAt(0));
  const address = URL.createObjectURL(new Blob([bytes], { type: file.mime }));
  const link = document.createElement('a');
  link.href = address;
  link.target = '_blank';
  link.rel = 'noopener';
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), keptMs);
};

/** Saves the structured invoice, which is made now if it was never asked for; says what is missing for it. */
export const saveStructured = async (invoiceId: string): Promise<void> => {
  const file = await act('papers.structured', { invoiceId });
  if (file !== undefined) await saveFile(file.name, file.base64);
};
