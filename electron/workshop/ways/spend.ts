/** Material, packaging and posting still to spend on a knife, at what it would cost to buy today. */
import type { WayPart } from '../../api/ways.ts';
import { stillToTake } from '../../domain/buying.ts';
import { mulDiv } from '../../domain/integers.ts';
import { microToMinor } from '../../domain/money.ts';
import { quantilesOf } from '../../domain/quantiles.ts';
import { groupBy } from '../../domain/groups.ts';
import type { ReadDb } from '../../storage/db.ts';
import { lastBought } from '../../storage/queries/buying.ts';
import { lastMade } from '../../storage/queries/quotes.ts';
import {
  flatsStillToCharge,
  lastPosted,
  partsStillToTake,
  type PartToTake,
} from '../../storage/queries/ways.ts';
import { netOf } from '../costs/net.ts';

/** Where things are spent: while the knife is made, or only when it is sold. */
const whenSold = 'packaging';

interface Asked {
  readonly modelId: string;
  readonly buildId: string;
  readonly decimals: number;
}

function partSpend(db: ReadDb, part: PartToTake, decimals: number): WayPart | undefined {
  const bought = lastBought(db, part.item_id);
  const qty = stillToTake(part, bought?.qty_each ?? null);
  if (qty === 0) return undefined;
  if (bought !== undefined) {
    const micro = mulDiv(bought.paid_micro, qty, bought.pieces * bought.qty_each);
    const how = `${part.item_name} at the price paid last, freight included`;
    return { label: part.label, how, minor: microToMinor(micro, decimals) };
  }
  const made = lastMade(db, part.item_id);
  if (made === undefined)
    return { label: part.label, how: `${part.item_name}: never bought, so its price is not known`, minor: 0 };
  const micro = mulDiv(made.value_received_micro, qty, made.qty_received);
  const how = `${part.item_name}, made here, at what the last one cost`;
  return { label: part.label, how, minor: microToMinor(micro, decimals) };
}

/** The model's steel is what the knife is made of already; a knife that took any takes no more of another bar. */
const hasBlade = (part: PartToTake, blade: boolean): boolean => blade && part.per_bar !== null;

/** Parts and usual costs of a model that a knife has not taken yet; packaging is left to the sale. */
export function materialAhead(db: ReadDb, asked: Asked): readonly WayPart[] {
  const parts = partsStillToTake(db, asked.modelId, asked.buildId);
  const blade = parts.some((part) => part.per_bar !== null && part.taken > 0);
  const goods = parts
    .filter((part) => part.use_as !== whenSold && !hasBlade(part, blade))
    .flatMap((part) => partSpend(db, part, asked.decimals) ?? []);
  const flats = flatsStillToCharge(db, asked.modelId, asked.buildId)
    .filter((flat) => flat.use_as !== whenSold)
    .map((flat) => ({
      label: flat.label,
      how: 'usual cost of the model, not booked yet',
      minor: microToMinor(flat.amount_micro, asked.decimals),
    }));
  // Many belts make a long list nobody reads; they are one line with their names in the working.
  const byLabel = groupBy([...goods, ...flats], (part) => part.label);
  return [...byLabel].map(([label, own]) => ({
    label,
    how: own.map((part) => part.how).join('; '),
    minor: own.reduce((sum, part) => sum + part.minor, 0),
  }));
}

/** How knives were posted lately, in the middle and without tax; zero of none. */
export function usualPosting(db: ReadDb) {
  const posted = lastPosted(db).map((sale) => {
    const { shippingMinor } = netOf(sale);
    return { shippingMinor, gap: sale.postage_paid_minor - shippingMinor };
  });
  const middle = (values: readonly number[]): number =>
    values.length === 0 ? 0 : Math.round(quantilesOf(values, [0.5])[0] ?? 0);
  return {
    sales: posted.length,
    shippingMinor: middle(posted.map((one) => one.shippingMinor)),
    gapMinor: middle(posted.map((one) => one.gap)),
  };
}

/** Packaging and the postage beyond what the buyer is charged. */
export function sellingAhead(db: ReadDb, asked: Asked): readonly WayPart[] {
  const packaging = partsStillToTake(db, asked.modelId, asked.buildId)
    .filter((part) => part.use_as === whenSold)
    .flatMap((part) => partSpend(db, part, asked.decimals) ?? []);
  const { sales, gapMinor } = usualPosting(db);
  if (sales === 0) return packaging;
  return [
    ...packaging,
    {
      label: 'Posting',
      how: `postage beyond what was charged, middle of the last ${String(sales)} sales`,
      minor: gapMinor,
    },
  ];
}
