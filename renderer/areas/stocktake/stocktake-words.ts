/** Words of stocktakes on the screen. */
import type {
  DifferenceReason,
  StocktakeHead,
  StocktakeLine,
  Whereabouts,
} from '../../../electron/api/stocktakes.ts';
import { plural } from '../../../electron/domain/quantity.ts';
import { unitOf } from '../../../electron/domain/units.ts';
import { count, instant, percent, qtyAbout, unitFor } from '../../lib/format.ts';

export const stateWords: Readonly<Record<StocktakeHead['state'], string>> = {
  open: 'being counted',
  finished: 'finished',
  dropped: 'dropped',
};

export const differenceWords: Readonly<Record<DifferenceReason, string>> = {
  lost: 'Lost',
  damaged: 'Damaged, thrown away',
  unbooked: 'Used without booking',
  miscounted: 'Counted or entered wrongly before',
  found: 'Found',
  other: 'Something else',
};

export const whereWords: Readonly<Record<Whereabouts, string>> = {
  here: 'Here',
  consignment: 'On consignment',
  away: 'Away: show, photographer, post',
  notSeen: 'Not found',
};

/** A place as it is headed; lots without one lie together at the end. */
export const placeWords = (place: string): string => (place === '' ? 'Without a place' : place);

/** Places counted, or that it is everything. */
export const scopeWords = (places: readonly string[]): string =>
  places.length === 0 ? 'the whole workshop' : places.map(placeWords).join(', ');

/** Lots of a line: their tags, or how many where there are many, with heat numbers. */
export function lotWords(line: StocktakeLine): string {
  const heats = [...new Set(line.lots.map((lot) => lot.heatNumber).filter((heat) => heat !== ''))];
  const tags =
    line.lots.length > 3 ? count(line.lots.length, 'lot') : line.lots.map((lot) => lot.tag).join(', ');
  return [tags, heats.length === 0 ? '' : `heat ${heats.join(', ')}`]
    .filter((part) => part !== '')
    .join(', ');
}

/** What came or went after the day; empty where nothing did. */
export const sinceWords = (line: StocktakeLine): string =>
  line.sinceQty === 0
    ? ''
    : `Since then ${qtyAbout(Math.abs(line.sinceQty), line)} ${line.sinceQty > 0 ? 'came in' : 'went out'}.`;

/** Who counted what, where more than one did or the books moved. */
export const whoWords = (line: StocktakeLine): string =>
  line.counts
    .map(
      (one) =>
        `${one.name}: ${qtyAbout(one.qty, line)}, ${instant(one.at)}${one.moved ? ', before the books changed' : ''}`,
    )
    .join('; ');

/** What a count is written in, for the empty field. */
export function unitWords(line: StocktakeLine): string {
  if (line.form === 'worth') return 'worth of it';
  if (line.form === 'piece' || line.form === 'pair') return plural(line.pieceWord || line.form);
  return unitOf(unitFor(line)).symbol;
}

/** What is in use, and how it is counted. */
export function openedWords(line: StocktakeLine, ended: boolean): string {
  const many = `In use: ${String(line.opened.length)}`;
  if (line.fallsByOpening) return `${many}; counted without, its cost is with the knives it serves.`;
  if (!ended) return `${many}; write the unopened ones and what is left of each below.`;
  const left = line.opened.flatMap((one) => (one.leftPpm === null ? [] : [percent(one.leftPpm)]));
  return left.length === 0 ? `${many}.` : `${many}, left of it ${left.join(', ')}.`;
}
