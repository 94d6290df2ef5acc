/** Lets every tab of one program show the same: what one does to the books, the others ask for again. */
import type { ApiClient, Moved } from './client.ts';

/** What a page needs of a `BroadcastChannel`, which reaches the other tabs of one address and not itself. */
export interface TabLine {
  postMessage(message: unknown): void;
  addEventListener(type: 'message', listener: (event: { readonly data: unknown }) => void): void;
}

const movedIn = (data: unknown): Moved | undefined => {
  if (typeof data !== 'object' || data === null || !('seq' in data) || !('otherBooks' in data))
    return undefined;
  const { seq, otherBooks } = data;
  return typeof seq === 'number' && typeof otherBooks === 'boolean' ? { seq, otherBooks } : undefined;
};

/** Tells the other tabs where the books stand, and hears it from them. Nothing that was only heard is told on. */
export const followTabs = (client: ApiClient, line: TabLine): void => {
  let hearing = false;
  client.onSeq((_seq, moved) => {
    if (!hearing) line.postMessage(moved);
  });
  line.addEventListener('message', ({ data }) => {
    const moved = movedIn(data);
    if (moved === undefined) return;
    hearing = true;
    try {
      client.hear(moved);
    } finally {
      hearing = false;
    }
  });
};
