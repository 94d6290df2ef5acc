/** The sheet for the preparer: gather, place on the lines, say what is missing. */
import { invalid } from '../../api/errors.ts';
import type {
  HandedSheet,
  PreparerSheet,
  SheetAnswers,
  SheetGoods,
  SheetView,
  Valuation,
} from '../../api/preparer.ts';
import { addDays } from '../../domain/calendar.ts';
import {
  changedSince,
  placeOnForm,
  type PlacedSheet,
  type SheetSource,
  tieOpening,
} from '../../domain/preparer.ts';
import { formFor, houseForms, readForYear, type TaxForm } from '../../domain/preparer-forms.ts';
import { atOnce, type Steps } from '../../domain/steps.ts';
import type { ReadDb } from '../../storage/db.ts';
import type { Span } from '../../storage/queries/expenses.ts';
import { orderTagOf } from '../../storage/queries/orders.ts';
import { answersBefore, sheetAnswers, sheetsHanded, taxForms } from '../../storage/queries/sheet.ts';
import type { QueryContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import { gatherYear, type YearFacts } from '../year/gather.ts';
import { inSteps } from '../year/steps.ts';
import { costsOf } from './costs.ts';
import { formOf, lineFinder } from './forms.ts';
import { gapsOf } from './gaps.ts';
import { goodsOf, materialsOf } from './goods.ts';
import { incomeOf } from './income.ts';
import { assetsOf, taxOf, tripsOf } from './lists.ts';
import { named } from './sources.ts';

/** A form's year is the calendar year the fiscal year begins in. */
const taxYearOf = (span: Span): number => Number(span.from.slice(0, 4));

interface Said {
  readonly answers: SheetAnswers;
  readonly answered: boolean;
}

/** What was said of the year, or what is proposed: the way of last year, else the list of the workshop's country. */
function answersOf(db: ReadDb, span: Span, country: string): Said {
  const row = sheetAnswers(db, span.from) ?? answersBefore(db, span.from);
  const mine = row?.from_on === span.from;
  const known = (id: string): boolean =>
    houseForms.some((form) => form.id === id) || taxForms(db).some((form) => form.id === id);
  return {
    answered: mine,
    answers: {
      formId: row !== undefined && known(row.form_id) ? row.form_id : formFor(country).id,
      view: (row?.view ?? 'cash') as SheetView,
      valuedAt: (row?.valued_at ?? 'cost') as Valuation,
      methodChanged: mine && row.method_changed === 1,
      lastClosingMinor: mine ? row.last_closing_minor : null,
      openingNote: mine ? row.opening_note : '',
      note: mine ? row.note : '',
    },
  };
}

/** Closing stock of the year before: as its sheet was handed over, else as the maker told it. */
function lastClosing(db: ReadDb, span: Span, answers: SheetAnswers): number | null {
  return sheetsHanded(db, addDays(span.from, -1))[0]?.closing_minor ?? answers.lastClosingMinor;
}

const goodsSources = (goods: SheetGoods): readonly SheetSource[] => {
  const same = (source: string, minor: number): SheetSource => named(source, minor, minor);
  return [
    same('goods.opening', goods.openingMinor),
    same('goods.materials', goods.materialsMinor),
    same('goods.consumables', goods.consumablesMinor),
    same('goods.personal', -goods.personalMinor),
    same('goods.closing', -goods.closingMinor),
  ];
};

interface Gathered {
  readonly placed: PlacedSheet;
  readonly goods: SheetGoods;
}

function gather(db: ReadDb, facts: YearFacts, form: TaxForm): Gathered {
  const goods = goodsOf(db, facts);
  const sources = [...incomeOf(facts), ...goodsSources(goods), ...costsOf(db, facts, goods)];
  return { placed: placeOnForm(form, sources, lineFinder(db, form, taxYearOf(facts.span))), goods };
}

function handedOf(db: ReadDb, span: Span, placed: PlacedSheet): readonly HandedSheet[] {
  return sheetsHanded(db, span.to)
    .filter((row) => row.from_on === span.from)
    .map((row) => {
      const view = row.view as SheetView;
      const lines = JSON.parse(row.lines) as readonly { readonly code: string; readonly minor: number }[];
      return {
        ...{ id: row.id, on: row.on_date, view },
        formName: formOf(db, row.form_id).name,
        changes: changedSince(lines, placed.lines, view),
      };
    });
}

function notesOf(
  form: TaxForm,
  span: Span,
  sheet: { readonly alone: boolean; readonly gone: boolean },
): readonly string[] {
  const year = taxYearOf(span);
  const readFor = readForYear(form.id);
  return [
    'This sheet prepares figures. It does not decide how anything is taxed: ask your preparer.',
    ...(readFor !== null && readFor !== year
      ? [
          `The lines are those of the form of tax year ${String(readFor)}. The form of ${String(year)} was not read: check each line against it.`,
        ]
      : []),
    'Stock is valued at cost, your own labour at zero. Wages of your own are on no line.',
    'Sales tax is in none of the figures; it is listed by itself.',
    'The cash view counts deposits on the day they come in. Purchases and postage count on their own day in both views.',
    ...(sheet.gone
      ? ['What assets that went away brought or lost is on no line; the list of assets has their proceeds.']
      : []),
    ...(sheet.alone ? ['Sales without an invoice of their own count as paid on the day of the sale.'] : []),
  ];
}

/** The sheet of one year, from what the yearly report is made of. */
function sheetFrom(db: ReadDb, facts: YearFacts, today: string): PreparerSheet {
  const { span } = facts;
  const { shop, currency, decimals } = houseOf(db);
  const { answers, answered } = answersOf(db, span, shop.country);
  const form = formOf(db, answers.formId);
  const { placed, goods } = gather(db, facts, form);
  const opening = tieOpening(goods.openingMinor, lastClosing(db, span, answers), answers.openingNote);
  const assets = assetsOf(db, facts);
  return {
    ...{ workshopName: shop.name, maker: shop.maker, currency, decimals, from: span.from, to: span.to },
    form: { id: form.id, name: form.name, note: form.note },
    ...{ answers, answered, ...placed, goods, opening },
    materials: materialsOf(db, facts, goods),
    held: facts.held.map((row) => ({
      ...{ orderId: row.id, tag: orderTagOf(row.number), buyerName: row.buyer_name, minor: row.minor },
    })),
    tax: taxOf(db, facts),
    trips: tripsOf(db, span),
    assets,
    handed: handedOf(db, span, placed),
    gaps: gapsOf(db, span, opening, placed.unplaced, today),
    notes: notesOf(form, span, {
      alone: facts.cash.receipts.some((receipt) => receipt.invoiceId === null),
      gone: assets.some((asset) => asset.disposedOn !== null),
    }),
  };
}

/** The books, and the day it is. */
type Asking = Pick<QueryContext, 'db' | 'clock'>;

function* sheetSteps({ db, clock }: Asking, span: Span): Steps<PreparerSheet> {
  const facts = yield* gatherYear(db, span);
  return sheetFrom(db, facts, clock.today());
}

function demandYear({ from, to }: Span): void {
  if (from > to) throw invalid('The year ends before it begins. Change one of the days.', 'to');
}

/**
 * The sheet of one year within a command, which nothing may come between.
 * @throws FaultError `invalid` for a year that ends before it begins
 */
export function sheetOf(ctx: Asking, { from, to }: Span): PreparerSheet {
  demandYear({ from, to });
  return atOnce(sheetSteps(ctx, { from, to }));
}

/** The same for a screen or a paper: lets other calls in while it reckons. */
export async function sheetInSteps(ctx: Asking, { from, to }: Span): Promise<PreparerSheet> {
  demandYear({ from, to });
  return inSteps(ctx.db, () => sheetSteps(ctx, { from, to }));
}
