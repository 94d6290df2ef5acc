/** The first view of a price: what it has to be for the hour to bring the rate wished for; and what a named price brings. */
import type {
  QuoteAsked,
  QuoteHours,
  QuotePart,
  QuoteRate,
  QuoteReckoning,
  QuoteView,
} from '../../api/quotes.ts';
import { minutesText } from '../../domain/durations.ts';
import { type Brought, broughtBy, floorPrice, type FloorTerms } from '../../domain/floor-price.ts';
import { mulDiv, sumOf } from '../../domain/integers.ts';
import { formatMicro, MICRO_DECIMALS } from '../../domain/money.ts';
import { feeWords } from '../costs/fee-words.ts';
import type { House } from '../costs/house.ts';
import type { Charges } from './charges.ts';
import type { Goods } from './goods.ts';

const MINUTES_OF_HOUR = 60;

/** What a price is held against. */
export interface Bill {
  readonly house: House;
  readonly asked: QuoteAsked;
  readonly charges: Charges;
  readonly hours: QuoteHours;
  readonly goods: Goods;
  readonly labour: QuoteRate;
  readonly overhead: QuoteRate;
  readonly optionsMinor: number;
}

/** Minutes at an hourly rate, rounded once to the minor unit. */
const atRate = (minutes: number, perHourMicro: number, decimals: number): number =>
  mulDiv(perHourMicro, minutes, MINUTES_OF_HOUR * 10 ** (MICRO_DECIMALS - decimals));

/** Attended minutes of the knife itself. */
const minutesOf = ({ hours }: Bill): number => hours.minutes + hours.extraMinutes;

function goodsParts({ goods, asked }: Bill): QuotePart[] {
  const lines =
    asked.directMinor === null
      ? goods.lines
      : [{ label: 'Goods', how: 'as you wrote', minor: asked.directMinor }];
  const extra = { label: 'More goods than usual', how: 'as you wrote', minor: asked.extraCostMinor };
  return [...lines, ...(asked.extraCostMinor === 0 ? [] : [extra])];
}

function workParts(bill: Bill): QuotePart[] {
  const { house, labour, overhead, goods } = bill;
  const rate = (micro: number): string => formatMicro(micro, house.currency);
  const made = {
    label: `Hours in material made here, ${minutesText(goods.madeMinutes)}`,
    how: `at ${rate(labour.perHourMicro)} an hour`,
    minor: atRate(goods.madeMinutes, labour.perHourMicro, house.decimals),
  };
  return [
    {
      label: `Your hours and the overhead, ${minutesText(minutesOf(bill))}`,
      how: `at ${rate(labour.perHourMicro)} an hour (${labour.how}) and ${rate(overhead.perHourMicro)} of overhead (${overhead.how})`,
      minor: atRate(minutesOf(bill), labour.perHourMicro + overhead.perHourMicro, house.decimals),
    },
    ...(goods.madeMinutes === 0 ? [] : [made]),
  ];
}

/** Postage, fee, tax and the shipping that is charged for, at a price. */
function aroundParts({ charges, house, asked }: Bill, brought: Brought): QuotePart[] {
  const { channel, place } = charges;
  const inside = place.inclusive === 1 ? brought.taxMinor : 0;
  const shipping = brought.netMinor - brought.netPriceMinor;
  const again =
    channel.fee_fixed_minor === 0 ? '' : '; a deposit is a charge of its own and costs the fixed part again';
  return [
    { label: 'Postage', how: charges.postageHow, minor: charges.postageMinor },
    { label: 'Shipping charged, taken off', how: charges.shippingHow, minor: -shipping },
    {
      label: `Fee of ${channel.name}, on the whole charge`,
      how: `${feeWords(channel, brought.grossMinor, asked.abroad, house.currency)}${again}`,
      minor: brought.feeMinor,
    },
    ...(inside === 0 ? [] : [{ label: `${place.label} in the price`, how: place.name, minor: inside }]),
  ];
}

/** Lines that add up to a price; what is left of rounding is a line too. */
function closed(parts: readonly QuotePart[], priceMinor: number): QuotePart[] {
  const rest = priceMinor - sumOf(parts, (part) => part.minor);
  return rest === 0
    ? [...parts]
    : [...parts, { label: 'Rounding', how: 'tax and fee are whole cents', minor: rest }];
}

const termsFor = ({ charges }: Bill, spent: readonly QuotePart[]): FloorTerms => ({
  ...charges.terms,
  spentMinor: sumOf(spent, (part) => part.minor),
});

/** The least price that pays goods, posting, fee and every hour at the rate wished for. */
export function floorView(bill: Bill): QuoteView {
  const spent = [...goodsParts(bill), ...workParts(bill)];
  const terms = termsFor(bill, spent);
  const found = floorPrice(terms);
  if (!found.ok) return { totalMinor: null, priceMinor: null, how: found.message, parts: spent };
  const brought = broughtBy(terms, found.value);
  const other = bill.optionsMinor + bill.asked.specialMinor;
  return {
    totalMinor: found.value,
    priceMinor: Math.max(0, found.value - other),
    how: 'The least at which goods, posting and fee are paid and every hour brings your rate and its overhead.',
    parts: closed([...spent, ...aroundParts(bill, brought)], found.value),
  };
}

/** The floor at both ends of a guess of the hours; nothing without one. */
export function floorSpan(bill: Bill): Pick<QuoteReckoning, 'floorSpan'> {
  const { guess } = bill.hours;
  if (guess === undefined) return {};
  const at = (minutes: number): number | null =>
    floorView({ ...bill, hours: { ...bill.hours, minutes } }).totalMinor;
  return { floorSpan: { leastMinor: at(guess.leastMinutes), mostMinor: at(guess.mostMinutes) } };
}

/** What a price named for the knife leaves; null while none is named. */
export function namedOf(bill: Bill): QuoteReckoning['named'] {
  const { asked, optionsMinor, overhead, house } = bill;
  if (asked.priceMinor === null) return null;
  const totalMinor = asked.priceMinor + optionsMinor + asked.specialMinor;
  const spent = goodsParts(bill);
  const brought = broughtBy(termsFor(bill, spent), totalMinor);
  const minutes = minutesOf(bill) + bill.goods.madeMinutes;
  const overheadMinor = atRate(minutesOf(bill), overhead.perHourMicro, house.decimals);
  return {
    totalMinor,
    netMinor: brought.netMinor,
    taxMinor: brought.taxMinor,
    grossMinor: brought.grossMinor,
    feeMinor: brought.feeMinor,
    leftMinor: brought.leftMinor,
    perHourMinor: minutes === 0 ? null : mulDiv(brought.leftMinor - overheadMinor, MINUTES_OF_HOUR, minutes),
    parts: [...spent, ...aroundParts(bill, brought)],
  };
}
