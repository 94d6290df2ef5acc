/** Words at the edge of every page. */
export const page = {
  /** At the foot; filled in when the number of pages is known. */
  folio: 'page {page} of {pages}',
  /** Set across a paper that is not issued yet. */
  draft: 'Draft',
  /** An invented invoice, to judge the look by. */
  sample: {
    mark: 'Sample',
    buyer: 'Name of the buyer',
    address: 'Street and number\nPlace',
    knife: 'Name of the model',
    detail: 'what it is made of, serial',
    note: 'What you write under every invoice stands here.',
  },
};
