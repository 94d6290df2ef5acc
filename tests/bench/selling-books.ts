/** Ten thousand buyers, each with a knife bought, an invoice and its payment, written straight into closed books. */
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { call, openBooks } from './books.ts';
import { demoSetUp } from '../workshop/rig.ts';

export const MANY = 10_000;
const PRICE = 15_000;

const dayOf = (at: number): string =>
  new Date(Date.UTC(2020, 0, 1) + Math.floor(at / 6) * 86_400_000).toISOString().slice(0, 10);
const first = ['Ottoline', 'Jorun', 'Maël', 'Zofia', 'Ingrid', 'Þóra', 'Kasimir', 'Beatrix'] as const;
const last = ['Fernshaw', 'Quarrel', 'Ångström', 'Tessel', 'Lindqvist', 'Orrin', 'Dvořák'] as const;
const nameOf = (at: number): string =>
  `${first[at % first.length] ?? ''} ${last[(at * 3) % last.length] ?? ''} ${String(at)}`;

function writePeople(db: Database.Database): void {
  const buyer = db.prepare(
    `INSERT INTO buyers (id, name, email, phone, address, city, country, note)
     VALUES (?, ?, ?, '', ?, ?, 'US', ?)`,
  );
  for (let at = 0; at < MANY; at += 1) {
    const town = `Town ${String(at % 400)}`;
    buyer.run(
      `p${at}`,
      nameOf(at),
      `person${at}@post.example`,
      `${at} Reed Row`,
      town,
      at % 9 === 0 ? 'left-handed' : '',
    );
  }
}

function writeSales(db: Database.Database): void {
  const channel = db.prepare<[], { id: string }>('SELECT id FROM channels LIMIT 1').get()?.id;
  db.exec(
    `INSERT INTO models (id, code, name, family, method, note) VALUES ('m', 'PAR', 'Tessel paring', '', '', '')`,
  );
  const build = db.prepare(
    `INSERT INTO builds (id, number, serial, title, model_id, state, method, batch, planned_on, end_reason, note)
     VALUES (?, ?, ?, '', 'm', 'sold', '', '', ?, '', '')`,
  );
  const sale = db.prepare(
    `INSERT INTO sales (id, build_id, buyer_id, channel_id, on_date, price_minor, shipping_minor, tax_label, tax_rate_ppm,
       tax_on_shipping, tax_inclusive, tax_rounding, tax_note, tax_minor, abroad, fee_minor, postage_paid_minor)
     VALUES (?, ?, ?, ?, ?, ${String(PRICE)}, 0, '', 0, 0, 0, 'invoice', '', 0, 0, 0, 0)`,
  );
  const invoice = db.prepare(
    `INSERT INTO invoices (id, series, series_no, number, kind, sale_id, buyer_id, issued_on, supply_on, due_on, currency,
       seller_name, seller_address, seller_tax_number, buyer_name, buyer_address, net_minor, tax_label, tax_rate_ppm,
       tax_base_minor, tax_minor, total_minor, note, document_path, document_sha256)
     VALUES (?, 'I', ?, ?, 'sale', ?, ?, ?, ?, ?, 'USD', 'Shop', '', '', ?, '', ${String(PRICE)}, '', 0, 0, 0,
       ${String(PRICE)}, '', 'documents/x.pdf', '')`,
  );
  const line = db.prepare(
    `INSERT INTO invoice_lines (invoice_id, position, description, detail, qty, unit_price_minor, net_minor, tax_rate_ppm)
     VALUES (?, 0, 'Tessel paring', ?, 1, ${String(PRICE)}, ${String(PRICE)}, 0)`,
  );
  const payment = db.prepare(
    `INSERT INTO payments (id, invoice_id, on_date, amount_minor, method, reference, reason)
     VALUES (?, ?, ?, ${String(PRICE)}, 'card', '', '')`,
  );
  for (let at = 0; at < MANY; at += 1) {
    const on = dayOf(at);
    const serial = `W${String(at + 1)}`;
    build.run(`k${at}`, at + 1, serial, on);
    sale.run(`s${at}`, `k${at}`, `p${at}`, channel, on);
    invoice.run(
      `i${at}`,
      at + 1,
      `${on.slice(0, 4)}-${String(at + 1).padStart(5, '0')}`,
      `s${at}`,
      `p${at}`,
      on,
      on,
      on,
      nameOf(at),
    );
    line.run(`i${at}`, `serial ${serial}`);
    // The newest hundred are still to be paid.
    if (at < MANY - 100) payment.run(`y${at}`, `i${at}`, on);
  }
}

/** Makes the books in a folder and fills them. */
export async function fillSelling(folder: string): Promise<void> {
  const core = await openBooks(folder);
  await call(core, 'workshop.setUp', demoSetUp);
  await core.close();
  const db = new Database(join(folder, 'workshop.db'));
  db.transaction(() => {
    writePeople(db);
    writeSales(db);
  })();
  db.pragma('optimize');
  db.close();
}
