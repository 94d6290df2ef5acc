/**
 * What a seal covers: the rows that make a year's figures, by the day they count on, and of each row only what may never
 * change again. Columns added by a later version of the books are not covered by an older seal, so the lists are written out.
 */

/** One table under a seal. */
export interface SealedTable {
  readonly table: string;
  /** What names a row for a person and finds it again; several columns joined. */
  readonly key: readonly string[];
  readonly columns: readonly string[];
  /** The day a row counts on, in SQL; its own table is `t`. */
  readonly day: string;
  /** Further tables the day comes from. */
  readonly join?: string;
  /** Which rows count at all, in SQL. */
  readonly where?: string;
  /** Came later: the control total that came with it. A seal whose totals do not name it was made without this table. */
  readonly total?: string;
}

const words = (text: string): readonly string[] => text.split(' ');

/** Every table under a seal, in the order in which a seal reads them. */
export const sealedTables: readonly SealedTable[] = [
  {
    table: 'purchases',
    key: ['id'],
    columns: words('id supplier_id on_date reference freight_micro freight_rule'),
    day: 't.on_date',
  },
  {
    table: 'purchase_lines',
    key: ['id'],
    columns: words('id purchase_id position item_id pieces qty_each price_micro freight_share_micro'),
    join: 'JOIN purchases AS p ON p.id = t.purchase_id',
    day: 'p.on_date',
  },
  {
    table: 'movements',
    key: ['id'],
    columns: words(
      'seq id lot_id on_date kind qty value_micro use_as build_id stage_code reason reverses_id making_id opening_id burn_id bath_event_id',
    ),
    day: 't.on_date',
  },
  {
    table: 'charges',
    key: ['id'],
    columns: words('seq id build_id on_date label use_as amount_micro reason reverses_id'),
    day: 't.on_date',
  },
  {
    table: 'making_charges',
    key: ['id'],
    columns: words('seq id making_id on_date label amount_micro reason reverses_id'),
    day: 't.on_date',
  },
  {
    table: 'bath_events',
    key: ['id'],
    columns: words('seq id bath_id on_date kind qty_nl quenches value_micro reason reverses_id'),
    day: 't.on_date',
  },
  {
    table: 'burns',
    key: ['id'],
    columns: words('id on_date kind item_id making_id qty_ng amount_micro'),
    day: 't.on_date',
  },
  { table: 'openings', key: ['id'], columns: words('id item_id lot_id on_date qty'), day: 't.on_date' },
  {
    table: 'item_counts',
    key: ['id'],
    columns: words('id item_id on_date counted_qty difference_qty difference_micro settled'),
    day: 't.on_date',
  },
  {
    table: 'stocktakes',
    key: ['id'],
    columns: words(
      'id number on_date booked_micro materials_micro supplies_micro opened_micro in_work_micro finished_micro',
    ),
    day: 't.on_date',
    where: `t.state = 'finished'`,
  },
  {
    table: 'sessions',
    key: ['id'],
    columns: words(
      'id root_id version current cancelled on_date minutes setup_minutes stage_code work_kind person_id making_id',
    ),
    day: 't.on_date',
  },
  {
    table: 'session_shares',
    key: ['session_id', 'build_id'],
    columns: words('session_id build_id weight minutes'),
    join: 'JOIN sessions AS s ON s.id = t.session_id',
    day: 's.on_date',
  },
  {
    table: 'sales',
    key: ['id'],
    // Not the buyer: two entries of one person may be put together. Not what came back later: that counts on its own day.
    columns: words(
      'id build_id channel_id on_date price_minor shipping_minor tax_rate_ppm tax_minor fee_minor deposit_fee_minor postage_paid_minor order_id',
    ),
    day: 't.on_date',
  },
  {
    table: 'invoices',
    key: ['number'],
    columns: words(
      'id number kind sale_id order_id service_id issued_on supply_on currency net_minor tax_minor total_minor prepaid_minor credits_id document_sha256',
    ),
    day: 't.issued_on',
  },
  {
    table: 'invoice_lines',
    key: ['invoice_id', 'position'],
    columns: words('invoice_id position description qty qty_scale unit_price_minor net_minor tax_rate_ppm'),
    join: 'JOIN invoices AS i ON i.id = t.invoice_id',
    day: 'i.issued_on',
  },
  {
    table: 'payments',
    key: ['id'],
    columns: words('seq id invoice_id on_date amount_minor method reference reverses_id fee_minor'),
    day: 't.on_date',
  },
  {
    table: 'orders',
    key: ['number'],
    columns: words('id number ended_on kept_minor kept_tax_minor'),
    day: 't.ended_on',
    where: `t.state = 'cancelled'`,
  },
  {
    table: 'expenses',
    key: ['id'],
    columns: words(
      'seq id category_id cost_on payee amount_minor tax_minor share_ppm cost_minor reverses_id',
    ),
    day: 't.cost_on',
  },
  {
    table: 'mileage',
    key: ['id'],
    columns: words('seq id on_date distance_milli unit purpose amount_minor reverses_id'),
    day: 't.on_date',
  },
  {
    table: 'incomes',
    key: ['id'],
    columns: words('seq id kind earned_on payer gross_minor fee_minor reverses_id'),
    day: 't.earned_on',
  },
  {
    table: 'assets',
    key: ['number'],
    columns: words(
      'id number name bought_on in_service_on cost_minor share_ppm residual_minor method life_months class_years convention',
    ),
    day: 't.in_service_on',
  },
  {
    table: 'services',
    key: ['id'],
    // The day it was sent is held with the postage; of a job all else may still change.
    columns: words('id sent_on postage_paid_minor'),
    day: 'coalesce(t.sent_on, t.done_on, t.received_on)',
    where: 't.postage_paid_minor > 0',
    total: 'servicePostage',
  },
];

/** The tables a seal was made over, told from its control totals. */
export const tablesUnder = (totals: Readonly<Record<string, number>>): readonly SealedTable[] =>
  sealedTables.filter(({ total }) => total === undefined || Object.hasOwn(totals, total));

/** Columns a row's figures come from, with what they are counted in, for the control totals of a year. */
export const sealTotals: readonly {
  readonly key: string;
  readonly table: string;
  readonly sum: string;
  readonly unit: 'count' | 'minor' | 'micro' | 'minutes';
  readonly label: string;
}[] = [
  { key: 'sales', table: 'sales', sum: '1', unit: 'count', label: 'Knives sold' },
  { key: 'price', table: 'sales', sum: 't.price_minor', unit: 'minor', label: 'Prices of knives sold' },
  { key: 'shipping', table: 'sales', sum: 't.shipping_minor', unit: 'minor', label: 'Shipping charged' },
  { key: 'saleTax', table: 'sales', sum: 't.tax_minor', unit: 'minor', label: 'Tax on sales' },
  { key: 'fees', table: 'sales', sum: 't.fee_minor', unit: 'minor', label: 'Fees of sales' },
  { key: 'postage', table: 'sales', sum: 't.postage_paid_minor', unit: 'minor', label: 'Postage paid' },
  {
    key: 'servicePostage',
    table: 'services',
    sum: 't.postage_paid_minor',
    unit: 'minor',
    label: 'Postage paid after service',
  },
  { key: 'invoices', table: 'invoices', sum: '1', unit: 'count', label: 'Invoices and credits issued' },
  {
    key: 'invoiced',
    table: 'invoices',
    sum: 't.total_minor',
    unit: 'minor',
    label: 'Invoiced less credited',
  },
  {
    key: 'paid',
    table: 'payments',
    sum: 't.amount_minor',
    unit: 'minor',
    label: 'Payments received less given back',
  },
  { key: 'incomes', table: 'incomes', sum: 't.gross_minor', unit: 'minor', label: 'Other income' },
  { key: 'expenses', table: 'expenses', sum: 't.cost_minor', unit: 'minor', label: 'Expenses' },
  { key: 'movements', table: 'movements', sum: '1', unit: 'count', label: 'Movements of stock' },
  {
    key: 'stock',
    table: 'movements',
    sum: 't.value_micro',
    unit: 'micro',
    label: 'Stock in less out, at cost',
  },
  {
    key: 'charges',
    table: 'charges',
    sum: 't.amount_micro',
    unit: 'micro',
    label: 'Costs put on knives without stock',
  },
  { key: 'minutes', table: 'sessions', sum: 't.minutes', unit: 'minutes', label: 'Hours worked' },
];
