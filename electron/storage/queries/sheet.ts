/** What the sheet for the preparer reads of goods and receipts, and its own lists, maps and answers. */
import { type Insertable, sql } from 'kysely';
import { LOST_TO_BUYER } from '../../domain/year-sales.ts';
import type { ReadDb, WriteDb } from '../db.ts';
import type {
  SheetAnswersTable,
  SheetsHandedTable,
  TaxFormLinesTable,
  TaxFormMapTable,
  TaxFormsTable,
} from '../schema-sheet.ts';
import type { Span } from './expenses.ts';

/** Movements with the kind they take back, where they do. */
const moved = (db: ReadDb, { from, to }: Span) =>
  db.q
    .selectFrom('movements as m')
    .innerJoin('lots as l', 'l.id', 'm.lot_id')
    .innerJoin('items as i', 'i.id', 'l.item_id')
    .leftJoin('movements as o', 'o.id', 'm.reverses_id')
    .where('m.on_date', '>=', from)
    .where('m.on_date', '<=', to);

const standsFor = sql<string>`coalesce(o.kind, m.kind)`;

/**
 * What was bought and sent back in a span of days, by kind of item, at cost with the freight shared onto it.
 * Receipts that were taken back are off from the day they were.
 */
export const boughtByKind = (db: ReadDb, span: Span) =>
  db.all(
    moved(db, span)
      .where(sql<boolean>`${standsFor} IN ('receipt', 'return')`)
      .select(['i.kind', 'i.incidental'])
      .select(({ fn }) => fn.sum<number>('m.value_micro').as('value_micro'))
      .groupBy(['i.kind', 'i.incidental'])
      .orderBy('i.kind'),
  );

/** What was taken off the rack for personal use in a span of days, at cost; supplies without a count left out. */
export const takenForOwnUse = (db: ReadDb, span: Span): number =>
  db.one(
    moved(db, span)
      .where(sql<boolean>`${standsFor} = 'personal'`)
      .where('i.incidental', '=', 0)
      .select(sql<number>`coalesce(-sum(m.value_micro), 0)`.as('micro')),
  )?.micro ?? 0;

/** Material drawn for knives in a span of days, given back already off, and what was charged to knives without stock. */
export const drawnForKnives = (db: ReadDb, span: Span): number =>
  db.one(
    moved(db, span)
      .where(sql<boolean>`coalesce(m.build_id, o.build_id) IS NOT NULL`)
      .select(sql<number>`coalesce(-sum(m.value_micro), 0)`.as('micro')),
  )?.micro ?? 0;

/** What knives were charged in a span of days beside what they drew. */
export const chargedToKnives = (db: ReadDb, { from, to }: Span): number =>
  db.one(
    db.q
      .selectFrom('charges')
      .where('on_date', '>=', from)
      .where('on_date', '<=', to)
      .select(sql<number>`coalesce(sum(amount_micro), 0)`.as('micro')),
  )?.micro ?? 0;

/** Items of which no count is kept. */
export const incidentalItems = (db: ReadDb): readonly string[] =>
  db.all(db.q.selectFrom('items').select('id').where('incidental', '=', 1)).map(({ id }) => id);

/** Tanks and openings that hold such an item. */
export const heldIncidental = (db: ReadDb): readonly string[] => [
  ...db
    .all(
      db.q
        .selectFrom('baths as b')
        .innerJoin('items as i', 'i.id', 'b.item_id')
        .select('b.id')
        .where('i.incidental', '=', 1),
    )
    .map(({ id }) => id),
  ...db
    .all(
      db.q
        .selectFrom('openings as b')
        .innerJoin('items as i', 'i.id', 'b.item_id')
        .select('b.id')
        .where('i.incidental', '=', 1),
    )
    .map(({ id }) => id),
];

/** Knives kept or given away in a span of days. */
export const knivesKept = (db: ReadDb, { from, to }: Span): readonly string[] =>
  db
    .all(
      db.q
        .selectFrom('builds')
        .select('id')
        .where('state', '=', 'kept')
        // Lost to a buyer: nobody took it for their own use.
        .where('end_reason', '<>', LOST_TO_BUYER)
        .where('ended_on', '>=', from)
        .where('ended_on', '<=', to),
    )
    .map(({ id }) => id);

/** The maker's own lists, those in use first. */
export const taxForms = (db: ReadDb) =>
  db.all(db.q.selectFrom('tax_forms').selectAll().orderBy('archived').orderBy('name'));

/** Lines of a list in their order. */
export const taxFormLines = (db: ReadDb, formId: string): readonly TaxFormLinesTable[] =>
  db.all(db.q.selectFrom('tax_form_lines').selectAll().where('form_id', '=', formId).orderBy('position'));

/** Enters a list, or changes it, with all its lines. */
export function putTaxForm(
  db: WriteDb,
  row: Required<Pick<TaxFormsTable, 'id' | 'name' | 'note'>> & { readonly archived: number },
  lines: readonly Omit<TaxFormLinesTable, 'form_id' | 'position'>[],
): void {
  const { id, ...rest } = row;
  db.run(
    db.q
      .insertInto('tax_forms')
      .values(row)
      .onConflict((clash) => clash.column('id').doUpdateSet(rest)),
  );
  db.run(db.q.deleteFrom('tax_form_lines').where('form_id', '=', id));
  lines.forEach((line, position) => {
    db.run(db.q.insertInto('tax_form_lines').values({ ...line, form_id: id, position }));
  });
}

/** Where sources go on a form in a tax year: the latest word by then. */
export const mapInYear = (db: ReadDb, formId: string, year: number): readonly TaxFormMapTable[] =>
  db.all(
    db.q
      .selectFrom('tax_form_map as l')
      .selectAll()
      .where('l.form_id', '=', formId)
      .where(
        sql<boolean>`l.from_year = (select max(z.from_year) from tax_form_map z
          where z.form_id = l.form_id and z.source = l.source and z.from_year <= ${year})`,
      ),
  );

/** Puts a source on a line from a tax year on. */
export const putMapLine = (db: WriteDb, row: TaxFormMapTable): number =>
  db.run(
    db.q
      .insertInto('tax_form_map')
      .values(row)
      .onConflict((clash) =>
        clash.columns(['form_id', 'source', 'from_year']).doUpdateSet({ line_code: row.line_code }),
      ),
  );

/** What was said of the year that begins on a day. */
export const sheetAnswers = (db: ReadDb, from: string): SheetAnswersTable | undefined =>
  db.one(db.q.selectFrom('sheet_answers').selectAll().where('from_on', '=', from));

/** The latest answers before a year: how it was done last time. */
export const answersBefore = (db: ReadDb, from: string): SheetAnswersTable | undefined =>
  db.one(
    db.q
      .selectFrom('sheet_answers')
      .selectAll()
      .where('from_on', '<', from)
      .orderBy('from_on', 'desc')
      .limit(1),
  );

/** Keeps what was said of a year, in the place of what was said before. */
export const putSheetAnswers = (db: WriteDb, row: SheetAnswersTable): number => {
  const { from_on: _, ...rest } = row;
  return db.run(
    db.q
      .insertInto('sheet_answers')
      .values(row)
      .onConflict((clash) => clash.column('from_on').doUpdateSet(rest)),
  );
};

/** Sheets handed over for a year that ends on a day, the latest first. */
export const sheetsHanded = (db: ReadDb, to: string) =>
  db.all(db.q.selectFrom('sheets_handed').selectAll().where('to_on', '=', to).orderBy('seq', 'desc'));

/** Keeps a sheet as it was handed over. */
export const insertHanded = (db: WriteDb, row: Omit<Insertable<SheetsHandedTable>, 'seq'>): number =>
  db.run(db.q.insertInto('sheets_handed').values(row));
