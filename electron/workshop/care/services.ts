/** Sharpening, repair and warranty: what came in, what was done, when it went back, and what was asked for it. */
import type { Service, ServiceTerms } from '../../api/care.ts';
import type { Parsed } from '../../api/contract.ts';
import { invalid, missing, refused } from '../../api/errors.ts';
import { freeReason, USUAL_FREE_MONTHS } from '../../domain/service-terms.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  countServices,
  insertService,
  lastServicePrice,
  type ServiceRecord,
  serviceRecord,
  serviceRows,
  standingSale,
  updateService,
} from '../../storage/queries/services.ts';
import { needBuild } from '../builds/touch.ts';
import type { CommandContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import type { HandlerFor } from '../handlers.ts';
import { needBuyer } from '../selling/buyers.ts';
import { demandHoldable } from '../selling/reckon.ts';
import { notInFuture } from '../selling/sale.ts';
import { freeMonthsOf } from './settings.ts';

function stateOf(record: ServiceRecord): Service['state'] {
  if (record.cancelled_on !== null) return 'cancelled';
  if (record.sent_on !== null) return 'sent';
  return record.done_on === null ? 'here' : 'done';
}

/** Serial and name of an own knife, or what was written about another. */
function knifeWords(record: ServiceRecord): string {
  if (record.serial === null) return record.knife;
  return [record.serial, record.title === '' ? record.model_name : record.title].join(' ');
}

/** A service as lists and pages show it. */
export const toService = (record: ServiceRecord): Service => ({
  id: record.id,
  buildId: record.build_id,
  knife: knifeWords(record),
  buyerId: record.buyer_id,
  buyerName: record.buyer_name ?? '',
  kind: record.kind as Service['kind'],
  receivedOn: record.received_on,
  doneOn: record.done_on,
  sentOn: record.sent_on,
  cancelledOn: record.cancelled_on,
  state: stateOf(record),
  note: record.note,
  priceMinor: record.price_minor,
  postagePaidMinor: record.postage_paid_minor,
  invoiceId: record.invoice_id,
  invoiceNumber: record.invoice_number,
});

/** @throws FaultError when the service is not in the books */
export function needService(db: ReadDb, id: string): ServiceRecord {
  const record = serviceRecord(db, id);
  if (!record) throw missing('This service is not in the books.');
  return record;
}

/** A page of services. */
export const services: HandlerFor<'care.services'> = (ctx, input) => {
  const { text, buildId, buyerId } = input;
  const filter = { text, buildId, buyerId, here: input.state === 'here' };
  return { rows: serviceRows(ctx.db, filter, input).map(toService), total: countServices(ctx.db, filter) };
};

const free = (record: ServiceRecord): boolean =>
  record.kind === 'sharpening' && record.price_minor === 0 && record.cancelled_on === null;

const monthsInWords = (months: number): string =>
  months === USUAL_FREE_MONTHS ? 'a year' : months === 1 ? 'a month' : `${String(months)} months`;

/** What to propose for a service: free within the first months once, else what was asked last. */
export const serviceTerms: HandlerFor<'care.serviceTerms'> = (ctx, { buildId, kind, on }): ServiceTerms => {
  const lastPriceMinor = lastServicePrice(ctx.db, kind) ?? null;
  const sale = buildId === null ? undefined : standingSale(ctx.db, buildId);
  if (buildId === null || sale === undefined) return { free: false, why: '', lastPriceMinor, buyerId: null };
  const before = serviceRows(ctx.db, { buildId }).filter(
    (row) => free(row) && row.received_on >= sale.on_date,
  );
  const months = freeMonthsOf(ctx.db);
  const known = { soldOn: sale.on_date, receivedOn: on, freeBefore: before.length };
  const reason = freeReason(kind, known, months);
  const [last] = before;
  const why = {
    firstYear: `Sold on ${sale.on_date}, within ${monthsInWords(months)}: the first sharpening is usually free.`,
    warranty: `Sold on ${sale.on_date}. A fault of the work is usually put right free; what the buyer was promised decides.`,
    none: last === undefined ? '' : `It was sharpened free on ${last.received_on} already.`,
  };
  return {
    free: reason !== null,
    why: why[reason ?? 'none'],
    lastPriceMinor,
    buyerId: sale.buyer_id,
  };
};

type ServiceInput = Parsed<'care.saveService'>;

/** The days follow each other, and none is still to come. */
function demandDays(ctx: CommandContext, input: ServiceInput): void {
  notInFuture(ctx, input.receivedOn, 'receivedOn');
  const steps = [
    ['doneOn', input.doneOn, 'done'],
    ['sentOn', input.sentOn, 'sent back'],
  ] as const;
  let before = { on: input.receivedOn, words: 'came in' };
  for (const [field, on, words] of steps) {
    if (on === null) continue;
    notInFuture(ctx, on, field);
    if (on < before.on)
      throw invalid(
        `It ${before.words} on ${before.on} and cannot be ${words} before. Change one of the days.`,
        field,
      );
    before = { on, words: `was ${words}` };
  }
}

function demandKnife(ctx: CommandContext, input: ServiceInput): void {
  if (input.buildId === null) {
    if (input.knife === '')
      throw invalid('Choose the knife, or write what knife of another hand it is.', 'knife');
    return;
  }
  const build = needBuild(ctx.db, input.buildId);
  if (build.state === 'planned' || build.state === 'inWork')
    throw refused(
      `${build.serial} is not finished yet: work on it goes on its own sheet, not on a service.`,
      'buildId',
    );
}

/** What an issued invoice says of a service stays as it is. */
function demandUnbilled(before: ServiceRecord, input: ServiceInput): void {
  if (before.cancelled_on !== null)
    throw refused('This service was called off. Enter a new one.', 'receivedOn');
  if (before.invoice_number === null) return;
  const same =
    before.price_minor === input.priceMinor &&
    before.buyer_id === input.buyerId &&
    before.kind === input.kind;
  if (!same)
    throw refused(
      `Invoice ${before.invoice_number} is issued for it: who pays, how much and what for cannot be changed. Take the invoice back first.`,
      'priceMinor',
    );
}

/** Enters or changes a service. */
export function saveService(ctx: CommandContext, input: ServiceInput): Service {
  demandKnife(ctx, input);
  demandDays(ctx, input);
  if (input.buyerId !== null) needBuyer(ctx.db, input.buyerId);
  const { priceMinor, postagePaidMinor } = input;
  demandHoldable({ priceMinor, postagePaidMinor }, houseOf(ctx.db).decimals);
  const row = {
    build_id: input.buildId,
    buyer_id: input.buyerId,
    knife: input.buildId === null ? input.knife : '',
    kind: input.kind,
    received_on: input.receivedOn,
    done_on: input.doneOn,
    sent_on: input.sentOn,
    note: input.note,
    price_minor: priceMinor,
    postage_paid_minor: postagePaidMinor,
  };
  const id = input.id ?? ctx.newId();
  if (input.id === undefined) insertService(ctx.db, { id, ...row, cancelled_on: null });
  else {
    demandUnbilled(needService(ctx.db, id), input);
    updateService(ctx.db, id, row);
  }
  return toService(needService(ctx.db, id));
}

/** Calls a service off: entered by mistake, or the knife went back untouched. */
export function cancelService(ctx: CommandContext, input: Parsed<'care.cancelService'>): Service {
  const before = needService(ctx.db, input.id);
  notInFuture(ctx, input.on, 'on');
  if (before.cancelled_on !== null) throw refused('This service was called off already.', 'on');
  if (before.invoice_number !== null)
    throw refused(
      `Invoice ${before.invoice_number} is issued for it. Take the invoice back first.`,
      'reason',
    );
  if (input.on < before.received_on)
    throw invalid(
      `It came in on ${before.received_on} and cannot be called off before. Change the day.`,
      'on',
    );
  const note = before.note === '' ? input.reason : `${before.note}\n${input.reason}`;
  updateService(ctx.db, before.id, { cancelled_on: input.on, note });
  return toService(needService(ctx.db, before.id));
}
