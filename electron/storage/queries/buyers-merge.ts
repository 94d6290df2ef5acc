/** Putting two entries of one person together, and forgetting a person. */
import { sql } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';

/** Tables whose rows can be handed to the entry that is kept; issued invoices and the fairness log are not rewritten. */
const handedOver = [
  'supporter_spans',
  'buyer_addresses',
  'orders',
  'quotes',
  'sales',
  'services',
  'invoice_drafts',
  'release_entries',
  'claims',
] as const;

/** Hands everything of one entry to another, and leaves a pointer for what cannot be rewritten. */
export function handOver(db: WriteDb, fromId: string, toId: string): void {
  for (const table of handedOver) {
    db.run(db.q.updateTable(table).set({ buyer_id: toId }).where('buyer_id', '=', fromId));
  }
  db.run(
    db.q
      .updateTable('buyers')
      .set({ merged_into_id: toId, archived: 1 })
      .where((e) => e.or([e('id', '=', fromId), e('merged_into_id', '=', fromId)])),
  );
}

/**
 * Takes the later of two names of one person out of the same hat, and a name for one knife where the person is in for
 * any; twice in it would be twice the chance.
 */
export const withdrawDoubles = (db: WriteDb, buyerId: string, at: string): number =>
  db.run(
    db.q
      .updateTable('release_entries as e')
      .set({ withdrawn_at: at })
      .where('e.buyer_id', '=', buyerId)
      .where('e.withdrawn_at', 'is', null)
      .where(
        sql<boolean>`exists (select 1 from release_entries o where o.release_id = e.release_id
          and o.buyer_id = e.buyer_id and o.withdrawn_at is null
          and ((o.build_id is e.build_id and o.number < e.number) or (o.build_id is null and e.build_id is not null)))`,
      ),
  );

/** A buyer under every id they ever had. */
const everyId = (buyerId: string) =>
  sql`(select id from buyers where id = ${buyerId} or merged_into_id = ${buyerId})`;

const countIn = (
  db: ReadDb,
  table: 'invoices' | 'sales' | 'fairness_log' | 'orders' | 'services',
  buyerId: string,
): number =>
  db.one(
    db.q
      .selectFrom(table)
      .where(sql<boolean>`buyer_id in ${everyId(buyerId)}`)
      .select((e) => e.fn.countAll<number>().as('n')),
  )?.n ?? 0;

/** How many rows of each kind go over when one entry is put into another, and how many names leave a hat by it. */
export function goingOver(db: ReadDb, fromId: string, toId: string) {
  const counted = handedOver.map((table): [(typeof handedOver)[number], number] => {
    const rows = db.q.selectFrom(table).where('buyer_id', '=', fromId);
    return [table, db.one(rows.select((e) => e.fn.countAll<number>().as('n')))?.n ?? 0];
  });
  const doubles = db.one(
    db.q
      .selectFrom('release_entries as e')
      .where('e.buyer_id', 'in', [fromId, toId])
      .where('e.withdrawn_at', 'is', null)
      .where(
        sql<boolean>`exists (select 1 from release_entries o where o.release_id = e.release_id
          and o.buyer_id in (${fromId}, ${toId}) and o.withdrawn_at is null
          and ((o.build_id is e.build_id and o.number < e.number) or (o.build_id is null and e.build_id is not null)))`,
      )
      .select((e) => e.fn.countAll<number>().as('n')),
  );
  return {
    ...Object.fromEntries(counted),
    invoices: countIn(db, 'invoices', fromId),
    doubles: doubles?.n ?? 0,
  } as Readonly<Record<(typeof handedOver)[number] | 'invoices' | 'doubles', number>>;
}

/** How much there is of a person in what is kept, and what is still open with them. */
export function tracesOf(db: ReadDb, buyerId: string) {
  const openOrders =
    db.one(
      db.q
        .selectFrom('orders')
        .where('buyer_id', '=', buyerId)
        .where('state', 'in', ['asked', 'offered', 'agreed'])
        .select((e) => e.fn.countAll<number>().as('n')),
    )?.n ?? 0;
  const openServices =
    db.one(
      db.q
        .selectFrom('services')
        .where('buyer_id', '=', buyerId)
        .where('sent_on', 'is', null)
        .where('cancelled_on', 'is', null)
        .select((e) => e.fn.countAll<number>().as('n')),
    )?.n ?? 0;
  const parcels =
    db.one(
      db.q
        .selectFrom('shipments as h')
        .innerJoin('sales as s', 's.id', 'h.sale_id')
        .where('s.buyer_id', '=', buyerId)
        .select((e) => e.fn.countAll<number>().as('n')),
    )?.n ?? 0;
  return {
    openOrders,
    openServices,
    parcels,
    invoices: countIn(db, 'invoices', buyerId),
    sales: countIn(db, 'sales', buyerId),
    logged: countIn(db, 'fairness_log', buyerId),
    orders: countIn(db, 'orders', buyerId),
    services: countIn(db, 'services', buyerId),
  };
}

const blankAddress = { address: '', city: '', region: '', postcode: '' };

/** Takes the person out of every row that may be rewritten. The country stays: which tax was charged hangs on it. */
export function blankPerson(
  db: WriteDb,
  buyerId: string,
  { name, today, now }: { readonly name: string; readonly today: string; readonly now: string },
): void {
  const person = { email: '', phone: '', tax_number: '', language: '', first_contact_on: null, note: '' };
  db.run(
    db.q
      .updateTable('buyers')
      .set({ ...blankAddress, ...person, name, archived: 1, erased_on: today })
      .where(sql<boolean>`id in ${everyId(buyerId)}`),
  );
  db.run(
    db.q
      .updateTable('buyer_addresses')
      .set({ ...blankAddress, label: name, recipient: '', archived: 1 })
      .where('buyer_id', '=', buyerId),
  );
  db.run(db.q.updateTable('orders').set({ note: '' }).where('buyer_id', '=', buyerId));
  db.run(db.q.updateTable('quotes').set({ note: '' }).where('buyer_id', '=', buyerId));
  db.run(
    db.q
      .updateTable('release_entries')
      .set({ withdrawn_at: now })
      .where('buyer_id', '=', buyerId)
      .where('withdrawn_at', 'is', null)
      .where(sql<boolean>`release_id in (select id from releases where state in ('draft', 'set'))`),
  );
  db.run(
    db.q
      .updateTable('claims')
      .set({ ended_at: now, outcome: 'freed' })
      .where('buyer_id', '=', buyerId)
      .where('ended_at', 'is', null),
  );
  db.run(db.q.updateTable('claims').set({ note: '' }).where('buyer_id', '=', buyerId));
}
