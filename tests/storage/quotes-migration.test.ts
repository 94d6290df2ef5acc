/** Books from before quotes: models and knives stay as they were, with size, steel and finish still open. */
import { expect, it } from 'vitest';
import { migrations } from '../../migrations/index.ts';
import { open } from '../../electron/storage/books.ts';
import { workshopFolder } from '../../electron/storage/folder.ts';
import { createBooks } from '../../electron/storage/open.ts';
import { edit, look, openOptions, tempWorkshop } from './support.ts';

const before = migrations.filter((step) => step.number < 50);

const rows = `INSERT INTO models (id, code, name, family, method, note) VALUES ('m1', 'PAR', 'Paring', 'P', 'belt', 'mine');
  INSERT INTO builds (id, number, serial, title, model_id, state, method, batch, planned_on, end_reason, note)
    VALUES ('k1', 1, 'W01', 'First', 'm1', 'planned', 'belt', '', '2025-01-01', '', '');
  INSERT INTO channels VALUES ('c1', 'Site', 29000, 30, 0, 0);
  INSERT INTO tax_places (id, name, label, rate_ppm, on_shipping, inclusive, rounding, note) VALUES ('t1', 'Home', 'Tax', 0, 0, 0, 'invoice', '');
  INSERT INTO buyers (id, name, email, phone, address, country, tax_place_id, note) VALUES ('b1', 'Ann', '', '', '', 'US', 't1', '');`;

const quote = `INSERT INTO quotes (id, number, buyer_id, model_id, on_date, valid_until, wish, steel, finish, channel_id, tax_place_id, abroad,
    price_minor, special_minor, shipping_minor, note, asked, working)
    VALUES ('q1', 1, 'b1', 'm1', '2026-01-04', '2026-02-04', '', '', '', 'c1', 't1', 0, 100, 0, 0, '', '{}', '{}');
  INSERT INTO quote_options VALUES ('q1', 0, NULL, 'Guard', 5);`;

it('leaves models and knives as they were and keeps a quote from being rewritten', async () => {
  const folder = workshopFolder(tempWorkshop());
  createBooks(folder, openOptions(before));
  edit(folder.books, rows);
  await (await open(folder, openOptions(migrations))).close('2026-01-05T09:00:00.000Z');
  expect(look(folder.books, 'SELECT code, name, note, blade_nm, steel, finish FROM models')).toEqual([
    { code: 'PAR', name: 'Paring', note: 'mine', blade_nm: null, steel: '', finish: '' },
  ]);
  expect(look(folder.books, 'SELECT serial, title, blade_nm, steel, finish FROM builds')).toEqual([
    { serial: 'W01', title: 'First', blade_nm: null, steel: null, finish: null },
  ]);
  edit(folder.books, quote);
  edit(folder.books, "UPDATE quotes SET taken_on = '2026-01-06', note = 'called'");
  for (const statement of [
    'UPDATE quotes SET price_minor = 1',
    "UPDATE quotes SET working = '[]'",
    'DELETE FROM quotes',
    'UPDATE quote_options SET price_minor = 1',
    'DELETE FROM quote_options',
  ])
    expect(() => {
      edit(folder.books, statement);
    }, statement).toThrow('not rewritten');
});
