/** Use-case: what was done in this workshop, in words. */
import type { CoreEndpointName, Endpoints } from '../../api/contract.ts';
import { idsNamed } from '../../storage/queries/history-names.ts';
import { historyPage } from '../../storage/queries/workshop.ts';
import type { HandlerFor } from '../handlers.ts';
import { aboutEntries, type ReadEntry } from './history-about.ts';

type CommandName = {
  [N in CoreEndpointName]: Endpoints[N]['kind'] extends 'command' ? N : never;
}[CoreEndpointName];

/** Every command in words; a missing one does not compile. */
const words: Readonly<Record<CommandName, string>> = {
  'workshop.setUp': 'Set up the workshop',
  'workshop.update': 'Changed the workshop’s details',
  'workshop.setRate': 'Set a rate',
  'workshop.saveTaxPlace': 'Saved a tax place',
  'workshop.saveChannel': 'Saved a sales channel',
  'workshop.saveStage': 'Saved a stage',
  'workshop.copyNow': 'Made a safety copy',
  'stock.saveSupplier': 'Saved a supplier',
  'stock.saveItem': 'Saved a stock item',
  'stock.buy': 'Entered a purchase',
  'stock.draw': 'Took stock for a knife',
  'stock.cut': 'Cut blanks from a bar',
  'stock.takeOut': 'Took stock off the rack',
  'stock.count': 'Counted a lot',
  'stock.reverse': 'Took back a movement of stock',
  'stock.moveLot': 'Changed where a lot lies',
  'builds.saveModel': 'Saved a model',
  'builds.setPrice': 'Set a list price',
  'builds.plan': 'Planned knives',
  'builds.update': 'Changed a knife’s details',
  'builds.start': 'Started a knife',
  'builds.stage': 'Ticked a stage',
  'builds.finish': 'Finished a knife',
  'builds.end': 'Ended a knife',
  'builds.reopen': 'Took a knife back to the bench',
  'builds.addNote': 'Wrote a note',
  'builds.takeUsual': 'Took the usual parts',
  'builds.charge': 'Charged a cost to a knife',
  'builds.reverseCharge': 'Took back a charge',
  'files.attach': 'Pinned a file',
  'files.caption': 'Changed a caption',
  'files.remove': 'Took a file down',
  'hours.start': 'Started the clock',
  'hours.switch': 'Switched the clock',
  'hours.stop': 'Stopped the clock',
  'hours.dropClock': 'Dropped the running clock',
  'hours.book': 'Booked hours',
  'hours.correct': 'Corrected hours',
  'hours.cancel': 'Cancelled hours',
  'selling.saveBuyer': 'Saved a buyer',
  'selling.sell': 'Sold a knife',
  'selling.actuals': 'Entered postage and fee as paid',
  'selling.issue': 'Issued an invoice',
  'selling.pay': 'Booked a payment',
  'selling.reversePayment': 'Took back a payment',
  'selling.credit': 'Credited an invoice',
  'imports.run': 'Brought in records from a file',
};

const wordsOf = new Map<string, string>(Object.entries(words));

/** Fields of an input that name the thing, in the order they tell most. */
const naming = ['serial', 'name', 'title', 'label', 'reference', 'reason', 'text'] as const;

const LONGEST_DETAIL = 80;

function nameIn(input: unknown): string {
  if (typeof input !== 'object' || input === null) return '';
  const fields = new Map<string, unknown>(Object.entries(input));
  const found = naming
    .map((field) => fields.get(field))
    .find((value) => typeof value === 'string' && value !== '');
  return typeof found === 'string' ? found.slice(0, LONGEST_DETAIL) : '';
}

/** E.g. `Took stock for a knife: W-0003, Walnut scales`, with what the input says in so many words behind it. */
function summaryOf(entry: ReadEntry, about: string): string {
  const said = wordsOf.get(entry.command) ?? entry.command;
  const own = nameIn(entry.input);
  const detail = [about, about.includes(own) ? '' : own].filter((part) => part !== '').join('; ');
  return detail === '' ? said : `${said}: ${detail}`;
}

const commandsSaying = (text: string): string[] => {
  const wanted = text.toLowerCase();
  return [...wordsOf].filter(([, said]) => said.toLowerCase().includes(wanted)).map(([command]) => command);
};

/** The journal, newest first; a text is looked for in the words, in what was entered and in what it is about. */
export const history: HandlerFor<'workshop.history'> = (ctx, input) => {
  const commands = input.text === '' ? [] : commandsSaying(input.text);
  const ids = input.text === '' ? [] : idsNamed(ctx.db, input.text);
  const { rows, total } = historyPage(ctx.db, { ...input, commands, ids });
  const entries = rows.map(({ command, body, ...row }) => ({
    ...row,
    command,
    input: JSON.parse(body) as unknown,
  }));
  const about = aboutEntries(ctx.db, entries);
  return {
    total,
    rows: entries.map((entry) => ({
      seq: entry.seq,
      at: entry.at,
      command: entry.command,
      summary: summaryOf(entry, about(entry)),
      hash: entry.hash,
    })),
  };
};
