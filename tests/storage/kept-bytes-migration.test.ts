/** Books from before papers were kept in them: invoices stay as issued, and the list of sales finds its credits by an index. */
import { expect, it } from 'vitest';
import { migrations } from '../../migrations/index.ts';
import { open } from '../../electron/storage/books.ts';
import { workshopFolder } from '../../electron/storage/folder.ts';
import { createBooks } from '../../electron/storage/open.ts';
import { edit, look, openOptions, tempWorkshop } from './support.ts';

const rows = `
  INSERT INTO buyers (id, name, email, phone, address, country, note) VALUES ('b1', 'Ann', '', '', '', 'US', ''), ('b2', 'Ann', '', '', '', 'US', '');
  INSERT INTO invoices (id, series, series_no, number, kind, buyer_id, issued_on, supply_on, due_on, currency, seller_name,
    seller_address, seller_tax_number, buyer_name, buyer_address, net_minor, tax_label, tax_rate_ppm, tax_base_minor,
    tax_minor, total_minor, note, document_path, document_sha256)
  VALUES ('i1', 'S', 1, '2025-0001', 'service', 'b1', '2025-03-14', '2025-03-14', '2025-03-28', 'USD', 'Shop', '', '', 'Ann',
    '', 2000, '', 0, 0, 0, 2000, 'Thanks', 'documents/2025-0001.pdf', 'hash');`;

it('leaves every invoice as issued, its tax counting on that day, and holds pairs in one order', async () => {
  const folder = workshopFolder(tempWorkshop());
  createBooks(folder, openOptions(migrations.filter((step) => step.number < 90)));
  edit(folder.books, rows);
  const [before] = look(folder.books, 'SELECT * FROM invoices');
  await (await open(folder, openOptions(migrations))).close('2026-01-05T09:00:00.000Z');
  expect(look(folder.books, 'SELECT * FROM invoices')).toEqual([{ ...(before as object), tax_on: null }]);
  expect(look(folder.books, 'SELECT count(*) AS n FROM kept_bytes')).toEqual([{ n: 0 }]);
  const credited = `EXPLAIN QUERY PLAN SELECT 1 FROM invoices w WHERE w.sale_id = 's'`;
  expect(JSON.stringify(look(folder.books, credited))).toContain('INDEX invoices_by_sale');
  expect(() => edit(folder.books, `UPDATE invoices SET tax_on = '2025-01-01'`)).toThrow('immutable');
  edit(folder.books, `INSERT INTO separate_buyers VALUES ('b1', 'b2')`);
  expect(() => edit(folder.books, `INSERT INTO separate_buyers VALUES ('b2', 'b1')`)).toThrow('CHECK');
  expect(() => edit(folder.books, 'INSERT INTO service_settings VALUES (1, 121)')).toThrow('CHECK');
});
