/** A year of a workshop far too large for one person, written straight into closed books. */
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { demoSetUp } from '../workshop/rig.ts';
import { call, openBooks } from './books.ts';

/** Entries each knife brings: movements, charges, sessions with their shares, sale, invoice, payment. */
const ENTRIES_A_KNIFE = 40;
const [DRAWS, CHARGES, SESSIONS] = [18, 5, 7];
const LOTS = 200;

const dayOf = (at: number): string =>
  new Date(Date.UTC(2025, 0, 1) + (at % 365) * 86_400_000).toISOString().slice(0, 10);
const [models, methods] = [
  ['PAR', 'PET', 'CHF', 'HUN'],
  ['belt', 'paper', 'stone'],
];

function writeGoods(db: Database.Database): void {
  const item = db.prepare(
    `INSERT INTO items (id, name, kind, form, unit, piece_word, costing, useful_remnant, kerf_nm, low_level, note)
     VALUES (?, ?, 'steel', 'weight', 'g', '', 'fifo', 0, 0, 0, '')`,
  );
  const lot = db.prepare(
    `INSERT INTO lots (id, number, item_id, received_on, heat_number, place, note, qty_received, value_received_micro,
       qty_left, value_left_micro) VALUES (?, ?, ?, '2025-01-01', '', '', '', 1, 1000000000000, 1, 1000000000000)`,
  );
  const receipt = db.prepare(
    `INSERT INTO movements (id, lot_id, on_date, kind, qty, value_micro, part_label, reason)
     VALUES (?, ?, '2025-01-01', 'receipt', 1, 1000000000000, '', '')`,
  );
  for (let at = 0; at < LOTS; at += 1) {
    item.run(`i${at}`, `Material ${at}`);
    lot.run(`l${at}`, at + 1, `i${at}`);
    receipt.run(`r${at}`, `l${at}`);
  }
  const model = db.prepare(
    `INSERT INTO models (id, code, name, family, method, note) VALUES (?, ?, ?, ?, 'belt', '')`,
  );
  for (const code of models) model.run(code, code, `Model ${code}`, code);
  db.prepare(
    `INSERT INTO buyers (id, name, email, phone, address, country, note) VALUES ('b', 'A buyer', '', '', '', 'US', '')`,
  ).run();
}

function knifeWriter(db: Database.Database) {
  const build = db.prepare(
    `INSERT INTO builds (id, number, serial, title, model_id, state, method, batch, planned_on, started_on, finished_on,
       ended_on, end_reason, note, minutes, cost_micro) VALUES (?, ?, ?, '', ?, ?, ?, '', ?, ?, ?, NULL, '', '', ?, 0)`,
  );
  const draw = db.prepare(
    `INSERT INTO movements (id, lot_id, on_date, kind, qty, value_micro, use_as, build_id, part_label, reason)
     VALUES (?, ?, ?, 'draw', 0, ?, ?, ?, ?, '')`,
  );
  const charge = db.prepare(
    `INSERT INTO charges (id, build_id, on_date, label, use_as, amount_micro, rung, reason) VALUES (?, ?, ?, ?, ?, ?, 1, '')`,
  );
  const session = db.prepare(
    `INSERT INTO sessions (id, root_id, version, current, cancelled, on_date, minutes, stage_code, source, note, reason,
       recorded_at) VALUES (?, ?, 1, 1, 0, ?, ?, ?, 'entered', '', '', '2025-01-01T00:00:00.000Z')`,
  );
  const share = db.prepare(
    `INSERT INTO session_shares (session_id, build_id, weight, minutes) VALUES (?, ?, 1, ?)`,
  );
  const stages = db.prepare<[], { code: string }>('SELECT code FROM stages').all();
  return (at: number): void => {
    const [id, on] = [`k${at}`, dayOf(at)];
    const isOpen = at % 20 === 0;
    const state = isOpen ? 'finished' : 'sold';
    build.run(id, at + 1, `W${at}`, models[at % 4], state, methods[at % 3], on, on, on, SESSIONS * 60);
    for (let n = 0; n < DRAWS; n += 1)
      draw.run(
        `${id}m${n}`,
        `l${(at + n) % LOTS}`,
        on,
        -1_234_567 - n * 1000,
        n % 3 === 0 ? 'consumable' : 'material',
        id,
        `Part ${n % 6}`,
      );
    for (let n = 0; n < CHARGES; n += 1)
      charge.run(`${id}c${n}`, id, on, 'Usual', n % 2 === 0 ? 'energy' : 'consumable', 750_123);
    for (let n = 0; n < SESSIONS; n += 1) {
      session.run(`${id}s${n}`, `${id}s${n}`, on, 60, stages[(at + n) % stages.length]?.code);
      share.run(`${id}s${n}`, id, 60);
    }
  };
}

function saleWriter(db: Database.Database) {
  const channel = db.prepare<[], { id: string }>('SELECT id FROM channels LIMIT 1').get()?.id;
  const sale = db.prepare(
    `INSERT INTO sales (id, build_id, buyer_id, channel_id, on_date, price_minor, shipping_minor, tax_label, tax_rate_ppm,
       tax_on_shipping, tax_inclusive, tax_rounding, tax_note, tax_minor, abroad, fee_minor, postage_paid_minor)
     VALUES (?, ?, 'b', ?, ?, 15000, 1200, 'Sales tax', 65000, 1, 0, 'invoice', '', 1053, 0, 500, 1205)`,
  );
  const invoice = db.prepare(
    `INSERT INTO invoices (id, series, series_no, number, kind, sale_id, buyer_id, issued_on, supply_on, due_on, currency,
       seller_name, seller_address, seller_tax_number, buyer_name, buyer_address, net_minor, tax_label, tax_rate_ppm,
       tax_base_minor, tax_minor, total_minor, note, document_path, document_sha256)
     VALUES (?, 'S', ?, ?, 'sale', ?, 'b', ?, ?, ?, 'USD', '', '', '', 'A buyer', '', 16200, 'Sales tax', 65000, 16200, 1053,
       17253, '', '', '')`,
  );
  const payment = db.prepare(
    `INSERT INTO payments (id, invoice_id, on_date, amount_minor, method, reference, reason) VALUES (?, ?, ?, 17253, 'card', '', '')`,
  );
  return (at: number): void => {
    if (at % 20 === 0) return;
    const [id, on] = [`k${at}`, dayOf(at)];
    sale.run(`${id}v`, id, channel, on);
    invoice.run(`${id}i`, at + 1, `S${at}`, `${id}v`, on, on, on);
    payment.run(`${id}p`, `${id}i`, on);
  };
}

/** Makes books in a folder with so many entries in 2025. */
export async function fillYear(folder: string, entries: number): Promise<void> {
  const core = await openBooks(folder);
  await call(core, 'workshop.setUp', demoSetUp);
  await core.close();
  const db = new Database(join(folder, 'workshop.db'));
  db.transaction(() => {
    writeGoods(db);
    const [knife, sale] = [knifeWriter(db), saleWriter(db)];
    for (let at = 0; at < entries / ENTRIES_A_KNIFE; at += 1) {
      knife(at);
      sale(at);
    }
  })();
  db.pragma('optimize');
  db.close();
}
