/** Plans in sentences. */
import type { CuttingPlan, SheetPlan } from '../../api/cutting.ts';
import { sumOf } from '../../domain/integers.ts';
import type { SheetPart } from '../../domain/sheet-cuts.ts';
import type { Cutting } from './gather.ts';

/** `1 blank`, `3 blanks`. */
export const counted = (n: number, one: string): string => `${n} ${n === 1 ? one : `${one}s`}`;

/** `a`, `a and b`, `a, b and c`. */
export const listed = (words: readonly string[]): string =>
  words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words.at(-1) ?? ''}`;

const proof = (exact: boolean, many: boolean): string =>
  exact
    ? many
      ? 'No other way wastes less.'
      : ''
    : 'This is the best way found in the steps allowed; another one may waste less.';

const open = (count: number, one: string, remedy: string): string =>
  count === 0 ? '' : `${counted(count, one)} ${count === 1 ? 'finds' : 'find'} no place: ${remedy}.`;

const joined = (parts: readonly string[]): string => parts.filter((part) => part !== '').join(' ');

/** What a plan of bars comes to. */
export function barSentence(
  { describe }: Cutting,
  plan: Pick<CuttingPlan, 'bars' | 'unplaced' | 'exact' | 'waste'>,
  kerf: number,
): string {
  const { bars, unplaced, exact, waste } = plan;
  const blanks = sumOf(bars, (bar) => bar.cuts.length);
  const shared = bars.filter((bar) => bar.sharedBy !== null);
  return joined([
    `${counted(blanks, 'blank')} from ${listed(bars.map((bar) => bar.tag))}: ${describe(waste)} goes to kerf and short ends.`,
    proof(exact, true),
    open(unplaced.length, 'blank', 'buy another bar, or cut it another day'),
    ...shared.map(
      (bar) => `${bar.tag} is shared equally, as the model plans it for ${bar.sharedBy ?? 0} blanks.`,
    ),
    kerf === 0 ? 'The cut takes no width: right for sheared or laser-cut stock only.' : '',
  ]);
}

/** What a plan of sheets comes to. */
export function sheetSentence(
  { describe }: Cutting,
  plan: Pick<SheetPlan, 'sheets' | 'unplaced' | 'exact' | 'waste'>,
  kerf: number,
): string {
  const { sheets, unplaced, exact, waste } = plan;
  const pieces = sumOf(sheets, (sheet) => sheet.pieces.length);
  const kept = sumOf(sheets, (sheet) => sheet.offcuts.filter((one) => one.useful).length);
  return joined([
    `${counted(pieces, 'piece')} from ${listed(sheets.map((sheet) => sheet.tag))}: ${describe(waste)} goes to kerf and crumbs, ${kept === 0 ? 'nothing' : counted(kept, 'offcut')} stays on the rack.`.replace(
      /offcuts stays/,
      'offcuts stay',
    ),
    exact ? 'No other straight cuts laid against the pieces waste less.' : proof(false, true),
    open(unplaced.length, 'piece', 'buy another sheet, or cut it another day'),
    kerf === 0 ? 'The cut takes no width: right for sheared or laser-cut stock only.' : '',
  ]);
}

/**
 * The cuts of one sheet in the order to make them. Sizes name the way along the grain first, so that the measure that
 * changes tells which way a cut runs. @param labels of the pieces, in the order the parts number them
 */
export function cutList(
  root: SheetPart,
  labels: readonly string[],
  length: (nm: number) => string,
): string[] {
  const size = ({ rect }: SheetPart): string => `${length(rect.length)} × ${length(rect.width)}`;
  const named = (part: SheetPart): string => {
    if (part.kind === 'piece') return `${labels[part.piece] ?? 'a piece'} (${size(part)})`;
    if (part.kind === 'offcut')
      return part.useful ? `an offcut of ${size(part)}` : `a crumb of ${size(part)}`;
    return `a part of ${size(part)}`;
  };
  const steps: string[] = [];
  const follow = (part: SheetPart, name: string): void => {
    if (part.kind !== 'cut') return;
    const parts = [part.first, ...(part.second === null ? [] : [part.second])];
    steps.push(`Cut ${name} at ${length(part.at)}: ${listed(parts.map(named))}.`);
    for (const next of parts) follow(next, `the part of ${size(next)}`);
  };
  follow(root, `the sheet of ${size(root)}`);
  return steps;
}
