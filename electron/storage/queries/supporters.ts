/** Who supports the workshop, since when. */
import type { WriteDb } from '../db.ts';

/** The level a tick on a buyer means while the workshop has no levels of its own. */
const PLAIN = { id: 'supporter', name: 'Supporter', rank: 1, per_month_minor: 0 };

/** Begins a time of support at the lowest level there is. */
export function beginSupport(
  db: WriteDb,
  span: { readonly id: string; readonly buyer_id: string; readonly from_on: string },
): void {
  const lowest = db.one(
    db.q
      .selectFrom('supporter_levels')
      .select('id')
      .where('archived', '=', 0)
      .orderBy('rank')
      .orderBy('id')
      .limit(1),
  );
  if (!lowest) db.run(db.q.insertInto('supporter_levels').values(PLAIN));
  db.run(
    db.q.insertInto('supporter_spans').values({ ...span, level_id: lowest?.id ?? PLAIN.id, until_on: null }),
  );
}

/** Ends every running time of support of a buyer. @returns how many ended */
export const endSupport = (db: WriteDb, buyerId: string, on: string): number =>
  db.run(
    db.q
      .updateTable('supporter_spans')
      .set({ until_on: on })
      .where('buyer_id', '=', buyerId)
      .where('until_on', 'is', null),
  );
