/** Items a file names that the books do not know: what they are and how they are measured, from what is written. */
import type { ItemKind } from '../../api/stock.ts';
import { ok, type Outcome } from '../../domain/outcome.ts';
import { parseQuantity } from '../../domain/quantity.ts';
import { type Form, type UnitCode, unitOf, unitsOf } from '../../domain/units.ts';

/** How an item is measured. */
export interface Measure {
  readonly form: Form;
  readonly unit: UnitCode;
  readonly pieceWord: string;
}

const measured: readonly Form[] = ['length', 'area', 'weight', 'volume'];

/** `7 belts` names what one piece is called. */
const pieceWordIn = (text: string): string => {
  const word = /^[\d.,/\s½¼¾]+(\p{L}+)\.?$/u.exec(text)?.[1]?.toLowerCase() ?? '';
  return word.length > 3 && word.endsWith('s') && !word.endsWith('ss') ? word.slice(0, -1) : word;
};

const usual: Readonly<Partial<Record<Form, string>>> = { length: 'bar', area: 'sheet' };

/** The first form whose units fit what is written; a bare number counts pieces. */
export function measureOf(text: string): Outcome<Measure> {
  if (!/\p{L}|["'′″]/u.test(text)) return ok({ form: 'piece', unit: 'piece', pieceWord: '' });
  for (const form of measured) {
    const fallback = unitsOf(form)[0]?.code ?? 'in';
    const read = parseQuantity(text, form, fallback);
    if (read.ok) return ok({ form, unit: unitOf(read.value.unit).code, pieceWord: usual[form] ?? '' });
  }
  if (parseQuantity(text, 'pair', 'pair').ok) return ok({ form: 'pair', unit: 'pair', pieceWord: '' });
  if (parseQuantity(text, 'piece', 'piece').ok) return ok({ form: 'piece', unit: 'piece', pieceWord: '' });
  const word = pieceWordIn(text);
  const read = parseQuantity(text, 'piece', 'piece', { word });
  return read.ok ? ok({ form: 'piece', unit: 'piece', pieceWord: word }) : read;
}

/** Words of the trade by what they mostly mean; the first that fits counts. */
const kinds: readonly (readonly [RegExp, ItemKind])[] = [
  [/\bbelts?\b/i, 'belt'],
  [/\b(?:sand)?papers?\b/i, 'paper'],
  [/\b(?:stones?|whetstones?)\b/i, 'stone'],
  [/\bdiscs?\b/i, 'disc'],
  [/\b(?:propane|gas|charcoal|coal|fuel)\b/i, 'fuel'],
  [/\boils?\b/i, 'oil'],
  [/\b(?:epoxy|glue|adhesive)\b/i, 'adhesive'],
  [/\b(?:etchant|acid|solvent|chloride)\b/i, 'chemical'],
  [/\b(?:leather|sheath|thread|snaps?|rivets?)\b/i, 'sheath'],
  [/\b(?:cartons?|box(?:es)?|packaging|wrap)\b/i, 'packaging'],
  [/\b(?:pins?|guards?|ferrules?|spacers?|bolsters?|liners?|brass|rod)\b/i, 'fitting'],
  [/\b(?:scales?|blocks?|burl|walnut|maple|wood|laminate|horn|bone|pairs?)\b/i, 'handle'],
  [/\b(?:steel|stainless|carbon|billet|flat stock)\b/i, 'steel'],
];

/** What a new item probably is; sundry where its name says nothing. A bar by length is steel. */
export function kindOf(name: string, form: Form): ItemKind {
  const found = kinds.find(([words]) => words.test(name))?.[1];
  return found ?? (form === 'length' ? 'steel' : 'sundry');
}
