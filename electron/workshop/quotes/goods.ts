/** Goods for one knife of a model at what they would cost today: each line rounded as on a cost sheet. */
import type { QuotePart } from '../../api/quotes.ts';
import type { Use } from '../../api/stock.ts';
import { stillToTake } from '../../domain/buying.ts';
import { buildCostSheet, type SheetLine } from '../../domain/cost-sheet.ts';
import { mulDiv, sumOf } from '../../domain/integers.ts';
import { groupBy } from '../../domain/groups.ts';
import { formatMicro } from '../../domain/money.ts';
import { formatQuantity } from '../../domain/quantity.ts';
import type { Form } from '../../domain/units.ts';
import type { ReadDb } from '../../storage/db.ts';
import { lastBought } from '../../storage/queries/buying.ts';
import { modelFlatRows, type ModelPartRow, modelPartRows } from '../../storage/queries/models.ts';
import { lastMade } from '../../storage/queries/quotes.ts';
import { makingOutputs } from '../../storage/queries/makings.ts';
import type { House } from '../costs/house.ts';
import { byUse, type Placed } from '../costs/lines.ts';
import { labourOfMaking } from '../makings/labour.ts';

interface Priced {
  readonly valueMicro: number;
  /** What and how much of it. */
  readonly what: string;
  /** Where its price comes from. */
  readonly source: string;
}

export interface Goods {
  readonly lines: readonly QuotePart[];
  readonly minor: number;
  /** Minutes that come along in material made here. */
  readonly madeMinutes: number;
  /** Names of what nobody knows the price of. */
  readonly unknown: readonly string[];
}

const amountText = (part: ModelPartRow, qty: number, currency: string): string => {
  if (part.form === 'worth') return formatMicro(qty, currency, 4);
  const word = part.piece_word === '' ? {} : { word: part.piece_word };
  return formatQuantity(qty, part.form as Form, part.unit as Parameters<typeof formatQuantity>[2], word);
};

/** Minutes of a making that came with so much of one of its lots. */
function minutesWith(db: ReadDb, lot: NonNullable<ReturnType<typeof lastMade>>, qty: number): number {
  const at = makingOutputs(db, lot.making_id).findIndex((output) => output.lot_id === lot.id);
  const minutes = labourOfMaking(db, lot.making_id).byLot[at] ?? 0;
  return mulDiv(minutes, Math.min(qty, lot.qty_received), lot.qty_received);
}

interface PartPrice {
  readonly placed: Placed<Priced>;
  readonly minutes: number;
  readonly unknown: string;
}

function partPrice(db: ReadDb, part: ModelPartRow, currency: string): PartPrice {
  const bought = lastBought(db, part.item_id);
  const qty = stillToTake({ ...part, taken: 0 }, bought?.qty_each ?? null);
  const place = (entry: Priced): Placed<Priced> => ({ use: part.use_as as Use, line: part.label, entry });
  const what = `${part.item_name}, ${amountText(part, qty, currency)}`;
  if (bought !== undefined) {
    const valueMicro = mulDiv(bought.paid_micro, qty, bought.pieces * bought.qty_each);
    const source = 'at the price paid last with its freight';
    return { placed: place({ valueMicro, what, source }), minutes: 0, unknown: '' };
  }
  const made = lastMade(db, part.item_id);
  if (made === undefined)
    return {
      placed: place({ valueMicro: 0, what, source: 'never bought, so its price is not known' }),
      minutes: 0,
      unknown: part.item_name,
    };
  return {
    placed: place({
      valueMicro: mulDiv(made.value_received_micro, qty, made.qty_received),
      what,
      source: 'made here, at what the last one cost',
    }),
    minutes: minutesWith(db, made, qty),
    unknown: '',
  };
}

/** Things of one source are named together, so that ten belts do not say ten times where their price comes from. */
const toPart = (line: SheetLine, entries: readonly Priced[]): QuotePart => ({
  label: line.label,
  how: [...groupBy(entries, (entry) => entry.source)]
    .map(([source, own]) => `${own.map((entry) => entry.what).join('; ')}: ${source}`)
    .join('. '),
  minor: line.amountMinor,
});

/** Everything a new knife of a model takes, packaging too. */
export function goodsOf(db: ReadDb, modelId: string, { currency, decimals }: House): Goods {
  const parts = modelPartRows(db, modelId).map((part) => partPrice(db, part, currency));
  const flats = modelFlatRows(db, modelId).map((flat): Placed<Priced> => ({
    use: flat.use_as as Use,
    line: flat.label,
    entry: { valueMicro: flat.amount_micro, what: flat.label, source: 'the model’s usual cost' },
  }));
  const uses = byUse([...parts.map((part) => part.placed), ...flats]);
  const materials = [...uses.materials].map(([label, entries]) => ({ label, entries }));
  const sheet = buildCostSheet({
    decimals,
    materials,
    consumables: uses.consumable,
    energy: uses.energy,
    packaging: uses.packaging,
    stages: [],
  });
  const lines = [
    ...sheet.materials.map((line, at) => toPart(line, materials[at]?.entries ?? [])),
    toPart(sheet.consumables, uses.consumable),
    toPart(sheet.energy, uses.energy),
    toPart(sheet.packaging, uses.packaging),
  ].filter((line) => line.how !== '');
  return {
    lines,
    minor: sheet.directMinor,
    madeMinutes: sumOf(parts, (part) => part.minutes),
    unknown: parts.flatMap((part) => (part.unknown === '' ? [] : [part.unknown])),
  };
}
