/** Words of offers and of the papers of knives made to order. */
export const order = {
  title: 'Offer',
  facts: {
    date: 'Date',
    answerBy: 'Please answer by',
    promised: 'Expected',
  },
  lines: {
    order: (tag: string): string => `order ${tag}`,
    knife: 'Knife made to order',
    option: 'Option',
    special: 'Special material',
    shipping: 'Shipping',
    kept: 'Kept of the deposit',
    keptDetail: 'by the terms agreed when the order was placed',
  },
  totals: { price: 'Price', deposit: 'Of this, ahead as a deposit' },
  notes: {
    taxLater: 'Tax is reckoned on the final invoice.',
    wish: (wish: string): string => `You asked for: ${wish}`,
    always: 'The deposit can be asked back as long as the knife is not delivered.',
    untilWork: (kept: string): string =>
      `The deposit can be asked back until steel is cut. After that ${kept} of it is kept if you cancel.`,
    never: (kept: string): string => `If you cancel, ${kept} of the deposit is kept.`,
    days: (deposit: number, balance: number): string =>
      `The deposit is due ${deposit} days after its invoice, the rest ${balance} days after the final invoice, before the knife is sent.`,
    noDeposit: 'No deposit is asked.',
    estimate: 'The day is an estimate of honest work; you will be told if it moves.',
  },
};
