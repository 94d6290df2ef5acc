/**
 * Keeps closed years closed, whatever command tries: triggers that live only while the books are open and refuse every
 * row dated up to the last closed day. They are made anew at each opening and whenever a year is closed or opened again.
 */
import type Database from 'better-sqlite3';
import { type Ask, askingFile } from './ask.ts';

interface Rule {
  readonly table: string;
  readonly on: 'INSERT' | 'UPDATE' | 'DELETE';
  /** When it is refused, in SQL; `@` stands for the last closed day. */
  readonly when: string;
}

const added = (table: string, day: string): Rule => ({ table, on: 'INSERT', when: `NEW.${day} <= @` });

/** A row that stands in a closed year may not change in these columns, nor move into one. */
const held = (table: string, day: string, columns: readonly string[], also = '1'): readonly Rule[] => {
  const differs = [day, ...columns].map((column) => `OLD.${column} IS NOT NEW.${column}`).join(' OR ');
  return [
    { table, on: 'UPDATE', when: `(OLD.${day} <= @ OR NEW.${day} <= @) AND (${differs}) AND ${also}` },
    { table, on: 'DELETE', when: `OLD.${day} <= @` },
  ];
};

/** A day that, once written, may be neither set to a closed one nor taken out of one. */
const fixed = (table: string, day: string, also = '1'): Rule => ({
  table,
  on: 'UPDATE',
  when: `OLD.${day} IS NOT NEW.${day} AND (OLD.${day} <= @ OR NEW.${day} <= @) AND ${also}`,
});

const sold = ['price_minor', 'shipping_minor', 'tax_minor', 'fee_minor', 'postage_paid_minor', 'channel_id'];
const writtenOff = [
  // Under the seal as well, though they make no figure.
  'name',
  'bought_on',
  'cost_minor',
  'share_ppm',
  'residual_minor',
  'method',
  'life_months',
  'class_years',
  'convention',
];

/** The day postage of a service counts on. */
const posted = (row: 'OLD' | 'NEW'): string => `coalesce(${row}.sent_on, ${row}.done_on, ${row}.received_on)`;
const postedThen = (row: 'OLD' | 'NEW'): string => `(${row}.postage_paid_minor > 0 AND ${posted(row)} <= @)`;

const rules: readonly Rule[] = [
  ...[
    'movements',
    'charges',
    'making_charges',
    'bath_events',
    'burns',
    'openings',
    'item_counts',
    'payments',
  ].map((table) => added(table, 'on_date')),
  added('purchases', 'on_date'),
  ...held('purchases', 'on_date', ['supplier_id', 'freight_micro', 'freight_rule']),
  added('sessions', 'on_date'),
  ...held('sessions', 'on_date', ['current', 'cancelled', 'minutes']),
  added('sales', 'on_date'),
  ...held('sales', 'on_date', sold),
  fixed('sales', 'taken_back_on'),
  added('invoices', 'issued_on'),
  // Its tax would count in a closed year.
  added('invoices', 'tax_on'),
  // Without an invoice a sale counts as paid on its day, with its tax; one written later would move both.
  {
    table: 'invoices',
    on: 'INSERT',
    when: `NEW.kind <> 'credit' AND EXISTS (SELECT 1 FROM main.sales AS s WHERE s.id = NEW.sale_id AND s.on_date <= @)`,
  },
  added('expenses', 'cost_on'),
  fixed('expenses', 'paid_on'),
  added('mileage', 'on_date'),
  ...held('mileage', 'on_date', ['amount_minor']),
  added('incomes', 'earned_on'),
  fixed('incomes', 'received_on'),
  added('assets', 'in_service_on'),
  ...held('assets', 'in_service_on', writtenOff),
  fixed('assets', 'disposed_on'),
  {
    table: 'assets',
    on: 'UPDATE',
    when: 'OLD.disposed_on <= @ AND OLD.proceeds_minor IS NOT NEW.proceeds_minor',
  },
  added('stocktakes', 'on_date'),
  ...held('stocktakes', 'on_date', ['state']),
  fixed('services', 'sent_on'),
  { table: 'services', on: 'INSERT', when: postedThen('NEW') },
  { table: 'services', on: 'DELETE', when: postedThen('OLD') },
  {
    table: 'services',
    on: 'UPDATE',
    when: `(${postedThen('OLD')} OR ${postedThen('NEW')}) AND (OLD.postage_paid_minor IS NOT NEW.postage_paid_minor
      OR ${posted('OLD')} IS NOT ${posted('NEW')})`,
  },
  // What is stock and what is an expense when bought, and on which lines it stands.
  {
    table: 'items',
    on: 'UPDATE',
    when: `(OLD.incidental IS NOT NEW.incidental OR OLD.kind IS NOT NEW.kind) AND EXISTS (SELECT 1 FROM main.movements AS m
      JOIN main.lots AS l ON l.id = m.lot_id WHERE l.item_id = OLD.id AND m.on_date <= @)`,
  },
  fixed('orders', 'ended_on'),
  { table: 'orders', on: 'UPDATE', when: 'OLD.ended_on <= @ AND OLD.kept_minor IS NOT NEW.kept_minor' },
  fixed('builds', 'finished_on', `NEW.finished_on IS NOT NULL`),
  // A sold knife may come back in a later year; one that was scrapped or kept stays so.
  fixed('builds', 'ended_on', `(NEW.ended_on IS NOT NULL OR OLD.state IN ('scrapped', 'kept'))`),
  fixed('makings', 'started_on'),
  fixed('makings', 'ended_on'),
  added('supporter_spans', 'from_on'),
  fixed('supporter_spans', 'from_on'),
  fixed('supporter_spans', 'until_on'),
  ...['rates', 'person_rates', 'tariffs'].flatMap((table) => [
    added(table, 'from_date'),
    ...held(table, 'from_date', [table === 'tariffs' ? 'per_kwh_micro' : 'per_hour_micro']),
  ]),
  added('mileage_rates', 'from_on'),
  ...held('mileage_rates', 'from_on', ['per_unit_micro']),
];

const nameOf = (at: number): string => `closed_year_${at + 1}`;

/** What a refused row says; the core turns it into a sentence. */
const SIGN = 'closed through ';

const triggerText = ({ table, on, when }: Rule, at: number, through: string): string =>
  `CREATE TEMP TRIGGER ${nameOf(at)} BEFORE ${on} ON main.${table} WHEN ${when.replaceAll('@', `'${through}'`)} BEGIN SELECT RAISE(ABORT, '${SIGN}${through}'); END`;

/** The last closed day; undefined while no year is closed, or in books from before there were seals. */
export function closedThroughOf(ask: Ask): string | undefined {
  if (ask(`SELECT 1 FROM main.sqlite_master WHERE name = 'year_seals'`).length === 0) return undefined;
  const sql = `SELECT max(until_on) AS day FROM year_seals WHERE id NOT IN (SELECT seal_id FROM year_reopenings)`;
  return ask<{ day: string | null }>(sql)[0]?.day ?? undefined;
}

/** Every statement that brings the guard to where the books stand. */
export function guardStatements(ask: Ask): readonly string[] {
  const tables = new Set(
    ask<{ name: string }>(`SELECT name FROM main.sqlite_master WHERE type = 'table'`).map(({ name }) => name),
  );
  if (!tables.has('year_seals')) return [];
  const through = closedThroughOf(ask);
  const drops = rules.map((_rule, at) => `DROP TRIGGER IF EXISTS temp.${nameOf(at)}`);
  if (through === undefined) return drops;
  const made = rules.flatMap((rule, at) => (tables.has(rule.table) ? [triggerText(rule, at, through)] : []));
  return [...drops, ...made];
}

/** Sets the guard on books that were just opened. */
export function guardOpened(db: Database.Database): void {
  const all = guardStatements(askingFile(db));
  // Books without a closed year, nearly all of them, pay for one question only.
  if (all.some((each) => each.startsWith('CREATE'))) db.exec(all.join(';'));
}

/** The last closed day, when an error says that a row was refused by the guard. */
export function closedDayIn(error: unknown): string | undefined {
  if (!(error instanceof Error) || !('code' in error) || error.code !== 'SQLITE_CONSTRAINT_TRIGGER')
    return undefined;
  return error.message.startsWith(SIGN) ? error.message.slice(SIGN.length) : undefined;
}
