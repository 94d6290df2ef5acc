/** What stands between the workshop and one buyer over a period: opening balance, what moved it, closing balance. */
import { invalid } from '../../api/errors.ts';
import type { Statement, StatementRow } from '../../api/billing.ts';
import type { Parsed } from '../../api/contract.ts';
import { sumOf } from '../../domain/integers.ts';
import { accountOf, type AccountRecord } from '../../storage/queries/billing.ts';
import type { QueryContext } from '../context.ts';
import { needBuyer } from '../selling/buyers.ts';
import { MOVED } from '../selling/payments.ts';
import { SET_OFF } from '../selling/set-off.ts';

/** Booked from one invoice to another; nobody paid. */
const goesOver = ({ method, reason, reverses_id: reverses }: AccountRecord): boolean =>
  (method === MOVED || method === SET_OFF) && reason !== '' && reverses === null;

/** Of what goes over, the number of the other invoice alone: a statement is read in its reader's language. */
const detailOf = (record: AccountRecord): string =>
  goesOver(record)
    ? record.reason.replace(/^(?:counted on|from|against) /u, '')
    : [record.method, record.reason].filter((part) => part !== '').join(', ');

function whatOf(record: AccountRecord): StatementRow['what'] {
  if (record.kind === 'credit') return 'credit';
  if (record.kind !== 'payment') return 'invoice';
  if (record.reverses_id !== null) return 'reversal';
  if (goesOver(record)) return 'moved';
  return record.amount > 0 ? 'refund' : 'payment';
}

/** @throws FaultError for a period that ends before it begins */
export function statementOf(ctx: Pick<QueryContext, 'db'>, input: Parsed<'billing.statement'>): Statement {
  const { buyerId, from, to } = input;
  if (to < from) throw invalid('The period ends before it begins. Change one of the days.', 'to');
  const buyer = needBuyer(ctx.db, buyerId);
  const account = accountOf(ctx.db, buyerId, to);
  const openingMinor = sumOf(
    account.filter((record) => record.on < from),
    (record) => record.amount,
  );
  let balanceMinor = openingMinor;
  const rows = account
    .filter((record) => record.on >= from)
    .map((record): StatementRow => {
      balanceMinor += record.amount;
      return {
        on: record.on,
        what: whatOf(record),
        invoiceId: record.invoice_id,
        number: record.number,
        detail: detailOf(record),
        amountMinor: record.amount,
        balanceMinor,
      };
    });
  return { buyerId, buyerName: buyer.name, from, to, openingMinor, rows, closingMinor: balanceMinor };
}
