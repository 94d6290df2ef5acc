/**
 * What the maker chose about the page itself (colours, single keys), kept on this machine. The browser fetches it from
 * another process when first asked, and the page stands still meanwhile; a copy for this tab is at hand at once.
 */

/** What was kept under a name, or null. */
export const keptUnder = (name: string): string | null => {
  const copy = sessionStorage.getItem(name);
  if (copy !== null) return copy === '' ? null : copy;
  const kept = localStorage.getItem(name);
  sessionStorage.setItem(name, kept ?? '');
  return kept;
};

/** Keeps it on this machine from now on. */
export const keepUnder = (name: string, value: string): void => {
  localStorage.setItem(name, value);
  sessionStorage.setItem(name, value);
};
