/** Rows of the books as entries behind a figure of the year; shared by every family of figures. */
import type { YearEntry } from '../../api/year.ts';
import { microToMinor } from '../../domain/money.ts';
import type { ReadDb } from '../../storage/db.ts';
import type { EntryRow } from '../../storage/queries/year-entries.ts';
import type { YearFacts } from './gather.ts';
import type { SoldFact } from './gather-sales.ts';

export type Behind = readonly YearEntry[];

/** What is asked of a family of figures. */
export interface Asked {
  readonly db: ReadDb;
  readonly facts: YearFacts;
  /** What follows the figure's own name in the key. */
  readonly rest: string;
}

/** Sales of the year with what each brings to a figure. */
export const soldEntries = (facts: YearFacts, pick: (fact: SoldFact) => number): Behind =>
  facts.sold
    .map((fact): YearEntry => {
      const { sale, facts: told } = fact;
      const isNow = told.on >= facts.span.from;
      return {
        id: sale.id,
        on: isNow ? told.on : (told.takenBackOn ?? told.credits.at(-1)?.on ?? facts.span.to),
        what: `${sale.serial}, ${sale.model_name}${isNow ? '' : ' (sold before)'}`,
        who: sale.buyer_name,
        amount: pick(fact),
        href: sale.invoice_id === null ? `#/builds/${sale.build_id}` : `#/invoices/${sale.invoice_id}`,
      };
    })
    .filter((entry) => entry.amount !== 0);

/** The same, opening the sheet of each knife. */
export const costEntries = (facts: YearFacts, pick: (fact: SoldFact) => number): Behind => {
  const builds = new Map(facts.sold.map(({ sale }) => [sale.id, sale.build_id]));
  return soldEntries(facts, pick).map((entry) => ({
    ...entry,
    href: `#/builds/${builds.get(entry.id) ?? ''}/cost`,
  }));
};

const hrefOf = (row: EntryRow): string => {
  if (row.build_id !== null) return `#/builds/${row.build_id}`;
  if (row.making_id !== null) return `#/stock/makings/${row.making_id}`;
  return row.lot_id === null ? '#/hours/sessions' : `#/stock/lots/${row.lot_id}`;
};

/** Rows as the books hold them. */
export const rowsOf = (
  rows: readonly EntryRow[],
  amountOf: (amount: number) => number = (amount) => amount,
): Behind =>
  rows.map((row) => ({
    id: row.id,
    on: row.on_date,
    what: row.what,
    who: row.who,
    amount: amountOf(row.amount),
    href: hrefOf(row),
  }));

/** Knives scrapped, or kept. */
export const endedEntries = (facts: YearFacts, state: string): Behind =>
  facts.ended
    .filter((knife) => knife.state === state)
    .map((knife) => ({
      id: knife.id,
      on: knife.on,
      what: `${knife.serial}, ${knife.modelName}`,
      who: knife.reason,
      amount: knife.directMinor,
      href: `#/builds/${knife.id}/cost`,
    }));

/** Knives and makings scrapped. */
export const scrapEntries = ({ facts }: Asked): Behind => [
  ...endedEntries(facts, 'scrapped'),
  ...facts.makings.map((making) => ({
    id: making.id,
    on: making.ended_on ?? facts.span.to,
    what: making.title,
    who: making.end_reason,
    amount: microToMinor(making.value_micro, facts.decimals),
    href: `#/stock/makings/${making.id}`,
  })),
];
