/** Sales from a file: one knife a line; an invoice only where the line asks for one. */
import type { ImportCheck } from '../../api/imports.ts';
import { formatMinor } from '../../domain/money.ts';
import { buyerNames, knifeStates } from '../../storage/queries/imports.ts';
import { channelRows, taxPlaceRows } from '../../storage/queries/workshop.ts';
import { houseOf, type House } from '../costs/house.ts';
import { demandNotOrdered } from '../orders/belongs.ts';
import { admitSale } from '../releases/sold.ts';
import { reckon, type Reckoned, taxColumns } from '../selling/reckon.ts';
import { notForSale } from '../selling/sale.ts';
import { toldAfterwards } from '../shipping/demand.ts';
import type { Line } from './cells.ts';
import { NameIndex } from './named.ts';
import { noting, type PlanContext, type Planner } from './plan.ts';
import { prepareSales } from './sales-book.ts';
import type { NamedBuyer, SaleLine } from './sales-line.ts';

type Knife = ReturnType<typeof knifeStates>[number];
type Channel = ReturnType<typeof channelRows>[number];

interface Counter {
  readonly ctx: PlanContext;
  readonly house: House;
  readonly knives: NameIndex<Knife>;
  readonly buyers: NameIndex<NamedBuyer>;
  readonly newBuyers: NamedBuyer[];
  readonly channels: NameIndex<Channel>;
  /** Where a sale counts that names no channel: one without fees, if there is one. */
  readonly usualChannel: Channel | undefined;
  /** Line on which a knife is sold already in this file. */
  readonly soldOn: Map<string, number>;
  readonly makeMissing: boolean;
}

function counterOf(ctx: PlanContext, makeMissing: boolean): Counter {
  const channels = channelRows(ctx.db).filter((channel) => channel.archived === 0);
  const free = channels.find((channel) => channel.fee_ppm === 0 && channel.fee_fixed_minor === 0);
  return {
    ctx,
    house: houseOf(ctx.db),
    knives: new NameIndex(knifeStates(ctx.db), (knife) => knife.serial),
    buyers: new NameIndex<NamedBuyer>(buyerNames(ctx.db), (buyer) => buyer.name),
    newBuyers: [],
    channels: new NameIndex(channels, (channel) => channel.name),
    usualChannel: free ?? channels[0],
    soldOn: new Map(),
    makeMissing,
  };
}

function knifeOn(line: Line, counter: Counter, on: string | null): Knife | null {
  const serial = line.required('knife', 'The serial of the knife');
  if (serial === null) return null;
  const knife = counter.knives.first(serial);
  if (!knife) return line.problem('knife', `There is no knife ${serial} in the books. Check the serial.`);
  const obstacle = notForSale(knife, on ?? '9999-12-31');
  if (obstacle !== undefined) return line.problem('knife', obstacle);
  const before = counter.soldOn.get(knife.id);
  if (before !== undefined)
    return line.problem('knife', `${knife.serial} is sold on line ${before} of this file already.`);
  counter.soldOn.set(knife.id, line.line);
  return knife;
}

function buyerOn(line: Line, counter: Counter): NamedBuyer | null {
  const name = line.required('buyer', 'The buyer');
  if (name === null) return null;
  if (name.length > 200) return line.problem('buyer', 'This name is too long. Keep it under 200 characters.');
  const found = counter.buyers.find(name);
  if (found.length > 1)
    return line.problem(
      'buyer',
      `More than one buyer is called ${name}. Tell them apart in the books first.`,
    );
  const known = found[0];
  if (known && (known.id !== undefined || counter.makeMissing)) return known;
  if (!known) {
    const made: NamedBuyer = { id: undefined, name, address: '', country: '', tax_place_id: null };
    counter.buyers.add(name, made);
    counter.newBuyers.push(made);
    if (counter.makeMissing) return made;
  }
  return line.problem(
    'buyer',
    `The buyer “${name}” is not in the books. Enter them first, or let what is missing be made.`,
  );
}

function channelOn(line: Line, counter: Counter): Channel | null {
  const name = line.text('channel');
  if (name === '')
    return (
      counter.usualChannel ??
      line.problem('channel', 'There is no way of selling in the books. Enter one first.')
    );
  return (
    counter.channels.first(name) ??
    line.problem('channel', `The channel “${name}” is not in the books. Enter it first, or leave it out.`)
  );
}

interface Amounts {
  readonly priceMinor: number;
  readonly shippingMinor: number;
}

/** Home first: that is where most taxed buyers live. */
const placesToTry = (counter: Counter, buyer: NamedBuyer): (string | null)[] => {
  const home = counter.house.shop.home_tax_place_id;
  return [...new Set([buyer.tax_place_id, home, ...taxPlaceRows(counter.ctx.db).map((place) => place.id)])];
};

/** The place whose rule gives the tax charged, to the cent either way; tax is kept as charged. */
function taxPlaceOn(
  line: Line,
  counter: Counter,
  buyer: NamedBuyer,
  amounts: Amounts,
): { placeId: string | null; taxMinor: number } | null {
  const taxMinor = line.minor('tax', counter.house.decimals, 0);
  if (taxMinor === null) return null;
  if (taxMinor === 0) return { placeId: null, taxMinor };
  const gap = (id: string | null): number =>
    Math.abs(taxColumns(counter.ctx.db, id, amounts.priceMinor, amounts.shippingMinor).tax_minor - taxMinor);
  const placeId = placesToTry(counter, buyer).find((id) => id !== null && gap(id) <= 1);
  if (placeId !== undefined) return { placeId, taxMinor };
  const written = formatMinor(taxMinor, counter.house.currency);
  return line.problem(
    'tax',
    `No tax place in the books gives a tax of ${written} on this sale. Check the amount, or enter the place first.`,
  );
}

const YES = /^(?:y|yes|x|1|true|ja|oui)$/i;
const NO = /^(?:|n|no|0|false|nein|non|-)$/i;

function invoiceOn(line: Line): boolean | null {
  const typed = line.text('invoice');
  if (YES.test(typed)) return true;
  return NO.test(typed) ? false : line.problem('invoice', `“${typed}” is neither yes nor no.`);
}

/** As the line says; where it says nothing, a buyer known to live in another country. */
function abroadOn(line: Line, counter: Counter, buyer: NamedBuyer): boolean | null {
  const typed = line.text('abroad');
  if (typed === '') return buyer.country !== '' && buyer.country !== counter.house.shop.country;
  if (YES.test(typed)) return true;
  return NO.test(typed) ? false : line.problem('abroad', `“${typed}” is neither yes nor no.`);
}

function paidByOn(line: Line, invoice: boolean | null): string | null {
  const paidBy = line.text('paidBy').slice(0, 200);
  return paidBy !== '' && invoice === false
    ? line.problem(
        'paidBy',
        'A payment is booked on an invoice. Say yes under “Issue invoice”, or leave the payment out.',
      )
    : paidBy;
}

function reckonOn(
  line: Line,
  counter: Counter,
  parts: { channel: Channel; buyer: NamedBuyer; knife: Knife },
): Omit<SaleLine, 'on' | 'invoice' | 'paidBy'> | null {
  const { decimals, currency } = counter.house;
  const priceMinor = line.minor('price', decimals);
  const shippingMinor = line.minor('shipping', decimals, 0);
  const postagePaidMinor = line.minor('postage', decimals, 0);
  const feeMinor = line.text('fee') === '' ? undefined : line.minor('fee', decimals);
  if (priceMinor === null || shippingMinor === null || postagePaidMinor === null) return null;
  const abroad = abroadOn(line, counter, parts.buyer);
  if (feeMinor === null || abroad === null) return null;
  const tax = taxPlaceOn(line, counter, parts.buyer, { priceMinor, shippingMinor });
  if (!tax) return null;
  const amounts = {
    priceMinor,
    shippingMinor,
    postagePaidMinor,
    abroad,
    ...(feeMinor === undefined ? {} : { feeMinor }),
  };
  const terms = { ...amounts, buildId: parts.knife.id, channelId: parts.channel.id, taxPlaceId: tax.placeId };
  const reckoned = noting(line, 'price', (): Reckoned => reckon(counter.ctx.db, terms, currency));
  return (
    reckoned && {
      line: line.line,
      serial: parts.knife.serial,
      buildId: parts.knife.id,
      flaw: parts.knife.flaw,
      channelId: parts.channel.id,
      channelName: parts.channel.name,
      buyer: parts.buyer,
      priceMinor,
      shippingMinor,
      postagePaidMinor,
      feeMinor: reckoned.feeMinor,
      abroad,
      tax: { ...reckoned.tax, tax_minor: tax.taxMinor },
    }
  );
}

/** @throws FaultError for a knife that is made to order, held, or kept for others by a release */
function demandHis(ctx: PlanContext, knife: Knife, buyer: NamedBuyer, on: string): true {
  const buyerId = buyer.id ?? '';
  demandNotOrdered(ctx.db, knife.id, buyerId);
  admitSale(ctx, { buildId: knife.id, buyerId, on });
  return true;
}

function readLine(line: Line, counter: Counter): SaleLine | null {
  const on = line.date('date', counter.ctx.clock.today());
  const knife = knifeOn(line, counter, on);
  const buyer = buyerOn(line, counter);
  const channel = channelOn(line, counter);
  const invoice = invoiceOn(line);
  const paidBy = paidByOn(line, invoice);
  if (!knife || !buyer || !channel || on === null || invoice === null || paidBy === null) return null;
  if (noting(line, 'knife', () => demandHis(counter.ctx, knife, buyer, on)) === null) return null;
  const reckoned = reckonOn(line, counter, { channel, buyer, knife });
  return reckoned && { ...reckoned, on, invoice, paidBy };
}

function wordsOf(line: SaleLine, currency: string): string {
  const money = (minor: number): string => formatMinor(minor, currency);
  const extra = [
    line.shippingMinor === 0 ? '' : `shipping ${money(line.shippingMinor)}`,
    line.tax.tax_minor === 0 ? '' : `tax ${money(line.tax.tax_minor)}`,
    line.feeMinor === 0 ? '' : `fee ${money(line.feeMinor)}`,
    line.abroad ? 'abroad' : '',
    line.invoice ? 'with an invoice' : '',
  ].filter((part) => part !== '');
  const what = `${line.on}: ${line.serial} to ${line.buyer.name} for ${money(line.priceMinor)} through ${line.channelName}`;
  return [what, ...extra].join(', ');
}

/** What the table of places and listed material would have asked before it left; it left, so nothing is ticked. */
function doubtsOf(ctx: PlanContext, { serial, buyer, buildId, abroad }: SaleLine): readonly string[] {
  if (buyer.id === undefined) return [];
  const parcel = { buyerId: buyer.id, addressId: null, buildId, abroad };
  return toldAfterwards(ctx, parcel).map(({ text }) => `${serial} to ${buyer.name}. ${text}`);
}

/** Reads and books sales. */
export function salesPlanner(ctx: PlanContext, makeMissing: boolean): Planner<SaleLine> {
  const counter = counterOf(ctx, makeMissing);
  return {
    read: (line) => readLine(line, counter),
    words: (line) => wordsOf(line, counter.house.currency),
    doubts: (line) => doubtsOf(ctx, line),
    wouldMake: (): ImportCheck['wouldMake'] => counter.newBuyers.map(({ name }) => ({ what: 'buyer', name })),
    prepare: (run, lines) => prepareSales(run, lines),
  };
}
