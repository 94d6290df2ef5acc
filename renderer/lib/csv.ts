/** Lists leave the program as CSV (RFC 4180). */
import { guardedText } from '../../electron/domain/csv-guard.ts';
import { shop } from './shop.svelte.ts';
import { toasts } from './toasts.svelte.ts';
import { faultOf } from './live.svelte.ts';

export type Cell = string | number | null | undefined;

const cellText = (cell: Cell): string => {
  if (cell === null || cell === undefined) return '';
  const text = typeof cell === 'number' ? String(cell) : guardedText(cell);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
};

/** Writes a table; the first row holds the headings. */
export const csvText = (rows: readonly (readonly Cell[])[]): string =>
  rows.map((row) => `${row.map(cellText).join(',')}\r\n`).join('');

/** UTF-8 text as base64. */
export const base64Of = (text: string): string => {
  const bytes = new TextEncoder().encode(text);
  let raw = '';
  for (let at = 0; at < bytes.length; at += 8192)
    raw += String.fromCharCode(...bytes.subarray(at, at + 8192));
  return btoa(raw);
};

/** Hands a file to the person: a dialog in the window, a download in the browser. */
export const saveFile = async (name: string, base64: string): Promise<void> => {
  try {
    const answer = await shop.call('host.saveFile', { name, base64 });
    if (answer.saved) toasts.say(answer.path === undefined ? `Saved ${name}.` : `Saved as ${answer.path}.`);
  } catch (thrown) {
    toasts.fault(faultOf(thrown));
  }
};

/** Saves a table as CSV, with a byte order mark so that spreadsheets read the letters right. */
export const saveCsv = (name: string, rows: readonly (readonly Cell[])[]): Promise<void> =>
  saveFile(`${name}.csv`, base64Of(`\uFEFF${csvText(rows)}`));
