/** Words of reminders, statements of account and the list of what is owed. */
export const reminder = {
  title: (nth: number): string => (nth === 1 ? 'Reminder' : `Reminder no. ${String(nth)}`),
  to: 'For',
  date: 'Date',
  payBy: 'Please pay by',
  opening: (number: string, issued: string, due: string): string =>
    `Our invoice ${number} of ${issued} was due on ${due}. In our books it is not paid in full yet.`,
  what: 'What',
  amount: 'Amount',
  invoice: (number: string): string => `Invoice ${number}`,
  issued: (day: string): string => `of ${day}`,
  received: 'Received and credited so far',
  open: 'Still open',
  asking: (amount: string, day: string): string => `Please pay ${amount} by ${day}.`,
  crossed: 'If your payment is on its way already, please take no notice of this letter.',
};

export const statement = {
  title: 'Statement of account',
  to: 'For',
  from: 'From',
  until: 'Until',
  currency: 'Currency',
  what: 'What',
  day: 'Day',
  amount: 'Amount',
  balance: 'Balance',
  opening: 'Balance brought forward',
  closing: 'Open at the end',
  inYourFavour: 'In your favour at the end',
  kinds: {
    invoice: (number: string): string => `Invoice ${number}`,
    credit: (number: string): string => `Credit note ${number}`,
    payment: (number: string): string => `Payment on ${number}`,
    refund: (number: string): string => `Refund on ${number}`,
    reversal: (number: string): string => `Entry on ${number} taken back`,
    moved: (number: string): string => `Set off on ${number}`,
  },
  ask: 'Please tell us if your own books say otherwise.',
};

export const ageing = {
  title: 'Owed to the workshop',
  bands: {
    notDue: 'Not due yet',
    to30: '1 to 30 days late',
    to60: '31 to 60 days late',
    to90: '61 to 90 days late',
    over90: 'Over 90 days late',
  },
  buyer: 'Buyer',
  number: 'Invoice',
  due: 'Due',
  late: 'Days late',
  open: 'Open',
  owed: 'Owed in all',
  toGiveBack: 'To give back',
  nothing: 'Nobody owes anything.',
};
