/** Use-case: find anything by a few typed letters. */
import type { Hit } from '../../api/desk.ts';
import type { ItemKind } from '../../api/stock.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  findBuilds,
  findBuyers,
  findHeats,
  findInvoices,
  findItems,
  findLots,
  findMakings,
  findModels,
  findOrders,
  findPurchases,
  findQuotes,
  findSuppliers,
} from '../../storage/queries/find.ts';
import { heatTagOf } from '../../storage/queries/heats.ts';
import { makingTagOf, tagOf } from '../../storage/queries/lots.ts';
import { orderTagOf } from '../../storage/queries/orders.ts';
import { quoteTagOf } from '../../storage/queries/quotes.ts';
import { kindWords } from '../costs/lines.ts';
import type { HandlerFor } from '../handlers.ts';

interface Ranked extends Hit {
  readonly rank: number;
}

type Finder = (db: ReadDb, text: string, limit: number) => readonly Ranked[];

const joined = (...parts: readonly string[]): string => parts.filter((part) => part !== '').join(' · ');

/** In the order a tie is shown. */
const finders: readonly Finder[] = [
  (db, text, limit) =>
    findBuilds(db, text, limit).map(({ rank, id, serial, title, model_name }) => ({
      rank,
      kind: 'build',
      id,
      title: serial,
      detail: title === model_name ? title : joined(title, model_name),
    })),
  (db, text, limit) =>
    findInvoices(db, text, limit).map((row) => ({
      rank: row.rank,
      kind: 'invoice',
      id: row.id,
      title: row.number,
      detail: joined(row.kind === 'credit' ? 'Credit' : '', row.buyer_name, row.issued_on),
    })),
  (db, text, limit) =>
    findItems(db, text, limit).map(({ rank, id, name, kind }) => ({
      rank,
      kind: 'item',
      id,
      title: name,
      detail: kindWords[kind as ItemKind],
    })),
  (db, text, limit) =>
    findLots(db, text, limit).map((row) => ({
      rank: row.rank,
      kind: 'lot',
      id: row.id,
      title: tagOf(row.number),
      detail: joined(row.item_name, row.heat_number, row.received_on),
    })),
  (db, text, limit) =>
    findBuyers(db, text, limit).map(({ rank, id, name, email }) => ({
      rank,
      kind: 'buyer',
      id,
      title: name,
      detail: email,
    })),
  (db, text, limit) =>
    findModels(db, text, limit).map(({ rank, id, code, name }) => ({
      rank,
      kind: 'model',
      id,
      title: code,
      detail: name,
    })),
  (db, text, limit) =>
    findSuppliers(db, text, limit).map(({ rank, id, name, email }) => ({
      rank,
      kind: 'supplier',
      id,
      title: name,
      detail: email,
    })),
  (db, text, limit) =>
    findPurchases(db, text, limit).map((row) => ({
      rank: row.rank,
      kind: 'purchase',
      id: row.id,
      title: row.supplier_name,
      detail: joined(row.reference, row.on_date),
    })),
  (db, text, limit) =>
    findMakings(db, text, limit).map((row) => ({
      rank: row.rank,
      kind: 'making',
      id: row.id,
      title: makingTagOf(row.number),
      detail: joined(row.title, row.started_on),
    })),
  (db, text, limit) =>
    findHeats(db, text, limit).map((row) => ({
      rank: row.rank,
      kind: 'heat',
      id: row.id,
      title: heatTagOf(row.number),
      detail: joined(row.batch, row.recipe ?? '', row.on_date),
    })),
  (db, text, limit) =>
    findOrders(db, text, limit).map((row) => ({
      rank: row.rank,
      kind: 'order',
      id: row.id,
      title: orderTagOf(row.number),
      detail: joined(row.buyer_name, row.model_name ?? ''),
    })),
  (db, text, limit) =>
    findQuotes(db, text, limit).map((row) => ({
      rank: row.rank,
      kind: 'quote',
      id: row.id,
      title: quoteTagOf(row.number),
      detail: joined(row.buyer_name, row.model_name),
    })),
];

/** Whole matches first, then beginnings, then the rest; nothing for an empty text. */
export const anything: HandlerFor<'find.anything'> = (ctx, { text, limit }) => {
  if (text === '') return [];
  return finders
    .flatMap((find) => find(ctx.db, text, limit))
    .sort((a, b) => a.rank - b.rank)
    .slice(0, limit)
    .map(({ kind, id, title, detail }) => ({ kind, id, title, detail }));
};
