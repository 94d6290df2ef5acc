/** An order to a supplier while it is being written, and as plain text to send. */
import type { BuyingGroup, SupplyOrder } from '../../../electron/api/buying.ts';
import type { ItemForm } from '../../../electron/api/stock.ts';
import { missingNumber } from '../../lib/form.svelte.ts';

export interface OrderLine {
  readonly itemId: string;
  readonly itemName: string;
  readonly form: ItemForm;
  readonly unit: string;
  readonly pieceWord: string;
  wanted: boolean;
  pieces: number | undefined;
  qtyEach: number | undefined;
  priceMicro: number | undefined;
  heatNumber: string;
  place: string;
}

interface Listed {
  readonly itemId: string;
  readonly itemName: string;
  readonly form: ItemForm;
  readonly unit: string;
  readonly pieceWord: string;
  readonly pieces: number;
  readonly qtyEach: number;
  readonly priceMicro: number | null;
}

const toLine = (row: Listed): OrderLine => ({
  itemId: row.itemId,
  itemName: row.itemName,
  form: row.form,
  unit: row.unit,
  pieceWord: row.pieceWord,
  wanted: true,
  pieces: row.pieces,
  qtyEach: row.qtyEach,
  priceMicro: row.priceMicro ?? undefined,
  heatNumber: '',
  place: '',
});

/** What the list proposes for one supplier. */
export const linesOfGroup = (group: BuyingGroup): OrderLine[] => group.rows.map(toLine);
/** What was ordered, to be corrected to what came. */
export const linesOfOrder = (order: SupplyOrder): OrderLine[] => order.lines.map(toLine);

/** The lines that stay, as the contract takes them. */
export const lineInputs = (lines: readonly OrderLine[]) =>
  lines
    .filter((line) => line.wanted)
    .map((line) => ({
      itemId: line.itemId,
      pieces: line.pieces ?? missingNumber,
      qtyEach: line.qtyEach ?? missingNumber,
      priceMicro: line.priceMicro ?? missingNumber,
    }));

/** What one of them is called: belt, bar, piece. */
export const wordOf = (line: { readonly pieceWord: string }): string =>
  line.pieceWord === '' ? 'piece' : line.pieceWord;

/** True where a piece is just a piece, and its size goes without saying. */
export const isPiecewise = (form: ItemForm): boolean => form === 'piece' || form === 'pair';

/**
 * The order as plain text for the maker's own mail.
 * @param each writes the size of one piece
 */
export const orderText = (
  order: SupplyOrder,
  workshop: { readonly name: string; readonly address: string },
  each: (line: SupplyOrder['lines'][number]) => string,
): string => {
  const lines = order.lines.map((line) =>
    isPiecewise(line.form) || line.form === 'worth'
      ? `${String(line.pieces)} × ${line.itemName}`
      : `${String(line.pieces)} × ${line.itemName}, ${each(line)} each`,
  );
  const head = `Order ${order.tag} of ${order.on}`;
  const due = order.dueOn === null ? [] : [`Wanted by ${order.dueOn}`];
  return [head, ...due, '', ...lines, '', workshop.name, workshop.address].join('\n');
};
