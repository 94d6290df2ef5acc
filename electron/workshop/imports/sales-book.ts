/** Books the sales of a file, oldest first, and issues the invoices asked for in the order of their days. */
import { buyerRecord, insertBuyer } from '../../storage/queries/selling.ts';
import type { SalesTable } from '../../storage/schema-selling.ts';
import type { CommandContext } from '../context.ts';
import type { InvoicedBuyer } from '../selling/compose.ts';
import type { PlannedNumber } from '../selling/number.ts';
import { type PlannedPaper, setPaper } from '../selling/issue.ts';
import { planInvoice } from '../selling/plan.ts';
import { writeSale } from '../selling/sell.ts';
import { atLine, type Writer } from './plan.ts';
import type { NamedBuyer, SaleLine } from './sales-line.ts';

interface Prepared {
  readonly line: SaleLine;
  readonly sale: SalesTable;
  readonly paper: PlannedPaper | undefined;
}

type BuyerIds = ReadonlyMap<NamedBuyer, string>;

const saleOf = (ctx: CommandContext, line: SaleLine, buyerIds: BuyerIds): SalesTable => ({
  id: ctx.newId(),
  build_id: line.buildId,
  buyer_id: buyerIds.get(line.buyer) ?? '',
  channel_id: line.channelId,
  on_date: line.on,
  price_minor: line.priceMinor,
  shipping_minor: line.shippingMinor,
  ...line.tax,
  abroad: line.abroad ? 1 : 0,
  fee_minor: line.feeMinor,
  postage_paid_minor: line.postagePaidMinor,
  taken_back_on: null,
  order_id: null,
  release_id: null,
  deposit_fee_minor: 0,
  flaw: line.flaw,
  address_id: null,
  kept_minor: 0,
});

/** A buyer of the books as they stand there, or one this file makes. */
function invoicedBuyer(ctx: CommandContext, named: NamedBuyer, id: string): InvoicedBuyer {
  const known = named.id === undefined ? undefined : buyerRecord(ctx.db, named.id);
  if (known) return known;
  const { name, address, country } = named;
  return { id, name, address, city: '', region: '', postcode: '', country, tax_number: '', language: '' };
}

async function paperOf(
  ctx: CommandContext,
  line: SaleLine,
  sale: SalesTable,
  planned: PlannedNumber[],
): Promise<PlannedPaper> {
  const terms = {
    invoiceId: ctx.newId(),
    issuedOn: line.on,
    paidBy: line.paidBy,
    madeAt: ctx.clock.now(),
    fields: { issuedOn: 'text' },
    planned,
  };
  const buyer = invoicedBuyer(ctx, line.buyer, sale.buyer_id);
  const plan = atLine(line.line, () => planInvoice(ctx.db, sale, terms, buyer));
  const { series, series_no: seriesNo, number } = plan.row;
  planned.push({ series, seriesNo, number, issuedOn: line.on });
  return setPaper(ctx, plan);
}

const byDay = (a: SaleLine, b: SaleLine): number => (a.on < b.on ? -1 : a.on > b.on ? 1 : a.line - b.line);

function makeBuyer(ctx: CommandContext, buyer: NamedBuyer, id: string): void {
  const { name, address, country, tax_place_id } = buyer;
  insertBuyer(ctx.db, {
    id,
    name,
    email: '',
    phone: '',
    address,
    country,
    tax_place_id,
    note: '',
    archived: 0,
  });
}

/** Sets the papers; answers what writes everything. */
export async function prepareSales(ctx: CommandContext, lines: readonly SaleLine[]): Promise<Writer> {
  const buyerIds = new Map<NamedBuyer, string>();
  for (const { buyer } of lines) if (!buyerIds.has(buyer)) buyerIds.set(buyer, buyer.id ?? ctx.newId());
  const planned: PlannedNumber[] = [];
  const prepared: Prepared[] = [];
  for (const line of lines.toSorted(byDay)) {
    const sale = saleOf(ctx, line, buyerIds);
    prepared.push({ line, sale, paper: line.invoice ? await paperOf(ctx, line, sale, planned) : undefined });
  }
  return (run) => {
    const made = [...buyerIds].filter(([buyer]) => buyer.id === undefined);
    for (const [buyer, id] of made) makeBuyer(run, buyer, id);
    for (const { line, sale, paper } of prepared)
      atLine(line.line, () => writeSale(run, { sale, paper }, line.paidBy));
    return { booked: prepared.length, made: made.length };
  };
}
