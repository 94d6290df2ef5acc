/**
 * Cost of goods two ways, and the bridge between them. By count: opening + bought − closing, as a stocktaker reckons.
 * By use: what the sheets of the knives sold and scrapped say. They differ by whatever entered knives without leaving
 * stock, and by whatever left stock without entering a knife. Every line is a sum of the ledger of its own, in millionths
 * of the currency unit; only rounding the sheets to the minor unit is left over.
 */

/** Stock at cost at the end of a day, micro. */
export interface StockMicro {
  /** On the rack; supplies that are an expense when bought left out. */
  readonly rack: number;
  readonly opened: number;
  readonly baths: number;
  readonly makings: number;
  readonly work: number;
  readonly finished: number;
}

export const totalOf = (at: StockMicro): number =>
  at.rack + at.opened + at.baths + at.makings + at.work + at.finished;

/** Movements and charges of the year, micro; out of stock is below zero. */
export interface GoodsFlows {
  /** By what it was: `receipt`, `return`, `knife`, `making`, `opened`, `intoBath`, `count`, `personal`, `sample`, … */
  readonly stock: ReadonlyMap<string, number>;
  /** Supplies without stock that knives took all the same, above zero. */
  readonly looseKnife: number;
  /** Such supplies bought, less what was sent or taken back. */
  readonly looseBought: number;
  /** Charges on knives by what stands behind them. */
  readonly charges: Readonly<
    Record<'flatConsumable' | 'flatEnergy' | 'flatOther' | 'burn' | 'bath' | 'count', number>
  >;
}

interface GoodsInput {
  readonly opening: StockMicro;
  readonly closing: StockMicro;
  readonly flows: GoodsFlows;
  readonly soldMicro: number;
  readonly scrapKnivesMicro: number;
  readonly scrapMakingsMicro: number;
  /** Knives kept or given away, at cost. */
  readonly keptMicro: number;
}

export type BridgeKey =
  | 'supplies'
  | 'energy'
  | 'otherCharges'
  | 'fires'
  | 'baths'
  | 'openings'
  | 'makings'
  | 'loose'
  | 'counts'
  | 'outside'
  | 'kept'
  | 'rounding';

/** Movements that bring goods in, send them back or belong to a line of their own. */
const LINED = ['receipt', 'return', 'knife', 'making', 'opened', 'intoBath', 'count'];

/**
 * Goods bought for stock, freight shared onto them in it, less what went back to a supplier and receipts that were taken
 * back; supplies that are an expense when bought are apart. By the ledger, each on its own day. Micro.
 */
export const boughtFor = ({ stock }: Pick<GoodsFlows, 'stock'>): number =>
  (stock.get('receipt') ?? 0) + (stock.get('return') ?? 0);

/** Both costs of goods and the lines between them, micro. @returns lines that are not zero, in a fixed order */
export function costOfGoods(input: GoodsInput) {
  const { opening, closing, flows } = input;
  const of = (what: string): number => flows.stock.get(what) ?? 0;
  const byCount = totalOf(opening) + boughtFor(flows) - totalOf(closing);
  const byUse = input.soldMicro + input.scrapKnivesMicro + input.scrapMakingsMicro;
  const outside = [...flows.stock].filter(([what]) => !LINED.includes(what)).reduce((so, [, v]) => so + v, 0);
  const lines: [BridgeKey, number][] = [
    ['supplies', flows.charges.flatConsumable],
    ['energy', flows.charges.flatEnergy],
    ['otherCharges', flows.charges.flatOther],
    ['fires', flows.charges.burn],
    ['baths', flows.charges.bath + of('intoBath') + closing.baths - opening.baths],
    ['openings', of('opened') + closing.opened - opening.opened],
    ['makings', of('making') + closing.makings - opening.makings + input.scrapMakingsMicro],
    ['loose', flows.looseKnife],
    ['counts', flows.charges.count + of('count')],
    ['outside', outside],
    ['kept', -input.keptMicro],
  ];
  const known = lines.reduce((so, [, micro]) => so + micro, 0);
  lines.push(['rounding', byUse - byCount - known]);
  return { byCount, byUse, lines: lines.filter(([, micro]) => micro !== 0) };
}
