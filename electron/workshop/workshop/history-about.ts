/** What a journal entry is about: the knife, buyer, lot or invoice its input names, in words. */
import type { ReadDb } from '../../storage/db.ts';
import {
  type NamedKind,
  type NamedThing,
  namedThings,
  salesOfBuilds,
} from '../../storage/queries/history-names.ts';

/** An entry with its input read back. */
export interface ReadEntry {
  readonly command: string;
  readonly input: unknown;
}

const inOrder: readonly NamedKind[] = [
  'build',
  'sale',
  'order',
  'invoice',
  'buyer',
  'making',
  'heat',
  'lot',
  'item',
  'purchase',
  'supplier',
  'model',
  'house',
];

/** More of one kind are counted, not listed. */
const LISTED = 4;

/** Keys that hold the id of something in the books: `id`, `buildId`, `buildIds`, … */
const holdsIds = (key: string): boolean => key === 'id' || /Ids?$/.test(key);

/** Every id an input names, at any depth, in the order written. */
function idsIn(value: unknown, key = ''): string[] {
  if (typeof value === 'string') return holdsIds(key) ? [value] : [];
  if (Array.isArray(value)) return value.flatMap((each) => idsIn(each, key));
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([own, each]) => idsIn(each, own));
}

const textAt = (input: unknown, key: string): string => {
  const value: unknown =
    typeof input === 'object' && input !== null ? new Map(Object.entries(input)).get(key) : '';
  return typeof value === 'string' ? value : '';
};

const nameList = (names: readonly string[]): string => {
  const [...shown] = new Set(names);
  const more = shown.length - LISTED;
  return more > 0 ? `${shown.slice(0, LISTED).join(', ')} and ${more} more` : shown.join(', ');
};

function words(things: readonly NamedThing[]): string {
  const byKind = inOrder.map((kind) => things.filter((thing) => thing.kind === kind));
  return byKind
    .filter((same) => same.length > 0)
    .map((same) => nameList(same.map((thing) => thing.name)))
    .join(', ');
}

/** The sales that entries booked, by knife and day: their inputs cannot name the invoice issued in the same step. */
function salesBooked(db: ReadDb, entries: readonly ReadEntry[]): (entry: ReadEntry) => string | undefined {
  const sold = entries.filter(({ command }) => command === 'selling.sell');
  const rows = salesOfBuilds(
    db,
    sold.map(({ input }) => textAt(input, 'buildId')),
  );
  return ({ command, input }) => {
    if (command !== 'selling.sell') return undefined;
    const row = rows.find(
      (sale) => sale.build_id === textAt(input, 'buildId') && sale.on_date === textAt(input, 'on'),
    );
    return row && [row.serial, row.buyer, ...(row.number === null ? [] : [row.number])].join(', ');
  };
}

/** Says of each entry what it is about; an empty text where nothing it names bears a name. */
export function aboutEntries(db: ReadDb, entries: readonly ReadEntry[]): (entry: ReadEntry) => string {
  const things = namedThings(
    db,
    entries.flatMap(({ input }) => idsIn(input)),
  );
  const sale = salesBooked(db, entries);
  return (entry) => sale(entry) ?? words(idsIn(entry.input).flatMap((id) => things.get(id) ?? []));
}
