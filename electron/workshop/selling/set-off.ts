/** Two invoices of one order that stand against each other: one asks for money, the other is to give some back. */
import { refused } from '../../api/errors.ts';
import type { Parsed } from '../../api/contract.ts';
import type { SetOff } from '../../api/selling.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  insertPayment,
  type InvoiceRecord,
  invoicesOfOrder,
  type PaymentRecord,
  paymentsOf,
} from '../../storage/queries/selling-invoices.ts';
import type { CommandContext } from '../context.ts';
import { needInvoice, openOf } from './invoice-rows.ts';

/** How money is said to come where two invoices are set off; nobody paid anything. */
export const SET_OFF = 'set off';

/** Why, on either of the two: the number of the other one. */
const against = ({ number }: Pick<InvoiceRecord, 'number'>): string => `against ${number}`;

/** Whether a payment is half of two invoices set off. */
export const isSetOff = (row: Pick<PaymentRecord, 'method' | 'reason'>): boolean =>
  row.method === SET_OFF && row.reason !== '';

const others = (db: ReadDb, invoice: InvoiceRecord): readonly InvoiceRecord[] =>
  invoice.order_id === null
    ? []
    : invoicesOfOrder(db, invoice.order_id)
        .filter((id) => id !== invoice.id)
        .map((id) => needInvoice(db, id));

/** The invoice of the same order whose open sum stands against that of this one, and by how much. */
export function setOffOf(db: ReadDb, invoice: InvoiceRecord): SetOff | null {
  const open = openOf(invoice);
  if (open === 0) return null;
  const other = others(db, invoice).find((one) => openOf(one) !== 0 && openOf(one) > 0 !== open > 0);
  if (other === undefined) return null;
  const minor = Math.min(Math.abs(open), Math.abs(openOf(other)));
  return { invoiceId: other.id, number: other.number, minor };
}

/** Books one against the other today, as far as both go: what is open on the two together stays as it is. */
export function setOff(ctx: CommandContext, input: Parsed<'selling.setOff'>): SetOff {
  const invoice = needInvoice(ctx.db, input.invoiceId);
  const found = setOffOf(ctx.db, invoice);
  if (found === null)
    throw refused(
      `Nothing stands against ${invoice.number} any more. Look at what is open on it now.`,
      'invoiceId',
    );
  const other = needInvoice(ctx.db, found.invoiceId);
  const [asking, giving] = openOf(invoice) > 0 ? [invoice, other] : [other, invoice];
  const row = { on_date: ctx.clock.today(), method: SET_OFF, reference: '', reverses_id: null };
  const plain = { ...row, fee_minor: 0, channel_id: null };
  const book = (to: InvoiceRecord, minor: number, from: InvoiceRecord): unknown =>
    insertPayment(ctx.db, {
      ...plain,
      ...{ id: ctx.newId(), invoice_id: to.id, amount_minor: minor, reason: against(from) },
    });
  book(giving, -found.minor, asking);
  book(asking, found.minor, giving);
  return found;
}

/** The other half of what was set off, which goes back with it. */
export function otherHalf(db: ReadDb, half: PaymentRecord): PaymentRecord | undefined {
  const invoice = needInvoice(db, half.invoice_id);
  const other = others(db, invoice).find((one) => against(one) === half.reason);
  if (other === undefined) return undefined;
  return paymentsOf(db, other.id).find(
    (row) =>
      isSetOff(row) &&
      row.reason === against(invoice) &&
      row.reverses_id === null &&
      row.reversed_by_id === null &&
      row.on_date === half.on_date &&
      row.amount_minor === -half.amount_minor,
  );
}
