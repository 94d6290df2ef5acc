/** How many rows there are beyond the page that was asked for. */

/** Counts only where the page does not show it: a first page that is not full holds everything. */
export const totalOf = (
  rows: readonly unknown[],
  page: { readonly limit: number; readonly offset: number },
  count: () => number,
): number => (page.offset === 0 && rows.length < page.limit ? rows.length : count());
