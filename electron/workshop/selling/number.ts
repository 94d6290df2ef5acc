/** Numbers of invoices: gapless within a series, in the order of their days. */
import { invalid, refused } from '../../api/errors.ts';
import { formatNumber } from '../../domain/numbering.ts';
import type { ReadDb } from '../../storage/db.ts';
import { numberIsTaken, patternFor, seriesHead } from '../../storage/queries/selling-invoices.ts';

export interface InvoiceNumber {
  readonly series: string;
  readonly seriesNo: number;
  readonly number: string;
}

/** The pattern with its year and month filled in: one run of numbers. */
const seriesOf = (pattern: string, day: string): string =>
  pattern
    .replace('{YYYY}', day.slice(0, 4))
    .replace('{YY}', day.slice(2, 4))
    .replace('{MM}', day.slice(5, 7))
    .replace(/\{N+\}/, '{N}');

/** A number that will be used before the one asked for, in the same command. */
export interface PlannedNumber extends InvoiceNumber {
  readonly issuedOn: string;
}

/** What numbers are drawn from. */
export interface NumberRun {
  readonly pattern: string;
  readonly planned: readonly PlannedNumber[];
  /** Input field to name when the day does not fit. */
  readonly field: string;
}

/**
 * What numbers of a kind of paper are drawn from: its own pattern, or that of plain invoices.
 * @param field input field to name when the day does not fit
 */
export const numberRun = (
  db: ReadDb,
  kind: string,
  plainPattern: string,
  field: string,
  planned: readonly PlannedNumber[] = [],
): NumberRun => ({ pattern: patternFor(db, kind) ?? plainPattern, planned, field });

/** The highest counter and the latest day of a series, in the books or planned. */
function headOf(
  db: ReadDb,
  series: string,
  planned: readonly PlannedNumber[],
): { lastNo: number; lastOn: string | null } {
  const last = planned.filter((at) => at.series === series).at(-1);
  if (last) return { lastNo: last.seriesNo, lastOn: last.issuedOn };
  const head = seriesHead(db, series);
  return { lastNo: head?.last_no ?? 0, lastOn: head?.last_on ?? null };
}

/**
 * The number an invoice of this day gets.
 * @throws FaultError when a later invoice of the same series exists, or the pattern gives a number used before
 */
export function nextInvoiceNumber(db: ReadDb, run: NumberRun, issuedOn: string): InvoiceNumber {
  const series = seriesOf(run.pattern, issuedOn);
  const { lastNo, lastOn } = headOf(db, series, run.planned);
  if (lastOn !== null && issuedOn < lastOn) {
    throw invalid(
      `The last invoice was issued on ${lastOn}; numbers follow the days. Use that day or a later one.`,
      run.field,
    );
  }
  const number = formatNumber(run.pattern, { counter: lastNo + 1, day: issuedOn });
  if (!number.ok) throw refused(`The pattern for invoice numbers does not work: ${number.message}`);
  if (numberIsTaken(db, number.value)) {
    throw refused(
      `The number ${number.value} was used before. Choose another pattern for invoice numbers in the workshop’s details.`,
    );
  }
  return { series, seriesNo: lastNo + 1, number: number.value };
}
