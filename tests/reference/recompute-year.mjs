/**
 * Reckons a year anew from the CSV files of an archive, with Node alone and no line of the application: what the
 * README in the archive says is all it knows. Usage: node recompute-year.mjs FOLDER FROM TO. Prints JSON, in cents.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

/** @typedef {Record<string, any>} Row one line of a table, every value as text or null */

const [folder = '', from = '', to = ''] = process.argv.slice(2);

/**
 * Takes CSV apart as RFC 4180 has it; a field without anything is null, "" is an empty text.
 * @param {string} text
 */
function parse(text) {
  /** @type {(string | null)[][]} */
  const rows = [];
  /** @type {(string | null)[]} */
  let row = [];
  let at = text.charCodeAt(0) === 0xfeff ? 1 : 0;
  while (at < text.length) {
    /** @type {string | null} */
    let field = null;
    if (text[at] === '"') {
      field = '';
      at += 1;
      for (;;) {
        const end = text.indexOf('"', at);
        field += text.slice(at, end);
        at = end + 1;
        if (text[at] !== '"') break;
        field += '"';
        at += 1;
      }
    } else {
      const start = at;
      while (at < text.length && text[at] !== ',' && text[at] !== '\r') at += 1;
      if (at > start) field = text.slice(start, at);
    }
    row.push(field);
    if (text[at] === ',') {
      at += 1;
      if (text[at] === '\r') row.push(null);
    }
    if (text[at] === '\r') {
      rows.push(row);
      row = [];
      at += 2;
    }
  }
  return rows;
}

/** @param {string} name @returns {Row[]} */
function table(name) {
  const [headings = [], ...rows] = parse(readFileSync(join(folder, 'tables', `${name}.csv`), 'utf8'));
  return rows.map((row) =>
    Object.fromEntries(headings.map((heading, column) => [heading ?? '', row[column]])),
  );
}

/** @param {Row[]} rows @param {(row: Row) => any} pick */
const sum = (rows, pick) => rows.reduce((so, row) => so + Number(pick(row) ?? 0), 0);
/** @param {string | null} day */
const inYear = (day) => day !== null && from <= day && day <= to;
/** Millionths to cents, half away from zero. @param {number} micro */
const cents = (micro) => Math.sign(micro) * Math.floor((Math.abs(micro) + 5000) / 10_000);
/** @param {string} day */
const dayBefore = (day) => new Date(Date.parse(`${day}T00:00:00Z`) - 86_400_000).toISOString().slice(0, 10);

const sales = table('sales');
const builds = table('builds');
const invoices = table('invoices');
const payments = table('payments');
const orders = table('orders');
const expenses = table('expenses');
const incomes = table('incomes');
const kinds = new Map(table('expense_categories').map((row) => [row.id, row.kind]));
const items = new Map(table('items').map((row) => [row.id, row]));
const lots = new Map(table('lots').map((row) => [row.id, row]));
/** @type {Row[]} */
const movements = table('movements').map((row) => ({
  ...row,
  item: items.get(lots.get(row.lot_id)?.item_id),
}));
const charges = table('charges');

/** Words a sheet puts over a material that served no named part; kinds not listed stand under their own name. */
/** @type {Readonly<Record<string, string>>} */
const words = { fitting: 'Fittings', adhesive: 'Glue' };
/** @param {Row} draw @returns {string} */
const lineOf = ({ part_label: part, item }) =>
  part !== '' ? part : (words[item.kind] ?? item.kind[0].toUpperCase() + item.kind.slice(1));

/**
 * What a knife had cost by a day: each material is a line, and so is each other use; every line is rounded once.
 * @param {string} buildId @param {string} day
 */
function costBy(buildId, day) {
  /** @type {Map<string, number>} */
  const lines = new Map();
  /** @param {string} use @param {string} line @param {number} micro */
  const add = (use, line, micro) => {
    const key = use === 'material' ? `material ${line}` : use;
    lines.set(key, (lines.get(key) ?? 0) + micro);
  };
  for (const row of movements)
    if (row.build_id === buildId && row.on_date <= day)
      add(row.use_as, lineOf(row), -Number(row.value_micro));
  for (const row of charges)
    if (row.build_id === buildId && row.on_date <= day) add(row.use_as, row.label, Number(row.amount_micro));
  /** @type {Record<string, number>} */
  const parts = { material: 0, consumable: 0, energy: 0, packaging: 0 };
  for (const [key, micro] of lines) {
    const [use = ''] = key.split(' ');
    parts[use] = (parts[use] ?? 0) + cents(micro);
  }
  return parts;
}
/** @param {Record<string, number>} parts */
const total = (parts) => Object.values(parts).reduce((so, part) => so + part, 0);

/** Stock at cost at the end of a day. @param {string} day */
function stockAt(day) {
  const rack = sum(
    movements.filter((row) => row.on_date <= day && row.item.incidental === '0'),
    (row) => row.value_micro,
  );
  const worn = new Map(table('openings').map((row) => [row.id, row.blunt_on ?? row.ended_on ?? '9999']));
  const opened = -sum(
    movements.filter(
      (row) =>
        row.opening_id !== null &&
        row.build_id === null &&
        row.on_date <= day &&
        (worn.get(row.opening_id) ?? '') > day,
    ),
    (row) => row.value_micro,
  );
  const baths = sum(
    table('bath_events').filter((row) => row.on_date <= day),
    (row) => row.value_micro,
  );
  /** @param {string} id */
  const sold = (id) =>
    sales.some(
      (row) =>
        row.build_id === id && row.on_date <= day && (row.taken_back_on === null || row.taken_back_on > day),
    );
  const there = builds.filter(
    (row) =>
      row.started_on !== null &&
      row.started_on <= day &&
      !(['scrapped', 'kept'].includes(row.state) && row.ended_on <= day) &&
      !sold(row.id),
  );
  /** @param {Row} row */
  const isDone = (row) => row.finished_on !== null && row.finished_on <= day;
  /** @param {Row[]} rows */
  const worth = (rows) => sum(rows, (row) => total(costBy(row.id, day)));
  const raw = cents(rack + opened + baths);
  const [work, finished] = [worth(there.filter((row) => !isDone(row))), worth(there.filter(isDone))];
  return { raw, work, finished, total: raw + work + finished };
}

/** Straight line by whole months, the month it came into use counted; each year the difference of two rounded sums. */
function depreciation() {
  /** @param {string} day */
  const months = (day) => Number(day.slice(0, 4)) * 12 + Number(day.slice(5, 7));
  return sum(table('assets'), (row) => {
    if (row.method !== 'months' || row.disposed_on !== null)
      throw new Error('only straight lines are known here');
    const basis =
      Math.round((Number(row.cost_minor) * Number(row.share_ppm)) / 1e6) - Number(row.residual_minor);
    const life = Number(row.life_months);
    /** @param {string} day */
    const upTo = (day) => {
      const used = Math.min(Math.max(months(day) - months(row.in_service_on) + 1, 0), life);
      return Math.round((basis * used) / life);
    };
    return upTo(to) - upTo(dayBefore(from));
  });
}

const soldHere = sales.filter((row) => inYear(row.on_date));
if (sales.some((row) => row.taken_back_on !== null || row.tax_inclusive === '1'))
  throw new Error('knives that came back and prices with tax in them are not known here');
const costs = soldHere.map((row) => costBy(row.build_id, to));
const invoiceOf = new Map(invoices.map((row) => [row.id, row]));
/** @param {string} kind */
const ofKind = (kind) =>
  sum(
    incomes.filter((row) => inYear(row.earned_on) && row.kind === kind),
    (row) => row.gross_minor,
  );
/** @param {...string} wanted */
const spent = (...wanted) =>
  sum(
    expenses.filter((row) => inYear(row.cost_on) && wanted.includes(kinds.get(row.category_id) ?? '')),
    (row) => row.cost_minor,
  );
const service = invoices.filter(
  (row) =>
    inYear(row.issued_on) &&
    row.order_id === null &&
    (row.kind === 'service' || (row.kind === 'credit' && invoiceOf.get(row.credits_id)?.kind === 'service')),
);

const income = {
  knives: sum(soldHere, (row) => row.price_minor),
  shipping: sum(soldHere, (row) => row.shipping_minor),
  supporters: ofKind('supporters'),
  service: sum(service, (row) => row.net_minor),
  kept: sum(
    orders.filter((row) => row.state === 'cancelled' && inYear(row.ended_on)),
    (row) => row.kept_minor,
  ),
  content: ofKind('content'),
  other: ofKind('other'),
};
const direct = {
  materials: sum(costs, (parts) => parts.material),
  consumables: sum(costs, (parts) => parts.consumable),
  energy: sum(costs, (parts) => parts.energy),
  packaging: sum(costs, (parts) => parts.packaging),
};
const services = table('services').filter((row) => inYear(row.sent_on) && row.cancelled_on === null);
const further = {
  postage:
    sum(soldHere, (row) => row.postage_paid_minor) +
    sum(services, (row) => row.postage_paid_minor) +
    spent('postage'),
  // Fees of deposits stand with their payments; a sale repeats them.
  fees:
    sum(soldHere, (row) => Number(row.fee_minor) - Number(row.deposit_fee_minor)) +
    sum(
      payments.filter((row) => inYear(row.on_date)),
      (row) => row.fee_minor,
    ),
  platform:
    sum(
      incomes.filter((row) => inYear(row.earned_on)),
      (row) => row.fee_minor,
    ) + spent('platformFee'),
  scrap: sum(
    builds.filter((row) => row.state === 'scrapped' && inYear(row.ended_on)),
    (row) => total(costBy(row.id, to)),
  ),
};
const overhead =
  spent('overhead', 'supplies') +
  sum(
    table('mileage').filter((row) => inYear(row.on_date)),
    (row) => row.amount_minor,
  ) +
  depreciation();
const running = orders.filter(
  (row) => row.agreed_on !== null && row.agreed_on <= to && (row.ended_on === null || row.ended_on > to),
);
const held = sum(
  payments.filter((row) => {
    const { kind, order_id: order } = invoiceOf.get(row.invoice_id) ?? {};
    return kind === 'deposit' && row.on_date <= to && running.some(({ id }) => id === order);
  }),
  (row) => row.amount_minor,
);
console.log(
  JSON.stringify({
    income,
    costs: { ...direct, ...further },
    overhead,
    left: total(income) - total(direct) - total(further) - overhead,
    opening: stockAt(dayBefore(from)),
    closing: stockAt(to),
    held,
    sold: soldHere.length,
  }),
);
