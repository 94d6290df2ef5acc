/** Putting a new one on: which are offered, what the running clock says, and the way back. */
import type { Opening, ShelfRow } from '../../../electron/api/consumables.ts';
import type { Clock } from '../../../electron/api/hours.ts';
import { gritText } from '../../../electron/domain/grits.ts';
import { act } from '../../lib/form.svelte.ts';
import { shop } from '../../lib/shop.svelte.ts';
import { toasts } from '../../lib/toasts.svelte.ts';

export interface Share {
  readonly buildId: string;
  readonly weight: number;
}

type Graded = Pick<ShelfRow, 'gritScale' | 'grit' | 'backing'>;

/** The grade of an item and its backing, e.g. `P400 X`; empty where it has none. */
export const gradeOf = ({ gritScale, grit, backing }: Graded): string =>
  gritText({ scale: gritScale, grit, backing });

/** Large word of a button: the grade, else the item's name. */
export const shortName = (item: Graded & Pick<ShelfRow, 'name'>): string => gradeOf(item) || item.name;

/** The words that tell apart two items of one grade: what their names end with. */
const nameEnd = (name: string): string => name.split(', ').at(-1) ?? name;

/** Large words of several buttons; where two would read the same, what their names end with. */
export const buttonNames = (items: readonly ShelfRow[]): ReadonlyMap<string, string> =>
  new Map(
    items.map((item) => {
      const short = shortName(item);
      const same = items.filter((other) => shortName(other) === short).length > 1;
      return [item.id, same || gradeOf(item) === '' ? nameEnd(item.name) : short];
    }),
  );

/** The grain in micrometres, e.g. `530 µm`. */
export const grainText = (micrometres: number | null): string =>
  micrometres === null ? '' : `${micrometres.toLocaleString('en')} µm`;

/** The one that is on now: not one in its second life. */
const onNow = (item: Pick<ShelfRow, 'inUse'>): Opening | undefined =>
  item.inUse.find((one) => one.bluntOn === null);

const lastOpened = (item: ShelfRow): string => item.inUse[0]?.openedAt ?? '';
const offered = (item: ShelfRow): boolean =>
  (item.form === 'piece' || item.form === 'pair') && (item.qtyLeft > 0 || item.inUse.length > 0);

/** Those opened last, then belts that lie there; in the order of the shelf, so that each keeps its place. */
export const lately = (shelf: readonly ShelfRow[], most: number): readonly ShelfRow[] => {
  const chosen = shelf
    .filter(offered)
    .toSorted(
      (a, b) =>
        lastOpened(b).localeCompare(lastOpened(a)) || Number(b.kind === 'belt') - Number(a.kind === 'belt'),
    )
    .slice(0, most);
  return shelf.filter((item) => chosen.includes(item));
};

/** The knives the clock runs on share what is opened meanwhile. */
export const sharesOf = (clock: Clock | null | undefined): readonly Share[] =>
  (clock?.builds ?? []).map((build) => ({ buildId: build.id, weight: build.weight }));

const named = (opening: Opening, item: Pick<ShelfRow, 'consumedBy'>): string => {
  const serials = opening.builds.map((build) => build.serial).join(', ');
  if (item.consumedBy === 'use') {
    const serves = serials === '' ? 'It is noted' : `It serves ${serials}`;
    return `${serves}; what each knife takes of it is booked by itself.`;
  }
  if (opening.builds.length === 0) return 'It waits to be shared.';
  return opening.builds.length === 1 ? `It counts for ${serials}.` : `Shared over ${serials}.`;
};

/** Puts a new one on and offers the way back. Answers nothing when it was refused; the reason was shown. */
export const putOn = async (
  item: ShelfRow,
  shares: readonly Share[],
  stageCode: string | null,
): Promise<Opening | undefined> => {
  const old = onNow(item);
  const replaces = old === undefined ? {} : { replacesId: old.id };
  const input = { itemId: item.id, on: shop.today, stageCode, shares: [...shares], ...replaces };
  const opening = await act('consumables.open', input);
  if (opening === undefined) return undefined;
  const graded = shortName(item) !== item.name;
  const on = graded ? `New ${item.pieceWord || 'one'} ${shortName(item)} on.` : `A new ${item.name} is on.`;
  toasts.say(`${on} ${named(opening, item)}`, () => {
    void act(
      'consumables.takeBack',
      { openingId: opening.id, reason: 'Taken back at once' },
      { text: `${shortName(item)} is as it was.` },
    );
  });
  return opening;
};
