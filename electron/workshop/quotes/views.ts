/** The other three views of a price: the line through own prices by size, the list price, what the last ones went for. */
import type { QuoteAsked, QuotePart, QuoteReckoning, QuoteView } from '../../api/quotes.ts';
import { bladeText } from '../../domain/blade.ts';
import { daysBetween } from '../../domain/calendar.ts';
import { mulDiv } from '../../domain/integers.ts';
import { formatMinor } from '../../domain/money.ts';
import { type PriceLine, priceAt, priceLine, sizesIn, SIZES_FOR_LINE } from '../../domain/price-line.ts';
import { TOO_FEW } from '../../domain/spread.ts';
import { taxOn } from '../../domain/tax.ts';
import type { ReadDb } from '../../storage/db.ts';
import { type KnifeSold, knivesSold } from '../../storage/queries/quotes.ts';
import { standingOf } from '../costs/net.ts';
import { listPrice } from '../ways/prices.ts';
import type { Charges } from './charges.ts';
import { spreadIn } from './past.ts';
import type { Wish } from './wish.ts';

const NM_OF_MM = 1_000_000;
/** Sales a line is drawn through at most, newest first. */
const FOR_LINE = 60;
/** Sales that tell what the market gives now. */
const LAST = 10;

export interface Viewed {
  readonly asked: QuoteAsked;
  readonly wish: Wish;
  readonly charges: Charges;
  readonly currency: string;
  /** Whether the workshop thinks in inches. */
  readonly inches: boolean;
  readonly today: string;
  readonly optionsMinor: number;
}

/** Options and special material as they come on top. */
const onTop = ({ asked }: Viewed): QuotePart[] => [
  ...asked.options.map(({ name, priceMinor }) => ({ label: name, how: 'option', minor: priceMinor })),
  ...(asked.specialMinor === 0
    ? []
    : [{ label: 'Special material', how: 'bought for this knife alone', minor: asked.specialMinor }]),
];

function viewOf(viewed: Viewed, price: QuotePart | null, how: string): QuoteView {
  if (price === null) return { totalMinor: null, priceMinor: null, how, parts: [] };
  return {
    totalMinor: price.minor + viewed.optionsMinor + viewed.asked.specialMinor,
    priceMinor: price.minor,
    how,
    parts: [price, ...onTop(viewed)],
  };
}

/** A price without tax as the place counts prices. */
const asCounted = ({ terms }: Charges, netMinor: number): number =>
  terms.tax.inclusive ? netMinor + taxOn(netMinor, terms.tax.ratePpm, false) : netMinor;

/** What a knife went for without tax, credits, options and special material: these come on top of a quote by themselves. */
function knifeAlone(sale: KnifeSold): number {
  const { priceMinor } = standingOf(sale);
  if (sale.beside_minor === 0 || sale.price_minor === 0) return priceMinor;
  return mulDiv(priceMinor, sale.price_minor - sale.beside_minor, sale.price_minor);
}

const millimetres = (nm: number): number => nm / NM_OF_MM;

type Sized = KnifeSold & { readonly blade_nm: number };
const isSized = (sale: KnifeSold): sale is Sized => sale.blade_nm !== null;

/** Sales of knives in the finish wished for where they show enough sizes, else all. */
function salesForLine(db: ReadDb, { wish, charges }: Viewed) {
  const toPoint = (sale: Sized) => ({
    serial: sale.serial,
    finish: sale.finish,
    sizeMm: millimetres(sale.blade_nm),
    priceMinor: asCounted(charges, knifeAlone(sale)),
  });
  const all = knivesSold(db, { limit: FOR_LINE }).filter(isSized).map(toPoint);
  const { finish } = wish.likeness;
  const like = all.filter((one) => finish !== '' && one.finish.toLowerCase() === finish.toLowerCase());
  const own = sizesIn(like) >= SIZES_FOR_LINE;
  const sales = (own ? like : all).map(({ serial, sizeMm, priceMinor }) => ({ serial, sizeMm, priceMinor }));
  return { sales, which: own ? `in the finish “${finish}”` : 'in any finish' };
}

function beyond({ leastMm, mostMm }: PriceLine, sizeMm: number, inches: boolean): string {
  const size = (mm: number): string => bladeText(Math.round(mm * NM_OF_MM), inches);
  return sizeMm < leastMm || sizeMm > mostMm
    ? ` This size lies outside of your own, ${size(leastMm)} to ${size(mostMm)}: a guess.`
    : '';
}

const MM_OF_INCH = 25.4;

/** The line in words: what a knife starts from, and what each bit of blade adds. */
function lineWords({ line }: PriceLine, { currency, inches }: Viewed): string {
  const money = (amount: number): string => formatMinor(Math.round(amount), currency, { symbol: true });
  const each = `${money(inches ? line.slope * MM_OF_INCH : line.slope)} for each ${inches ? 'inch' : 'millimetre'} of blade`;
  return line.intercept < 0
    ? `${each}, less ${money(-line.intercept)}`
    : `${money(line.intercept)} and ${each} on top`;
}

/** A line through own prices by size. */
export function lineView(db: ReadDb, viewed: Viewed): QuoteReckoning['line'] {
  const { sales, which } = salesForLine(db, viewed);
  const line = priceLine(sales);
  const { bladeNm } = viewed.wish.likeness;
  const none = (how: string) => ({ ...viewOf(viewed, null, how), sales });
  const sizes = sizesIn(sales);
  if (sizes < SIZES_FOR_LINE)
    return none(
      `Too few to say: your knives sold show ${sizes === 0 ? 'no' : String(sizes)} ${sizes === 1 ? 'size' : 'sizes'}, and a line needs ${String(SIZES_FOR_LINE)}. Write blade lengths on your models.`,
    );
  if (line === undefined) return none('Your prices do not rise with the size, so no line says anything.');
  if (bladeNm === null) return none('Write how long the blade is to be, and the line can be read.');
  const sizeMm = millimetres(bladeNm);
  const minor = priceAt(line, sizeMm);
  if (minor <= 0) return none('The line gives nothing for a blade of this size.');
  const words = lineWords(line, viewed);
  const how = `The line that fits your prices by size: ${words}. It stands on ${String(sales.length)} knives sold ${which}, in ${String(line.sizes)} sizes, and is the middle of the slopes between any two of them, so that one odd price hardly moves it.${beyond(line, sizeMm, viewed.inches)}`;
  const label = `A blade of ${bladeText(bladeNm, viewed.inches)}`;
  return {
    ...viewOf(viewed, { label, how: 'read from the line', minor }, how),
    sales,
  };
}

/** List price and options. */
export function baseView(db: ReadDb, viewed: Viewed): QuoteView {
  const found = listPrice(db, viewed.wish.model.id, viewed.today);
  if (found === undefined)
    return viewOf(viewed, null, `${viewed.wish.model.name} has no list price; it goes by quote.`);
  const price = { label: 'List price', how: found.how, minor: found.minor };
  return viewOf(viewed, price, 'Your list price with the options on top.');
}

function lastSold(db: ReadDb, { model }: Wish) {
  const own = knivesSold(db, { limit: LAST, modelId: model.id });
  if (own.length > 0 || model.family === '') return { sold: own, what: 'of this model' };
  return { sold: knivesSold(db, { limit: LAST, family: model.family }), what: 'of the family' };
}

/** What the last ones went for, and how long they lay. */
export function fetchedView(db: ReadDb, viewed: Viewed): QuoteReckoning['fetched'] {
  const { sold, what } = lastSold(db, viewed.wish);
  const sales = sold.map((sale) => ({
    serial: sale.serial,
    on: sale.on_date,
    priceMinor: asCounted(viewed.charges, knifeAlone(sale)),
    days:
      sale.order_id !== null || sale.finished_on === null
        ? null
        : Math.max(0, daysBetween(sale.finished_on, sale.on_date)),
  }));
  const spread = spreadIn(sales.map((sale) => sale.priceMinor));
  const days = spreadIn(sales.flatMap((sale) => sale.days ?? []));
  if (spread === null) return { ...viewOf(viewed, null, 'None was sold yet.'), sales, spread, days };
  const few = spread.knives < TOO_FEW ? ' Too few to say how they spread.' : '';
  const how = `The middle of the last ${spread.knives === 1 ? 'one' : String(spread.knives)} ${what} sold, without tax, options and special material, seconds left out.${few}`;
  const price = {
    label: `Middle of the last ${spread.knives === 1 ? 'one' : String(spread.knives)}`,
    how: what,
    minor: spread.middle,
  };
  return { ...viewOf(viewed, price, how), sales, spread, days };
}
