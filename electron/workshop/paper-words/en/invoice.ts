/** Words of invoices and credit notes. */
export const invoice = {
  titles: {
    sale: 'Invoice',
    second: 'Invoice',
    deposit: 'Deposit invoice',
    balance: 'Final invoice',
    service: 'Invoice',
    credit: 'Credit note',
  },
  head: {
    to: 'For',
    taxNumber: 'Our tax number',
    registerNumber: 'Registered',
    buyerTaxNumber: 'Your tax number',
  },
  facts: {
    date: 'Invoice date',
    creditDate: 'Date',
    supply: 'Date of supply',
    due: 'Due',
    reference: 'Payment reference',
    takesBack: 'Takes back invoice',
    takesBackPartOf: 'Takes back part of invoice',
    order: 'Order',
    currency: 'Currency',
  },
  columns: { what: 'What', quantity: 'Quantity', each: 'Each', tax: 'Tax', amount: 'Amount' },
  lines: {
    shipping: 'Shipping',
    serial: (serial: string): string => `serial ${serial}`,
    deposit: (what: string): string => `Deposit on ${what}`,
    restocking: 'Kept for restocking',
    partOf: (number: string): string => `Part of invoice ${number}`,
    /** What was counted, at a price with the tax in it. */
    taxInside: (counted: string): string => `${counted}, tax included`,
  },
  totals: {
    net: 'Net',
    /** A tax with its rate and, where only part is taxed, on how much. */
    tax: (label: string, rate: string, base: string): string =>
      base === '' ? `${label} ${rate}` : `${label} ${rate} on ${base}`,
    total: 'Total',
    totalToPay: 'Total to pay',
    totalCredited: 'Total credited',
    lessPaid: (number: string, day: string): string => `Less paid, deposit invoice ${number} of ${day}`,
    leftToPay: 'Left to pay',
  },
  notes: {
    material: 'Material',
    care: 'Care',
    flaw: 'Sold as a second',
    flawIs: (flaw: string): string => `This knife is sold as a second. Its flaw: ${flaw}.`,
    warranty: 'Warranty',
    returns: 'Returns',
    restricted: 'Material under protection rules',
    restrictedLot: (name: string, species: string, listing: string, paper: string): string =>
      [
        `${name}${species === '' ? '' : ` (${species})`}`,
        listing === '' ? '' : `listed: ${listing}`,
        paper === '' ? '' : `paper ${paper}`,
      ]
        .filter((part) => part !== '')
        .join(', '),
    restrictedCheck: 'Check the rule in force before it crosses a border or changes hands.',
    settled: (day: string): string => `Paid in full on ${day}, with thanks. Nothing is left to pay.`,
    depositTax: (tax: string): string => `Tax of ${tax} was invoiced with the deposit.`,
    depositsTax: (tax: string): string => `Tax of ${tax} was invoiced with the deposits.`,
    reason: 'Reason',
    terms: 'Terms',
    tax: 'Tax',
  },
  payment: {
    heading: 'How to pay',
    account: 'IBAN',
    bank: 'Bank',
    bic: 'BIC',
    holder: 'Account of',
    reference: 'Reference',
    amount: 'Amount',
    by: 'By',
    scan: 'Scan with a banking app to fill in the transfer.',
  },
  /** Unit of a quantity, UN/ECE Recommendation 20; a piece needs no word. */
  units: { C62: '', HUR: 'h', GRM: 'g', CMT: 'cm', MTR: 'm' } as Readonly<Record<string, string>>,
};
