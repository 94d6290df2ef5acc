/** Sales as lists show them, with what each brought. */
import { missing } from '../../api/errors.ts';
import type { SaleRow } from '../../api/selling.ts';
import { contributionOf } from '../../domain/earnings.ts';
import type { ReadDb } from '../../storage/db.ts';
import { type SaleRecord, saleRecord } from '../../storage/queries/selling.ts';
import { directCosts } from '../costs/direct.ts';
import { houseOf } from '../costs/house.ts';
import { netOf, standingOf } from '../costs/net.ts';

function toRow(record: SaleRecord, directMinor: number): SaleRow {
  const gone = record.taken_back_on !== null;
  // A sale taken back is shown as it was made; of one that stands, what was credited is gone.
  const net = gone ? { ...netOf(record), taxMinor: record.tax_minor } : standingOf(record);
  return {
    id: record.id,
    on: record.on_date,
    buildId: record.build_id,
    serial: record.serial,
    title: record.title,
    modelCode: record.model_code,
    buyerId: record.buyer_id,
    buyerName: record.buyer_name,
    channelName: record.channel_name,
    priceMinor: net.priceMinor,
    shippingMinor: net.shippingMinor,
    taxMinor: net.taxMinor,
    feeMinor: record.fee_minor,
    postagePaidMinor: record.postage_paid_minor,
    contributionMinor: contributionOf({
      // A sale taken back brought what was kept of it; what was spent on it is spent.
      priceMinor: gone ? record.kept_minor : net.priceMinor,
      shippingMinor: gone ? 0 : net.shippingMinor,
      postageMinor: record.postage_paid_minor,
      feeMinor: record.fee_minor,
      directMinor: gone ? 0 : directMinor,
    }),
    minutes: record.minutes,
    invoiceId: record.invoice_id,
    invoiceNumber: record.invoice_number,
    takenBack: gone,
  };
}

/** Rows with their contribution; the costs of all knives are fetched together. */
export function saleRows(db: ReadDb, records: readonly SaleRecord[]): SaleRow[] {
  if (records.length === 0) return [];
  const costs = directCosts(
    db,
    records.map((record) => record.build_id),
    houseOf(db).decimals,
  );
  return records.map((record) => toRow(record, costs.get(record.build_id)?.directMinor ?? 0));
}

/** @throws FaultError when the sale is not in the books */
export function needSale(db: ReadDb, id: string): SaleRecord {
  const record = saleRecord(db, id);
  if (!record) throw missing('This sale is not in the books.');
  return record;
}
