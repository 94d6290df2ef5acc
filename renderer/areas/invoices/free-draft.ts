/** A free invoice while it is being written. */
import type { Draft, DraftLine } from '../../../electron/api/billing.ts';
import { ok, type Outcome, refuse } from '../../../electron/domain/outcome.ts';
import { plainDecimal } from '../../../electron/domain/number-text.ts';
import { decimalText, trimZeros } from '../../../electron/domain/rational.ts';
import { missingNumber } from '../../lib/form.svelte.ts';
import { noPlace } from './sale-draft.ts';

/** Decimals a quantity is written with. */
const QTY_SCALE = 4;

export interface WrittenLine {
  /** Of the row on the screen. */
  readonly key: number;
  description: string;
  detail: string;
  /** In units of 10^-4. */
  qty: number | undefined;
  price: number | undefined;
  taxed: boolean;
}

export interface FreeDraft {
  buyerId: string;
  place: string;
  note: string;
  lines: WrittenLine[];
}

/** An empty line for one piece. */
export const blankLine = (key: number): WrittenLine => ({
  key,
  description: '',
  detail: '',
  qty: 10 ** QTY_SCALE,
  price: undefined,
  taxed: true,
});

/** Nothing written yet. @param home tax place of the workshop */
export const blankFree = (home: string): FreeDraft => ({
  buyerId: '',
  place: home === '' ? noPlace : home,
  note: '',
  lines: [blankLine(1)],
});

/** A draft of the books, to be changed. */
export const freeOf = (draft: Draft): FreeDraft => ({
  buyerId: draft.buyerId,
  place: draft.taxPlaceId ?? noPlace,
  note: draft.note,
  lines: draft.lines.map((line, at) => ({
    key: at + 1,
    description: line.description,
    detail: line.detail,
    qty: line.qty * 10 ** (QTY_SCALE - line.qtyScale),
    price: line.unitPriceMinor,
    taxed: line.taxed,
  })),
});

/** As few decimals as say it. */
function shortest(qty: number): Pick<DraftLine, 'qty' | 'qtyScale'> {
  let scale = QTY_SCALE;
  let value = qty;
  while (scale > 0 && value % 10 === 0) {
    value /= 10;
    scale -= 1;
  }
  return { qty: value, qtyScale: scale };
}

/** Lines as the contract takes them. */
export const linesInput = (draft: FreeDraft): DraftLine[] =>
  draft.lines.map((line) => ({
    description: line.description,
    detail: line.detail,
    ...(line.qty === undefined ? { qty: missingNumber, qtyScale: 0 } : shortest(line.qty)),
    unitPriceMinor: line.price ?? missingNumber,
    taxed: line.taxed,
  }));

/** True once the lines can be reckoned. */
export const isReckonable = (draft: FreeDraft): boolean =>
  draft.lines.every(
    (line) => line.description.trim() !== '' && line.qty !== undefined && line.price !== undefined,
  );

/** A tax place as the contract takes it. */
export const placeInput = (draft: FreeDraft): string | null => (draft.place === noPlace ? null : draft.place);

/** Reads a quantity into units of 10^-4. */
export function readQty(text: string): Outcome<number> {
  const typed = text.trim().replace('−', '-');
  const match = /^(\d{1,6})(?:\.(\d{1,4}))?$/.exec(plainDecimal(typed.replace(/^-/, '')) ?? '');
  if (match === null) return refuse('Write a quantity, for example 1 or 2.5, with four decimals at most.');
  const size = Number(match[1]) * 10 ** QTY_SCALE + Number((match[2] ?? '').padEnd(QTY_SCALE, '0'));
  if (size === 0) return refuse('A quantity cannot be zero. Leave the line out instead.');
  return ok(typed.startsWith('-') ? -size : size);
}

/** Writes a quantity as short as it is. */
export const writeQty = (qty: number): string => trimZeros(decimalText(qty, QTY_SCALE));
