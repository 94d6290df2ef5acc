/** Use-cases: where material comes from. */
import { missing, refused } from '../../api/errors.ts';
import type { Supplier } from '../../api/stock.ts';
import { supplierNamed, supplierRow, supplierRows } from '../../storage/queries/items.ts';
import type { HandlerFor } from '../handlers.ts';
import { needWorkshop } from '../workshop/need.ts';

const toSupplier = (row: ReturnType<typeof supplierRows>[number]): Supplier => ({
  id: row.id,
  name: row.name,
  email: row.email,
  phone: row.phone,
  website: row.website,
  leadDays: row.lead_days,
  note: row.note,
  archived: row.archived === 1,
});

/** Every supplier, those in use first. */
export const suppliers: HandlerFor<'stock.suppliers'> = (ctx) => supplierRows(ctx.db).map(toSupplier);

/** Adds a supplier, or changes one. */
export const saveSupplier: HandlerFor<'stock.saveSupplier'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    const same = supplierNamed(ctx.db, input.name);
    if (same !== undefined && same.id !== input.id) {
      throw refused(
        `There is already a supplier called ${input.name}. Use it, or give this one another name.`,
        'name',
      );
    }
    const columns = {
      name: input.name,
      email: input.email,
      phone: input.phone,
      website: input.website,
      lead_days: input.leadDays,
      note: input.note,
      archived: Number(input.archived),
    };
    const { q } = ctx.db;
    const id = input.id ?? ctx.newId();
    const statement =
      input.id === undefined
        ? q.insertInto('suppliers').values({ id, ...columns })
        : q.updateTable('suppliers').set(columns).where('id', '=', id);
    ctx.db.run(statement);
    const saved = supplierRow(ctx.db, id);
    if (saved === undefined) throw missing('This supplier does not exist any more. Reload the list.');
    return toSupplier(saved);
  },
};
