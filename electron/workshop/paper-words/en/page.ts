/** Words at the edge of every page. */
export const page = {
  /** At the foot, e.g. "page 1 of 2". */
  numbered: (page: number, pages: number): string => `page ${page} of ${pages}`,
  /** Set across a paper that is not issued yet. */
  draft: 'Draft',
};
