/** Lists of ten thousand buyers, invoices and sales over the contract against the same rows read with bare better-sqlite3. */
import assert from 'node:assert/strict';
import Database from 'better-sqlite3';
import type { BuyerRow } from '../../electron/api/buyers.ts';
import type { InvoiceRow } from '../../electron/api/selling.ts';
import { invoiceFindWords } from '../../renderer/areas/invoices/invoice-words.ts';
import { findable, narrowed } from '../../renderer/lib/narrow.ts';
import { call, freshFolder, openBooks, removeFolder } from './books.ts';
import { compare } from './pairs.ts';
import { fillSelling, MANY } from './selling-books.ts';

type Bare<Row> = (limit: number) => { rows: Row[]; total: number };

/** What a person would write by hand for each list, prepared once. */
const invoicesOf = (db: Database.Database): Bare<InvoiceRow> => {
  type Row = Omit<InvoiceRow, 'state' | 'openMinor' | 'overdue'> & { credits: number };
  const page = db.prepare<[number], Row>(
    `SELECT i.id, i.number, i.kind, i.issued_on AS issuedOn, i.due_on AS dueOn, i.buyer_id AS buyerId,
       i.buyer_name AS buyerName, i.total_minor AS totalMinor, i.prepaid_minor AS prepaidMinor,
       coalesce((SELECT sum(y.amount_minor) FROM payments y WHERE y.invoice_id = i.id), 0) AS paidMinor,
       coalesce((SELECT -sum(c.total_minor) FROM invoices c WHERE c.credits_id = i.id), 0) AS creditedMinor,
       (SELECT count(*) FROM invoices c WHERE c.credits_id = i.id) AS credits,
       coalesce((SELECT group_concat(l.description || ' ' || l.detail, char(10)) FROM invoice_lines l
         WHERE l.invoice_id = i.id), '') AS about
     FROM invoices i ORDER BY i.issued_on DESC, i.series_no DESC LIMIT ?`,
  );
  const count = db.prepare<[], { n: number }>('SELECT count(*) AS n FROM invoices');
  return (limit) => {
    const found = page.all(limit);
    const rows = found.map(({ credits: _, ...row }): InvoiceRow => {
      const openMinor = row.totalMinor - row.prepaidMinor - row.creditedMinor - row.paidMinor;
      return { ...row, openMinor, state: openMinor > 0 ? 'open' : 'paid', overdue: openMinor > 0 };
    });
    return { rows, total: rows.length < limit ? rows.length : (count.get()?.n ?? 0) };
  };
};

const buyersOf = (db: Database.Database): Bare<BuyerRow> => {
  type Row = Omit<BuyerRow, 'supporter' | 'archived'> & { archived: number };
  const page = db.prepare<[number], Row>(
    `SELECT p.id, p.name, p.email, p.phone, p.address, p.city, p.region, p.postcode, p.country,
       p.tax_place_id AS taxPlaceId, p.tax_number AS taxNumber, p.language, p.first_contact_on AS firstContactOn,
       p.note, p.archived, p.erased_on AS erasedOn, coalesce(v.name, '') AS level, (SELECT count(*) FROM sales s WHERE s.buyer_id = p.id AND s.taken_back_on IS NULL) AS bought,
       (SELECT coalesce(sum(s.price_minor + s.shipping_minor + CASE s.tax_inclusive WHEN 1 THEN 0 ELSE s.tax_minor END), 0)
         FROM sales s WHERE s.buyer_id = p.id AND s.taken_back_on IS NULL) AS spentMinor,
       (SELECT max(s.on_date) FROM sales s WHERE s.buyer_id = p.id AND s.taken_back_on IS NULL) AS lastBoughtOn
     FROM buyers p LEFT JOIN (SELECT z.buyer_id, l.name FROM supporter_spans z JOIN supporter_levels l ON l.id = z.level_id
       WHERE z.until_on IS NULL) v ON v.buyer_id = p.id
     WHERE p.merged_into_id IS NULL AND p.archived = 0
     ORDER BY p.name COLLATE NOCASE, p.id LIMIT ?`,
  );
  const count = db.prepare<[], { n: number }>(
    'SELECT count(*) AS n FROM buyers WHERE merged_into_id IS NULL AND archived = 0',
  );
  return (limit) => {
    const rows = page
      .all(limit)
      .map((row): BuyerRow => ({ ...row, supporter: row.level !== '', archived: row.archived === 1 }));
    return { rows, total: rows.length < limit ? rows.length : (count.get()?.n ?? 0) };
  };
};

const folder = freshFolder();
await fillSelling(folder);
const core = await openBooks(folder);
const db = new Database(`${folder}/workshop.db`, { readonly: true });

for (const [name, endpoint, bare] of [
  ['buyers', 'selling.buyers', buyersOf(db)],
  ['invoices', 'selling.invoices', invoicesOf(db)],
] as const) {
  for (const [what, limit, times] of [
    ['the first 200', 200, 20],
    [`all ${MANY.toLocaleString('en')}`, 2 * MANY, 1],
  ] as const) {
    assert.deepEqual(await call(core, endpoint, { limit }), bare(limit));
    await compare({
      name: `list of ${name}, ${what}`,
      limit: 1.5,
      times,
      pairs: 7,
      floorIs: `the same ${name} read with bare better-sqlite3, its statements prepared once`,
      ours: { run: () => core.call(endpoint, { limit }) },
      floor: { run: () => bare(limit) },
    });
  }
}

/** What is typed letter by letter: a name, then a number in it. */
const wanted = 'lindqvist 12';
const keys = Array.from(wanted, (_, at) => wanted.slice(0, at + 1));
const { rows } = await call(core, 'selling.invoices', { limit: 2 * MANY });
const all = findable(rows, invoiceFindWords);
const texts = rows.map((row) => ({ row, text: invoiceFindWords(row).join(' ').toLowerCase() }));
const plainly = (text: string) => {
  const words = text.split(' ');
  return texts.filter((one) => words.every((word) => one.text.includes(word)));
};
assert.ok(narrowed(all, keys.at(-1) ?? '').length > 0);
assert.equal(narrowed(all, keys.at(-1) ?? '').length, plainly(keys.at(-1) ?? '').length);
await compare({
  name: `${MANY.toLocaleString('en')} invoices narrowed at each of twelve keys`,
  limit: 2,
  pairs: 7,
  floorIs: 'a bare array of the same texts, narrowed by the same words',
  ours: { run: () => keys.forEach((text) => narrowed(all, text)) },
  floor: { run: () => keys.forEach((text) => plainly(text)) },
});
db.close();
await core.close();
removeFolder(folder);
