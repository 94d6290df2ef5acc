/** Books from before the order book, with buyers, an invoice and its credit: nothing of them may be lost on the way. */
import { expect, it } from 'vitest';
import { migrations } from '../../migrations/index.ts';
import { open } from '../../electron/storage/books.ts';
import { workshopFolder } from '../../electron/storage/folder.ts';
import { createBooks } from '../../electron/storage/open.ts';
import { edit, look, openOptions, tempWorkshop } from './support.ts';

const before = migrations.filter((step) => step.number < 30);
const NOW = '2026-01-05T09:00:00.000Z';

const invoice = (id: string, no: number, kind: string, net: number, credits: string): string =>
  `INSERT INTO invoices VALUES ('${id}', '2025-{N}', ${String(no)}, '2025-000${String(no)}', '${kind}', 's1', 'b1',
    '2025-03-14', '2025-03-14', '2025-03-28', 'USD', 'Shop', 'Yard 1', '', 'Ann', 'Lane 2', ${String(net)}, 'Sales tax',
    65000, ${String(net)}, ${String(net / 100)}, ${String(net + net / 100)}, 'Thanks', ${credits}, '${id}.pdf', 'hash-${id}');`;

const rows = `PRAGMA foreign_keys = 0;
  INSERT INTO buyers VALUES ('b1', 'Ann', 'a@shop.example', '1', 'Lane 2' || char(10) || 'Town', 'US', NULL, 1, 'left-handed', 0);
  INSERT INTO buyers VALUES ('b2', 'Ben', '', '', '', '', NULL, 0, '', 1);
  INSERT INTO sales VALUES ('s1', 'k1', 'b1', 'c1', '2025-03-14', 54000, 1800, NULL, '', 0, 0, 0, 'invoice', '', 0, 0, 1648, 2359, NULL);
  ${invoice('i1', 1, 'sale', 50000, 'NULL')}
  INSERT INTO invoice_lines VALUES ('i1', 0, 'Knife', 'serial 1', 1, 50000, 50000, 65000);
  INSERT INTO payments (id, invoice_id, on_date, amount_minor, method, reference, reason, reverses_id)
    VALUES ('p1', 'i1', '2025-03-15', 50500, 'card', '', '', NULL);
  ${invoice('i2', 2, 'credit', -50000, "'i1'")}
  INSERT INTO attachments VALUES ('f1', 'build', 'k1', 'photo', 'a.png', '', 'image/png', 3, 'p', 'h', NULL, NULL, 'at', NULL);`;

/** Books of the older shape hold rows that point to things not written here; the check of the real step wants them whole. */
const parents = `INSERT INTO channels VALUES ('c1', 'Site', 29000, 30, 0, 0);
  INSERT INTO models VALUES ('m1', 'PAR', 'Paring', '', '', '', 0);
  INSERT INTO builds (id, number, serial, title, model_id, state, method, batch, planned_on, end_reason, note)
    VALUES ('k1', 1, 'W01', '', 'm1', 'sold', '', '', '2025-01-01', '', '');`;

it('brings buyers, sales, invoices, credits, payments and files over, and a supporter’s tick becomes a time', async () => {
  const folder = workshopFolder(tempWorkshop());
  createBooks(folder, openOptions(before));
  edit(folder.books, parents + rows);
  await (await open(folder, openOptions(migrations))).close(NOW);
  const all = (sql: string) => look(folder.books, sql);
  expect(all('SELECT id, name, email, address, note, archived, city FROM buyers ORDER BY id')).toEqual([
    {
      id: 'b1',
      name: 'Ann',
      email: 'a@shop.example',
      address: 'Lane 2\nTown',
      note: 'left-handed',
      archived: 0,
      city: '',
    },
    { id: 'b2', name: 'Ben', email: '', address: '', note: '', archived: 1, city: '' },
  ]);
  expect(all('SELECT buyer_id, from_on, until_on FROM supporter_spans')).toEqual([
    { buyer_id: 'b1', from_on: null, until_on: null },
  ]);
  expect(all('SELECT fee_minor, deposit_fee_minor, kept_minor, order_id FROM sales')).toEqual([
    { fee_minor: 1648, deposit_fee_minor: 0, kept_minor: 0, order_id: null },
  ]);
  expect(
    all(
      'SELECT number, kind, net_minor, tax_minor, total_minor, credits_id, document_sha256, prepaid_minor FROM invoices ORDER BY series_no',
    ),
  ).toEqual([
    {
      number: '2025-0001',
      kind: 'sale',
      net_minor: 50000,
      tax_minor: 500,
      total_minor: 50500,
      credits_id: null,
      document_sha256: 'hash-i1',
      prepaid_minor: 0,
    },
    {
      number: '2025-0002',
      kind: 'credit',
      net_minor: -50000,
      tax_minor: -500,
      total_minor: -50500,
      credits_id: 'i1',
      document_sha256: 'hash-i2',
      prepaid_minor: 0,
    },
  ]);
  expect(
    all(
      'SELECT l.net_minor, l.qty, l.qty_scale, y.amount_minor, y.fee_minor FROM invoice_lines l JOIN payments y USING (invoice_id)',
    ),
  ).toEqual([{ net_minor: 50000, qty: 1, qty_scale: 0, amount_minor: 50500, fee_minor: 0 }]);
  expect(all('SELECT id, owner_kind, path FROM attachments')).toEqual([
    { id: 'f1', owner_kind: 'build', path: 'p' },
  ]);
});

it('keeps an issued invoice as it is afterwards too', async () => {
  const folder = workshopFolder(tempWorkshop());
  createBooks(folder, openOptions(before));
  edit(folder.books, parents + rows);
  await (await open(folder, openOptions(migrations))).close(NOW);
  expect(() => {
    edit(folder.books, `UPDATE invoices SET note = 'other'`);
  }).toThrow('immutable');
  expect(() => {
    edit(folder.books, `DELETE FROM invoices`);
  }).toThrow('immutable');
});
