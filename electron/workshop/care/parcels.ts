/** Parcels of sold knives: where they go, what is in them, what they weigh, and who carries them. */
import type { Parcel, ParcelDraft, ParcelLine } from '../../api/care.ts';
import type { Parsed } from '../../api/contract.ts';
import { invalid, missing, refused } from '../../api/errors.ts';
import { addressText } from '../../domain/addresses.ts';
import { sumOf } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import { addressesOf, type ParcelAddress, parcelKnife } from '../../storage/queries/parcel-facts.ts';
import type { SaleRecord } from '../../storage/queries/selling.ts';
import {
  carriersUsed,
  countShipments,
  insertShipment,
  lastContents,
  lastParcelOfModel,
  type ShipmentRecord,
  shipmentRecord,
  shipmentRows,
  updateShipment,
  weighedAt,
} from '../../storage/queries/shipments.ts';
import type { CommandContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import { netOf } from '../costs/net.ts';
import type { HandlerFor } from '../handlers.ts';
import { demandHoldable } from '../selling/reckon.ts';
import { notInFuture } from '../selling/sale.ts';
import { needSale } from '../selling/sale-rows.ts';
import { bookActuals } from '../selling/sell.ts';
import { demandTicks, parcelReminders } from '../shipping/demand.ts';

const readContents = (text: string): readonly ParcelLine[] => JSON.parse(text) as readonly ParcelLine[];

/** A parcel as lists and pages show it. @param home country of the workshop, two letters */
const toParcel = (record: ShipmentRecord, home: string): Parcel => ({
  id: record.id,
  saleId: record.sale_id,
  buildId: record.build_id,
  serial: record.serial,
  title: record.title === '' ? record.model_name : record.title,
  buyerId: record.buyer_id,
  buyerName: record.buyer_name,
  on: record.on_date,
  address: record.address,
  country: record.country,
  abroad: record.abroad === 1 || (record.country !== '' && record.country !== home),
  carrier: record.carrier,
  tracking: record.tracking,
  weightNg: record.weight_ng,
  insuredMinor: record.insured_minor,
  contents: readContents(record.contents),
  note: record.note,
  cancelledOn: record.cancelled_on,
});

const homeOf = (db: ReadDb): string => houseOf(db).shop.country;

/** @throws FaultError when the parcel is not in the books */
export function needParcel(db: ReadDb, id: string): Parcel {
  const record = shipmentRecord(db, id);
  if (!record) throw missing('This parcel is not in the books.');
  return toParcel(record, homeOf(db));
}

/** A page of parcels. */
export const parcels: HandlerFor<'care.parcels'> = (ctx, { text, saleId, buildId, limit, offset }) => {
  const filter = { text, saleId, buildId };
  const home = homeOf(ctx.db);
  const rows = shipmentRows(ctx.db, filter, { limit, offset });
  return { rows: rows.map((row) => toParcel(row, home)), total: countShipments(ctx.db, filter) };
};

/** What the wrapping of the last parcel of this model weighed: all of it less what was in it. */
function wrappingOf(db: ReadDb, modelId: string): number | null {
  const last = lastParcelOfModel(db, modelId);
  if (last?.weight_ng == null) return null;
  const lines = readContents(last.contents);
  if (lines.some((line) => line.weightNg === null)) return null;
  return last.weight_ng - sumOf(lines, (line) => line.weightNg ?? 0);
}

/** The knife as the first line: customs words, tariff number and origin as written last for its model, else for any. */
function firstLine(db: ReadDb, sale: SaleRecord, weightNg: number | null): ParcelLine {
  const knife = parcelKnife(db, sale.build_id);
  const before = [knife && lastParcelOfModel(db, knife.model_id)?.contents, lastContents(db)]
    .flatMap((text) => (text === undefined ? [] : readContents(text)))
    .find((line) => line.customs !== '');
  const name = sale.title === '' ? sale.model_name : sale.title;
  return {
    what: `${name}, serial ${sale.serial}`,
    customs: before?.customs ?? 'Hand-made knife with a fixed blade',
    qty: 1,
    weightNg,
    valueMinor: netOf(sale).priceMinor,
    tariff: before?.tariff ?? '',
    origin: before?.origin ?? homeOf(db),
  };
}

const toChoice = (address: ParcelAddress, home: string): ParcelDraft['addresses'][number] => ({
  id: address.id,
  label: address.label === '' ? 'Invoice address' : address.label,
  lines: [address.recipient, addressText(address, home)].filter((part) => part !== '').join('\n'),
  country: address.country,
});

/** What to begin a parcel with. */
export const parcelDraft: HandlerFor<'care.parcelDraft'> = (ctx, { saleId }): ParcelDraft => {
  const { db } = ctx;
  const sale = needSale(db, saleId);
  const home = homeOf(db);
  const weighed = weighedAt(db, sale.build_id) ?? null;
  const wrapping = wrappingOf(db, parcelKnife(db, sale.build_id)?.model_id ?? '');
  const line = firstLine(db, sale, weighed);
  return {
    saleId,
    buildId: sale.build_id,
    serial: sale.serial,
    title: sale.title === '' ? sale.model_name : sale.title,
    buyerId: sale.buyer_id,
    buyerName: sale.buyer_name,
    abroad: sale.abroad === 1,
    soldOn: sale.on_date,
    addresses: addressesOf(db, sale.buyer_id).map((address) => toChoice(address, home)),
    addressId: sale.address_id,
    weightNg: weighed === null || wrapping === null ? null : weighed + wrapping,
    insuredMinor: line.valueMinor,
    contents: [line],
    postagePaidMinor: sale.postage_paid_minor,
    carriers: carriersUsed(db),
  };
};

type PackInput = Parsed<'care.pack'>;

function demandPacked(ctx: CommandContext, sale: SaleRecord, input: PackInput): void {
  notInFuture(ctx, input.on, 'on');
  if (sale.taken_back_on !== null)
    throw refused(`The sale of ${sale.serial} was taken back; nothing is sent for it any more.`, 'saleId');
  if (input.on < sale.on_date)
    throw invalid(
      `${sale.serial} was sold on ${sale.on_date}; a parcel for it cannot be older. Change the day.`,
      'on',
    );
  const inside = sumOf(input.contents, (line) => line.weightNg ?? 0);
  if (input.weightNg !== null && inside > input.weightNg)
    throw invalid('What is in the box weighs more than the whole parcel. Check the weights.', 'weightNg');
  const { decimals } = houseOf(ctx.db);
  demandHoldable({ postagePaidMinor: input.postagePaidMinor ?? 0 }, decimals);
}

/** The address as it stands on the label. @throws FaultError when it is unknown or says nothing */
function addressFor(
  db: ReadDb,
  sale: SaleRecord,
  addressId: string | null,
): ParcelAddress & { text: string } {
  const address = addressesOf(db, sale.buyer_id).find((one) => one.id === addressId);
  if (!address) throw invalid(`${sale.buyer_name} has no such address. Choose another.`, 'addressId');
  const lines = addressText(address, homeOf(db));
  if (lines === '')
    throw invalid(
      `No address of ${sale.buyer_name} is written down. Enter it on their page first.`,
      'addressId',
    );
  return { ...address, text: `${address.recipient}\n${lines}` };
}

/** Writes down a parcel as it leaves, with the postage paid where it is known. */
export function pack(ctx: CommandContext, input: PackInput): Parcel {
  const sale = needSale(ctx.db, input.saleId);
  demandPacked(ctx, sale, input);
  const address = addressFor(ctx.db, sale, input.addressId);
  const id = ctx.newId();
  const { buyer_id: buyerId, build_id: buildId } = sale;
  const { addressId } = input;
  const reminders = parcelReminders(ctx, { buyerId, addressId, buildId, abroad: sale.abroad === 1 });
  demandTicks(ctx, { kind: 'shipment', id }, reminders, input.ticks);
  insertShipment(ctx.db, {
    id,
    sale_id: sale.id,
    on_date: input.on,
    address: address.text,
    country: address.country,
    carrier: input.carrier,
    tracking: input.tracking,
    weight_ng: input.weightNg,
    insured_minor: input.insuredMinor,
    contents: JSON.stringify(input.contents),
    note: input.note,
    cancelled_on: null,
  });
  const { postagePaidMinor } = input;
  if (postagePaidMinor !== undefined && postagePaidMinor !== sale.postage_paid_minor) {
    const reason = 'As paid for the parcel';
    bookActuals(ctx, { saleId: sale.id, postagePaidMinor, feeMinor: sale.fee_minor, reason });
  }
  return needParcel(ctx.db, id);
}

/** Writes down carrier, number and note once they are known. */
export function changeParcel(ctx: CommandContext, input: Parsed<'care.changeParcel'>): Parcel {
  const before = needParcel(ctx.db, input.id);
  if (before.cancelledOn !== null) throw refused('This parcel was called off. Make a new one.', 'carrier');
  const { carrier, tracking, note } = input;
  updateShipment(ctx.db, before.id, { carrier, tracking, note });
  return needParcel(ctx.db, before.id);
}

/** Calls a parcel off: it was not sent, or came back undelivered. The sale stays. */
export function cancelParcel(ctx: CommandContext, input: Parsed<'care.cancelParcel'>): Parcel {
  const before = needParcel(ctx.db, input.id);
  notInFuture(ctx, input.on, 'on');
  if (before.cancelledOn !== null) throw refused('This parcel was called off already.', 'on');
  if (input.on < before.on)
    throw invalid(`The parcel is of ${before.on} and cannot be called off before. Change the day.`, 'on');
  const note = before.note === '' ? input.reason : `${before.note}\n${input.reason}`;
  updateShipment(ctx.db, before.id, { cancelled_on: input.on, note });
  return needParcel(ctx.db, before.id);
}
