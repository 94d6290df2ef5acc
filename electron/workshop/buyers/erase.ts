/** Forgetting a person at their wish, while the books stay whole. */
import type { Buyer, EraseLook } from '../../api/buyers.ts';
import { refused } from '../../api/errors.ts';
import { holdsOn, type SupportSpan } from '../../domain/support.ts';
import type { ReadDb } from '../../storage/db.ts';
import { addressesOf } from '../../storage/queries/buyers.ts';
import { blankPerson, tracesOf } from '../../storage/queries/buyers-merge.ts';
import { listInvoices } from '../../storage/queries/selling-invoices.ts';
import { replaceSpans } from '../../storage/queries/supporters.ts';
import type { CommandContext, QueryContext } from '../context.ts';
import { needBuyer } from '../selling/buyers.ts';
import { openOf } from '../selling/invoice-rows.ts';
import { needBuyerRow } from './rows.ts';
import { refuseGone } from './save.ts';
import { spansOf } from './support.ts';

const FORGOTTEN = 'Forgotten person';

const several = (n: number, one: string, many = `${one}s`): string => `${String(n)} ${n === 1 ? one : many}`;

type Traces = ReturnType<typeof tracesOf>;

function obstaclesOf(db: ReadDb, buyerId: string, today: string, traces: Traces): readonly string[] {
  const unsettled = listInvoices(db, { buyerId, today }, 20_000, 0)
    .filter((record) => openOf(record) !== 0)
    .map((record) => record.number);
  return [
    traces.openOrders === 0
      ? ''
      : `${several(traces.openOrders, 'order')} ${traces.openOrders === 1 ? 'is' : 'are'} still open. Deliver, cancel or close ${traces.openOrders === 1 ? 'it' : 'them'} first.`,
    traces.openServices === 0
      ? ''
      : `${several(traces.openServices, 'service')} ${traces.openServices === 1 ? 'is' : 'are'} not sent back yet.`,
    unsettled.length === 0
      ? ''
      : `Money is still open on ${unsettled.join(', ')}. Settle or credit ${unsettled.length === 1 ? 'it' : 'them'} first.`,
  ].filter((sentence) => sentence !== '');
}

const goesOf = (addresses: number, supports: boolean): readonly string[] => [
  'Name, email, telephone, address, tax number, language and notes of this person.',
  ...(addresses === 0 ? [] : [`${several(addresses, 'delivery address', 'delivery addresses')}.`]),
  ...(supports ? ['The membership, from today. Past months stay as a count without a name.'] : []),
  'Names in the hat and holds of knives that are still open.',
];

const staysOf = (traces: Traces): readonly string[] => [
  ...(traces.invoices === 0
    ? []
    : [
        `${several(traces.invoices, 'issued invoice or credit', 'issued invoices and credits')} with name and address, on paper and in the books: they must be kept for years and are never changed.`,
      ]),
  ...(traces.sales === 0
    ? []
    : [`${several(traces.sales, 'sale')} and the knives in them, without the name: price, tax and country.`]),
  ...(traces.parcels === 0
    ? []
    : [`${several(traces.parcels, 'parcel')} with the label as it stood: proof of where the goods went.`]),
  ...(traces.orders + traces.services === 0
    ? []
    : [
        `${several(traces.orders, 'order')} and ${several(traces.services, 'service')} with what was agreed, changed and done, and letters already set, such as reminders.`,
      ]),
  ...(traces.logged === 0
    ? []
    : [`${several(traces.logged, 'line')} in the log of releases, without the name.`]),
  'The journal, with what was typed on the day it was typed. Its entries are sealed one to the next, so none can be taken out without breaking the proof of all.',
  'Safety copies made before today, and files you pinned or saved yourself. Remove those by hand if you must.',
];

/** What forgetting a person would do. Changes nothing. */
export function eraseLook(ctx: Pick<QueryContext, 'db' | 'clock'>, id: string): EraseLook {
  const buyer = needBuyer(ctx.db, id);
  const today = ctx.clock.today();
  const traces = tracesOf(ctx.db, buyer.id);
  const supports = spansOf(ctx.db, buyer.id).some((span) => holdsOn(span, today));
  return {
    name: buyer.name,
    obstacles: obstaclesOf(ctx.db, buyer.id, today, traces),
    goes: goesOf(addressesOf(ctx.db, buyer.id).length, supports),
    stays: staysOf(traces),
  };
}

/** Times that run end today; one that began today never was. */
const ended = (spans: readonly SupportSpan[], today: string): readonly SupportSpan[] =>
  spans
    .filter(({ from }) => from === null || from < today)
    .map((span) => (span.until === null || span.until > today ? { ...span, until: today } : span));

/** Forgets a person. */
export function erase(ctx: CommandContext, id: string): Buyer {
  refuseGone(ctx, id);
  const { obstacles } = eraseLook(ctx, id);
  if (obstacles.length > 0) throw refused(`Not yet. ${obstacles.join(' ')}`);
  const today = ctx.clock.today();
  replaceSpans(ctx.db, id, ended(spansOf(ctx.db, id), today));
  blankPerson(ctx.db, id, { name: FORGOTTEN, today, now: ctx.clock.now() });
  return needBuyerRow(ctx.db, id, today);
}
