/** Reading what is pinned to things: photos, drawings, papers. */
import type { ReadDb } from '../db.ts';

/** One pinned file. */
export const attachmentRow = (db: ReadDb, id: string) =>
  db.one(db.q.selectFrom('attachments').selectAll().where('id', '=', id).where('removed_at', 'is', null));

/** What is pinned to one thing, oldest first. */
export const attachmentRows = (db: ReadDb, ownerKind: string, ownerId: string) =>
  db.all(
    db.q
      .selectFrom('attachments')
      .selectAll()
      .where('owner_kind', '=', ownerKind)
      .where('owner_id', '=', ownerId)
      .where('removed_at', 'is', null)
      .orderBy('added_at')
      .orderBy('id'),
  );

const ownerTables = {
  build: 'builds',
  lot: 'lots',
  purchase: 'purchases',
  item: 'items',
  check: 'checks',
  making: 'makings',
  heat: 'heats',
  order: 'orders',
  service: 'services',
  shipment: 'shipments',
  expense: 'expenses',
  asset: 'assets',
  income: 'incomes',
} as const;

/** The kinds of things a file can be pinned to. */
export type OwnerKind = keyof typeof ownerTables;

/** Whether the thing a file is to be pinned to is in the books. */
export const ownerExists = (db: ReadDb, kind: OwnerKind, id: string): boolean =>
  db.one(db.q.selectFrom(ownerTables[kind]).select('id').where('id', '=', id)) !== undefined;
