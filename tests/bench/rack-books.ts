/** A rack of twenty thousand lots and two hundred thousand movements, written straight into closed books. */
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { call, openBooks } from './books.ts';
import { demoSetUp } from '../workshop/rig.ts';

export const LOTS = 20_000;
const ITEMS = 500;
/** Each lot comes in and is drawn from this often. */
const DRAWS = 9;
const QTY = 1_000_000;
const DRAWN = 90_000;
const VALUE = 10_000_000;

const dayOf = (at: number): string =>
  new Date(Date.UTC(2020, 0, 1) + (at % 1800) * 86_400_000).toISOString().slice(0, 10);

const kinds = ['steel', 'handle', 'fitting', 'belt'] as const;

function writeItems(db: Database.Database): void {
  const item = db.prepare(
    `INSERT INTO items (id, name, kind, form, unit, piece_word, costing, useful_remnant, kerf_nm, low_level, note)
     VALUES (?, ?, ?, 'weight', 'g', '', 'fifo', 0, 0, 0, '')`,
  );
  for (let at = 0; at < ITEMS; at += 1)
    item.run(`i${at}`, `Material ${String(at).padStart(3, '0')}`, kinds[at % kinds.length]);
}

function writeLots(db: Database.Database): void {
  const lot = db.prepare(
    `INSERT INTO lots (id, number, item_id, received_on, heat_number, place, note, qty_received, value_received_micro,
       qty_left, value_left_micro) VALUES (?, ?, ?, ?, ?, ?, '', ?, ?, ?, ?)`,
  );
  const movement = db.prepare(
    `INSERT INTO movements (id, lot_id, on_date, kind, qty, value_micro, part_label, reason)
     VALUES (?, ?, ?, ?, ?, ?, '', '')`,
  );
  const left = QTY - DRAWS * DRAWN;
  for (let at = 0; at < LOTS; at += 1) {
    const id = `l${at}`;
    const heat = `H-${(at * 7919) % 9973}`;
    const value = (VALUE / QTY) * left;
    lot.run(id, at + 1, `i${at % ITEMS}`, dayOf(at), heat, `Rack ${at % 40}`, QTY, VALUE, left, value);
    movement.run(`${id}r`, id, dayOf(at), 'receipt', QTY, VALUE);
    for (let draw = 1; draw <= DRAWS; draw += 1)
      movement.run(`${id}d${draw}`, id, dayOf(at + draw), 'scrap', -DRAWN, -(VALUE / QTY) * DRAWN);
  }
}

/** Makes the books in a folder and fills their rack. */
export async function fillRack(folder: string): Promise<void> {
  const core = await openBooks(folder);
  await call(core, 'workshop.setUp', demoSetUp);
  await core.close();
  const db = new Database(join(folder, 'workshop.db'));
  db.transaction(() => {
    writeItems(db);
    writeLots(db);
  })();
  db.close();
}
