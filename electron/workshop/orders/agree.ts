/** Agreeing an order: the terms are frozen as they stand, and the deposit is asked. */
import { invalid, refused } from '../../api/errors.ts';
import type { Parsed } from '../../api/contract.ts';
import { type AgreedTerms, depositFor } from '../../domain/deposits.ts';
import { type OrderRecord, updateOrder } from '../../storage/queries/orders.ts';
import type { CommandContext } from '../context.ts';
import { type DaysNamed, daysOnAgreeing, keepDays } from '../promises/note.ts';
import type { PlannedPaper } from '../selling/issue.ts';
import { demandTicks, parcelReminders } from '../shipping/demand.ts';
import { demandBelowPrice, keepDeposit, prepareDeposit } from './deposit.ts';
import { note, noteState } from './history.ts';
import { termsOn } from './policies.ts';
import { needOrder } from './rows.ts';
import { demandDay, demandWaiting } from './waiting.ts';

type Input = Parsed<'orders.agree'>;

export interface PreparedAgreement {
  readonly terms: AgreedTerms | undefined;
  readonly depositMinor: number;
  readonly paper: PlannedPaper | undefined;
  /** What the queue names for it, run beforehand: it takes longer than all that is written. */
  readonly days: DaysNamed | undefined;
}

function demandComplete(order: OrderRecord, input: Input): void {
  if (order.price_minor === null)
    throw refused('No price was named yet. Make an offer first, then agree it.', 'id');
  if (order.channel_id === null)
    throw refused('Say first through which channel it is paid: change the order, then agree it.', 'id');
  if (order.offered_on !== null && input.on < order.offered_on)
    throw invalid(`It was offered on ${order.offered_on}, not before. Change the date.`, 'on');
  const promised = input.promisedOn ?? order.promised_on;
  if (promised !== null && promised < input.on)
    throw invalid(
      `It is agreed on ${input.on}; it cannot be promised for a day before. Change the date.`,
      'promisedOn',
    );
}

function depositOf(ctx: CommandContext, order: OrderRecord, terms: AgreedTerms | undefined, input: Input) {
  const price = {
    priceMinor: order.price_minor ?? 0,
    optionsMinor: order.options_minor,
    specialMinor: order.special_minor,
  };
  const depositMinor = input.depositMinor ?? (terms === undefined ? 0 : depositFor(terms, price));
  if (depositMinor > 0 && terms === undefined)
    throw invalid('A deposit is agreed by a rule that says when it is given back. Choose one.', 'policyId');
  demandBelowPrice(ctx.db, order, depositMinor, 'depositMinor');
  return depositMinor;
}

/** Checks the agreement and sets the deposit's invoice; writes nothing. */
export async function prepareAgree(ctx: CommandContext, input: Input): Promise<PreparedAgreement> {
  const order = needOrder(ctx.db, input.id);
  demandWaiting(order);
  demandDay(ctx, order, input.on);
  demandComplete(order, input);
  const terms = input.policyId === null ? undefined : termsOn(ctx.db, input.policyId, input.on);
  const depositMinor = depositOf(ctx, order, terms, input);
  const wanted = input.invoice && depositMinor > 0 && terms !== undefined;
  if (input.paidBy !== '' && !wanted)
    throw invalid(
      'A payment is booked on an invoice. Issue the deposit’s invoice too, or leave the payment out.',
      'paidBy',
    );
  const asked = { on: input.on, amountMinor: depositMinor, dueOn: input.dueOn };
  return {
    terms,
    depositMinor,
    paper: wanted
      ? await prepareDeposit(ctx, order, { ...asked, depositDays: terms.depositDays, paidBy: input.paidBy })
      : undefined,
    days: daysOnAgreeing(
      ctx.db,
      { orderId: order.id, promisedOn: input.promisedOn ?? order.promised_on },
      input.on,
    ),
  };
}

/** Writes the agreement and what goes with it. */
export function agree(ctx: CommandContext, input: Input, prepared: PreparedAgreement) {
  const order = needOrder(ctx.db, input.id);
  const { terms, depositMinor, paper } = prepared;
  const parcel = { buyerId: order.buyer_id, addressId: order.address_id, abroad: order.abroad === 1 };
  demandTicks(ctx, { kind: 'order', id: order.id }, parcelReminders(ctx, parcel), input.ticks);
  const promisedOn = input.promisedOn ?? order.promised_on;
  if (promisedOn !== order.promised_on)
    note(ctx, order.id, {
      what: 'Promised for',
      before: order.promised_on ?? '',
      after: promisedOn ?? '',
      on: input.on,
    });
  updateOrder(ctx.db, order.id, {
    state: 'agreed',
    place: null,
    answer_by: null,
    agreed_on: input.on,
    promised_on: promisedOn,
    policy_id: input.policyId,
    terms: terms === undefined ? '' : JSON.stringify(terms),
    deposit_minor: depositMinor,
    last_contact_on: input.on,
  });
  noteState(ctx, order, 'agreed', input.on);
  if (prepared.days !== undefined) keepDays(ctx, prepared.days);
  const kept = paper && keepDeposit(ctx, order, paper, input.paidBy);
  return { invoiceId: kept?.invoiceId ?? null, invoiceNumber: kept?.number ?? null };
}
