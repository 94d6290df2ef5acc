/**
 * Days in commands that say nothing was done on them: they may lie in a closed year. Every other day of every command,
 * those still to be written too, is held against the closed years.
 */

/** Days to come, whatever the command: by when to pay or to answer, what was promised, until when a quote holds. */
const toCome: readonly string[] = [
  'dueOn',
  'payBy',
  'answerBy',
  'promisedOn',
  'validUntil',
  'previewOn',
  'earlyFrom',
  'earlyUntil',
];

/** `command.field`, and why its day may lie in a closed year. */
export const notDone: Readonly<Record<string, string>> = {
  'workshop.setUp.labourFrom': 'there are no books before it',
  'consumables.count.from': 'only says over which knives the difference is shared, on the day of the count',
  'shipping.saveRule.checkedOn': 'says when a rule was looked up',
  'selling.saveBuyer.firstContactOn': 'says since when somebody is known',
  'trials.save.from': 'bounds of what is compared',
  'trials.save.until': 'bounds of what is compared',
  'promises.close.from': 'days away from the bench',
  'promises.close.until': 'days away from the bench',
  'billing.issueDraft.supplyOn': 'said on the paper; the invoice counts on the day it is issued',
  'care.saveService.receivedOn': 'sent again with every change; what counts is held row by row',
  'care.saveService.doneOn': 'sent again with every change; what counts is held row by row',
  'care.saveService.sentOn': 'sent again with every change; what counts is held row by row',
  'buyers.saveSpan.from': 'sent again with every change; what counts is held row by row',
  'buyers.saveSpan.until': 'sent again with every change; what counts is held row by row',
  'money.saveAsset.boughtOn': 'sent again with every change; what counts is held row by row',
  'money.saveAsset.inServiceOn': 'sent again with every change; what counts is held row by row',
  'money.saveRepeat.from': 'since when it comes again; what is booked of it has a day of its own',
  'money.saveRepeat.until': 'until when it comes again; what is booked of it has a day of its own',
  'money.bookSupporters.month': 'counts on the month’s last day, which is held row by row',
  'money.passDue.on': 'says that nothing was spent on that day',
  'preparer.answer.from': 'names the year',
  'preparer.answer.to': 'names the year',
  'preparer.handOver.from': 'names the year',
  'preparer.handOver.to': 'names the year',
  'quotes.keep.since': 'says which knives the reckoning looks at',
  'seals.close.from': 'names the year',
  'seals.close.to': 'names the year',
};

/** True when a day of a command is not the day something was done. */
export const isNotDone = (command: string, field: string): boolean =>
  toCome.includes(field.split('.').at(-1) ?? '') || Object.hasOwn(notDone, `${command}.${field}`);
