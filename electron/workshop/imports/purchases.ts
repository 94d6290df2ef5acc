/** Purchases from a file: lines of one day, supplier and reference become one purchase. */
import type { ImportCheck } from '../../api/imports.ts';
import { usuallyFallsBy } from '../../domain/ladder.ts';
import { formatMicro } from '../../domain/money.ts';
import { formatQuantity, parseQuantity } from '../../domain/quantity.ts';
import type { Form, UnitCode } from '../../domain/units.ts';
import { itemNames, supplierNames } from '../../storage/queries/imports.ts';
import { houseOf } from '../costs/house.ts';
import type { CommandContext } from '../context.ts';
import { purchaseBooker, type PurchaseInput } from '../stock/buy.ts';
import { saveItem } from '../stock/items.ts';
import { saveSupplier } from '../stock/suppliers.ts';
import type { Line } from './cells.ts';
import { NameIndex } from './named.ts';
import { kindOf, type Measure, measureOf } from './new-items.ts';
import { atLine, type Booked, type PlanContext, type Planner } from './plan.ts';

interface Named {
  readonly name: string;
  /** Undefined until it is made. */
  readonly id: string | undefined;
}

interface NamedItem extends Named, Measure {}

export interface PurchaseLine {
  readonly line: number;
  readonly on: string;
  readonly supplier: Named;
  readonly item: NamedItem;
  readonly pieces: number;
  readonly qtyEach: number;
  readonly priceMicro: number;
  readonly freightMicro: number;
  readonly heat: string;
  readonly reference: string;
}

const LONGEST_NAME = 200;
const MOST_PIECES = 10_000;

interface Shelf {
  readonly suppliers: NameIndex<Named>;
  readonly items: NameIndex<NamedItem>;
  readonly newSuppliers: Named[];
  readonly newItems: NamedItem[];
  readonly makeMissing: boolean;
}

function shelfOf(ctx: PlanContext, makeMissing: boolean): Shelf {
  const items = itemNames(ctx.db).map(({ id, name, form, unit, piece_word }): NamedItem => ({
    id,
    name,
    form: form as Form,
    unit: unit as UnitCode,
    pieceWord: piece_word,
  }));
  return {
    suppliers: new NameIndex<Named>(supplierNames(ctx.db), ({ name }) => name),
    items: new NameIndex(items, ({ name }) => name),
    newSuppliers: [],
    newItems: [],
    makeMissing,
  };
}

const unknown = (line: Line, field: string, what: string, name: string): null =>
  line.problem(
    field,
    `The ${what} “${name}” is not in the books. Enter it first, or let what is missing be made.`,
  );

function supplierOn(line: Line, shelf: Shelf): Named | null {
  const name = line.required('supplier', 'The supplier');
  if (name === null) return null;
  const known = shelf.suppliers.first(name);
  if (known && (known.id !== undefined || shelf.makeMissing)) return known;
  if (name.length > LONGEST_NAME)
    return line.problem('supplier', 'This name is too long. Keep it under 200 characters.');
  if (!known) {
    const made: Named = { name, id: undefined };
    shelf.suppliers.add(name, made);
    shelf.newSuppliers.push(made);
    if (shelf.makeMissing) return made;
  }
  return unknown(line, 'supplier', 'supplier', name);
}

function newItem(line: Line, shelf: Shelf, name: string): NamedItem | null {
  if (name.length > LONGEST_NAME)
    return line.problem('item', 'This name is too long. Keep it under 200 characters.');
  const measure = line.take('quantity', measureOf(line.plainNumber(line.text('quantity')) ?? ''));
  if (!measure) return null;
  const made: NamedItem = { name, id: undefined, ...measure };
  shelf.items.add(name, made);
  shelf.newItems.push(made);
  return made;
}

function itemOn(line: Line, shelf: Shelf): NamedItem | null {
  const name = line.required('item', 'The item');
  if (name === null) return null;
  const item = shelf.items.first(name) ?? newItem(line, shelf, name);
  return item?.id === undefined && !shelf.makeMissing ? unknown(line, 'item', 'item', name) : item;
}

function quantityOn(line: Line, item: NamedItem): number | null {
  const typed = line.required('quantity', 'The quantity');
  if (typed === null) return null;
  const plain = line.plainNumber(typed);
  if (plain === undefined)
    return line.problem('quantity', `“${typed}” does not fit the decimal sign chosen for this file.`);
  const word = item.pieceWord === '' ? {} : { word: item.pieceWord };
  return (
    line.take('quantity', parseQuantity(plain, item.form, item.unit, { zero: false, ...word }))?.base ?? null
  );
}

function piecesOn(line: Line): number | null {
  const typed = line.text('pieces');
  if (typed === '') return 1;
  const pieces = /^\d{1,6}$/.test(typed) ? Number(typed) : 0;
  if (pieces < 1 || pieces > MOST_PIECES)
    return line.problem('pieces', `“${typed}” is not a number of pieces from 1 to 10,000.`);
  return pieces;
}

function readLine(line: Line, shelf: Shelf, today: string): PurchaseLine | null {
  const on = line.date('date', today);
  const supplier = supplierOn(line, shelf);
  const item = itemOn(line, shelf);
  const pieces = piecesOn(line);
  const qtyEach = item && quantityOn(line, item);
  const priceMicro = line.micro('price');
  const freightMicro = line.micro('freight', 0);
  if (on === null || !supplier || !item || pieces === null || qtyEach === null) return null;
  if (priceMicro === null || freightMicro === null) return null;
  const texts = {
    heat: line.text('heat').slice(0, LONGEST_NAME),
    reference: line.text('reference').slice(0, LONGEST_NAME),
  };
  return { line: line.line, on, supplier, item, pieces, qtyEach, priceMicro, freightMicro, ...texts };
}

const keyOf = (line: PurchaseLine): string =>
  [line.on, line.supplier.name.toLowerCase(), line.reference].join('\n');

/** Purchases in the order of their days; lines keep the order of the file. */
function grouped(lines: readonly PurchaseLine[]): PurchaseLine[][] {
  const groups = new Map<string, PurchaseLine[]>();
  for (const line of lines) {
    const group = groups.get(keyOf(line));
    if (group) group.push(line);
    else groups.set(keyOf(line), [line]);
  }
  return [...groups.values()].sort((a, b) =>
    (a[0]?.on ?? '') < (b[0]?.on ?? '') ? -1 : (a[0]?.on ?? '') > (b[0]?.on ?? '') ? 1 : 0,
  );
}

/** Makes what is missing and answers the id of anything named. */
function makeNew(
  ctx: CommandContext,
  shelf: Shelf,
  used: readonly PurchaseLine[],
): { idOf: (thing: Named) => string; made: number } {
  const ids = new Map<Named, string>();
  const wanted = new Set<Named>(used.flatMap((line) => [line.supplier, line.item]));
  for (const supplier of shelf.newSuppliers.filter((each) => wanted.has(each))) {
    const blank = { email: '', phone: '', website: '', leadDays: 0, note: '', archived: false };
    ids.set(supplier, saveSupplier.run(ctx, { name: supplier.name, ...blank }, undefined).id);
  }
  for (const item of shelf.newItems.filter((each) => wanted.has(each)))
    ids.set(item, saveItem.run(ctx, blankItem(item), undefined).id);
  const idOf = (thing: Named): string => thing.id ?? ids.get(thing) ?? '';
  return { idOf, made: ids.size };
}

const blankItem = ({ name, form, unit, pieceWord }: NamedItem, kind = kindOf(name, form)) => ({
  name,
  kind,
  form,
  unit,
  pieceWord,
  costing: 'fifo' as const,
  usefulRemnant: 0,
  kerfNm: 0,
  thicknessNm: null,
  widthNm: null,
  densityMilli: null,
  supplierId: null,
  lowLevel: 0,
  note: '',
  archived: false,
  consumedBy: usuallyFallsBy(kind),
  gritScale: null,
  grit: '',
  backing: '',
  incidental: false,
});

const asPurchase = (
  lines: readonly PurchaseLine[],
  idOf: (thing: Named) => string,
): PurchaseInput | undefined => {
  const first = lines[0];
  return (
    first && {
      supplierId: idOf(first.supplier),
      on: first.on,
      reference: first.reference,
      freightMicro: lines.reduce((so, line) => so + line.freightMicro, 0),
      freightRule: 'spread',
      note: '',
      lines: lines.map(({ item, pieces, qtyEach, priceMicro, heat }) => ({
        itemId: idOf(item),
        pieces,
        qtyEach,
        priceMicro,
        heatNumber: heat,
        place: '',
      })),
    }
  );
};

function book(ctx: CommandContext, shelf: Shelf, lines: readonly PurchaseLine[]): Booked {
  const { idOf, made } = makeNew(ctx, shelf, lines);
  const buy = purchaseBooker(ctx);
  for (const group of grouped(lines)) {
    const purchase = asPurchase(group, idOf);
    if (purchase) atLine(group[0]?.line ?? 0, () => buy(purchase));
  }
  return { booked: lines.length, made };
}

const wordsOf = (line: PurchaseLine, currency: string): string => {
  const { form, unit, pieceWord, name } = line.item;
  const each = formatQuantity(line.qtyEach, form, unit, pieceWord === '' ? {} : { word: pieceWord });
  const count = line.pieces === 1 ? '' : `${line.pieces} × `;
  return `${line.on}, ${line.supplier.name}: ${count}${each} of ${name} for ${formatMicro(line.priceMicro, currency)}`;
};

/** Reads and books purchases. */
export function purchasePlanner(ctx: PlanContext, makeMissing: boolean): Planner<PurchaseLine> {
  const { currency } = houseOf(ctx.db);
  const shelf = shelfOf(ctx, makeMissing);
  const today = ctx.clock.today();
  return {
    read: (line) => readLine(line, shelf, today),
    words: (line) => wordsOf(line, currency),
    wouldMake: (): ImportCheck['wouldMake'] => [
      ...shelf.newSuppliers.map(({ name }) => ({ what: 'supplier' as const, name })),
      ...shelf.newItems.map(({ name }) => ({ what: 'item' as const, name })),
    ],
    prepare: (_ctx, lines) => Promise.resolve((run) => book(run, shelf, lines)),
  };
}
