/** Books from before stocktakes: nothing of them is touched, and what is kept there later is never rewritten. */
import { expect, it } from 'vitest';
import { open } from '../../electron/storage/books.ts';
import { workshopFolder } from '../../electron/storage/folder.ts';
import { createBooks } from '../../electron/storage/open.ts';
import { migrations } from '../../migrations/index.ts';
import { edit, look, openOptions, tempWorkshop } from './support.ts';

const before = migrations.filter((step) => step.number < 70);
const NOW = '2026-01-05T09:00:00.000Z';

const item = `INSERT INTO items (id, name, kind, form, unit, piece_word, costing, useful_remnant, kerf_nm, low_level, note)
  VALUES ('i1', 'Bar', 'steel', 'length', 'in', 'bar', 'fifo', 0, 0, 0, '');
  INSERT INTO lots (id, number, item_id, received_on, heat_number, place, note, qty_received, value_received_micro, qty_left, value_left_micro)
  VALUES ('l1', 1, 'i1', '2025-01-02', '', 'Rack', '', 100, 5000000, 100, 5000000);
  INSERT INTO movements (id, lot_id, on_date, kind, qty, value_micro, part_label, reason)
  VALUES ('m1', 'l1', '2025-01-02', 'receipt', 100, 5000000, '', '');`;

const counted = `INSERT INTO stocktakes (id, number, on_date, state, places, note, started_at)
  VALUES ('s1', 1, '2025-12-31', 'open', '[]', '', '${NOW}');
  INSERT INTO stocktake_lines (id, stocktake_id, number, place, item_id) VALUES ('n1', 's1', 1, 'Rack', 'i1');
  INSERT INTO stocktake_line_lots VALUES ('n1', 'l1');
  INSERT INTO stocktake_counts VALUES ('n1', '', 100, 100, '${NOW}');
  UPDATE stocktakes SET state = 'finished', ended_at = '${NOW}', booked_micro = 5000000 WHERE id = 's1';`;

it('keeps lots and movements, and what a finished stocktake came to', async () => {
  const folder = workshopFolder(tempWorkshop());
  createBooks(folder, openOptions(before));
  edit(folder.books, item);
  const all = () => look(folder.books, 'SELECT * FROM movements');
  const moved = all();
  await (await open(folder, openOptions(migrations))).close(NOW);
  expect(all()).toEqual(moved);
  expect(look(folder.books, 'SELECT place, qty_left, value_left_micro FROM lots')).toEqual([
    { place: 'Rack', qty_left: 100, value_left_micro: 5_000_000 },
  ]);
  edit(folder.books, counted);
  for (const change of [
    `UPDATE stocktakes SET booked_micro = 1 WHERE id = 's1'`,
    `DELETE FROM stocktakes WHERE id = 's1'`,
    `UPDATE stocktake_lines SET counted_qty = 1 WHERE id = 'n1'`,
    `DELETE FROM stocktake_lines WHERE id = 'n1'`,
    `UPDATE stocktake_counts SET qty = 1 WHERE line_id = 'n1'`,
    `DELETE FROM stocktake_counts WHERE line_id = 'n1'`,
  ])
    expect(() => edit(folder.books, change)).toThrow(/stocktake/);
});
