/** Lists of ten thousand buyers, invoices and sales over the contract against the same rows read with bare better-sqlite3. */
import assert from 'node:assert/strict';
import Database from 'better-sqlite3';
import type { BuyerRow } from '../../electron/api/buyers.ts';
import type { InvoiceRow } from '../../electron/api/selling.ts';
import { call, freshFolder, openBooks, removeFolder } from './books.ts';
import { compare } from './pairs.ts';
import { fillSelling, MANY } from './selling-books.ts';

type Bare<Row> = (limit: number, text: string) => { rows: Row[]; total: number };
type Like = [like: string, limit: number];

/** What a person would write by hand for each list, prepared once; without a text the count is asked for. */
const invoicesOf = (db: Database.Database): Bare<InvoiceRow> => {
  type Row = Omit<InvoiceRow, 'state' | 'openMinor' | 'overdue'> & { credits: number };
  const page = db.prepare<Like, Row>(
    `SELECT i.id, i.number, i.kind, i.issued_on AS issuedOn, i.due_on AS dueOn, i.buyer_id AS buyerId,
       i.buyer_name AS buyerName, i.total_minor AS totalMinor, i.prepaid_minor AS prepaidMinor,
       coalesce((SELECT sum(y.amount_minor) FROM payments y WHERE y.invoice_id = i.id), 0) AS paidMinor,
       coalesce((SELECT -sum(c.total_minor) FROM invoices c WHERE c.credits_id = i.id), 0) AS creditedMinor,
       (SELECT count(*) FROM invoices c WHERE c.credits_id = i.id) AS credits,
       coalesce((SELECT group_concat(l.description || ' ' || l.detail, char(10)) FROM invoice_lines l
         WHERE l.invoice_id = i.id), '') AS about
     FROM invoices i WHERE i.number || ' ' || i.buyer_name LIKE ? ORDER BY i.issued_on DESC, i.series_no DESC LIMIT ?`,
  );
  const count = db.prepare<[], { n: number }>('SELECT count(*) AS n FROM invoices');
  return (limit, text) => {
    const found = page.all(`%${text}%`, limit);
    const rows = found.map(({ credits: _, ...row }): InvoiceRow => {
      const openMinor = row.totalMinor - row.prepaidMinor - row.creditedMinor - row.paidMinor;
      return { ...row, openMinor, state: openMinor > 0 ? 'open' : 'paid', overdue: openMinor > 0 };
    });
    return { rows, total: rows.length < limit ? rows.length : (count.get()?.n ?? 0) };
  };
};

const buyersOf = (db: Database.Database): Bare<BuyerRow> => {
  type Row = Omit<BuyerRow, 'supporter' | 'archived'> & { archived: number };
  const page = db.prepare<Like, Row>(
    `SELECT p.id, p.name, p.email, p.phone, p.address, p.city, p.region, p.postcode, p.country,
       p.tax_place_id AS taxPlaceId, p.tax_number AS taxNumber, p.language, p.first_contact_on AS firstContactOn,
       p.note, p.archived, p.erased_on AS erasedOn, coalesce(v.name, '') AS level, coalesce(b.n, 0) AS bought,
       coalesce(b.spent, 0) AS spentMinor, b.last_on AS lastBoughtOn
     FROM buyers p LEFT JOIN (SELECT s.buyer_id, count(*) AS n, max(s.on_date) AS last_on,
         sum(s.price_minor + s.shipping_minor + CASE s.tax_inclusive WHEN 1 THEN 0 ELSE s.tax_minor END) AS spent
       FROM sales s WHERE s.taken_back_on IS NULL GROUP BY s.buyer_id) b ON b.buyer_id = p.id
     LEFT JOIN (SELECT z.buyer_id, l.name FROM supporter_spans z JOIN supporter_levels l ON l.id = z.level_id
       WHERE z.until_on IS NULL) v ON v.buyer_id = p.id
     WHERE p.merged_into_id IS NULL AND p.archived = 0 AND p.name || ' ' || p.email || ' ' || p.city || ' ' || p.note LIKE ?
     ORDER BY p.name COLLATE NOCASE, p.id LIMIT ?`,
  );
  const count = db.prepare<[], { n: number }>(
    'SELECT count(*) AS n FROM buyers WHERE merged_into_id IS NULL AND archived = 0',
  );
  return (limit, text) => {
    const rows = page
      .all(`%${text}%`, limit)
      .map((row): BuyerRow => ({ ...row, supporter: row.level !== '', archived: row.archived === 1 }));
    return { rows, total: rows.length < limit ? rows.length : (count.get()?.n ?? 0) };
  };
};

const folder = freshFolder();
await fillSelling(folder);
const core = await openBooks(folder);
const db = new Database(`${folder}/workshop.db`, { readonly: true });

/** The same words for both: what the page asks for first, all of it, and what a name narrows it to. */
const asked = [
  ['the first 200', 200, '', 10],
  [`all ${MANY.toLocaleString('en')}`, 2 * MANY, '', 1],
  ['those of one name', 2 * MANY, 'lindqvist', 1],
] as const;
for (const [name, endpoint, bare] of [
  ['buyers', 'selling.buyers', buyersOf(db)],
  ['invoices', 'selling.invoices', invoicesOf(db)],
] as const) {
  for (const [what, limit, text, times] of asked) {
    const input = { limit, text };
    assert.deepEqual(await call(core, endpoint, input), bare(limit, text));
    await compare({
      name: `list of ${name}, ${what}`,
      // A typed text is looked for whatever its accents, in the page where all rows are there; here the books do it.
      limit: text === '' ? 1.5 : 4,
      times,
      pairs: 5,
      floorIs: `the same ${name} read with bare better-sqlite3, its statements prepared once`,
      ours: { run: () => core.call(endpoint, input) },
      floor: { run: () => bare(limit, text) },
    });
  }
}
db.close();
await core.close();
removeFolder(folder);
