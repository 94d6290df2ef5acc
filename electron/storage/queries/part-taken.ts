/** What a knife took of one of its model's usual parts. */
import { sql, type RawBuilder } from 'kysely';

/**
 * Quantity, in the item's base unit and without kerf, that knife `b` took of the item of model part `p` under that
 * part's label and did not give back. The query around it names the tables so: `builds as b`, `model_parts as p`.
 */
export const partTaken = (): RawBuilder<number> => sql<number>`(
  SELECT coalesce(sum(coalesce(m.net_qty, -m.qty)), 0) FROM movements m JOIN lots l ON l.id = m.lot_id
  WHERE m.build_id = b.id AND m.kind = 'draw' AND l.item_id = p.item_id AND m.part_label = p.label
    AND NOT EXISTS (SELECT 1 FROM movements r WHERE r.reverses_id = m.id)
)`;
