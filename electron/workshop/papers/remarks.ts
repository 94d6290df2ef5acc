/** What goes with the knife on its invoice: flaw, material, care, warranty, returns, protected material. */
import type { InvoicePaper } from '../../documents/types.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  type MaterialIn,
  materialsIn,
  papersInside,
  type PaperInside,
} from '../../storage/queries/certificate-facts.ts';
import { careOfKnife } from '../../storage/queries/papers.ts';
import { type PaperWords, wordsFor } from '../paper-words/index.ts';
import { textOf } from './texts.ts';

type Remark = InvoicePaper['remarks'][number];
type Words = PaperWords['invoice']['notes'];

/** The knife an invoice is about. */
export interface KnifeAbout {
  readonly buildId: string;
  /** Why it is sold as a second; empty when it is not. */
  readonly flaw: string;
}

/** Kinds of items a buyer asks about. */
const told: readonly string[] = ['steel', 'blank', 'billet', 'handle', 'fitting', 'sheath'];

const materialText = (materials: readonly MaterialIn[]): string =>
  [...new Set(materials.filter(({ kind }) => told.includes(kind)).map(({ name }) => name))].join(', ');

/** Lots whose papers somebody may ask for, and that the rule in force must be looked at. */
function restrictedText(inside: readonly PaperInside[], own: string, words: Words): string {
  const lots = inside.filter(({ species, listing }) => species !== '' || listing !== '');
  if (lots.length === 0) return '';
  const lines = lots.map((lot) => words.restrictedLot(lot.name, lot.species, lot.listing, lot.paper_number));
  return [`${[...new Set(lines)].join('; ')}.`, own, words.restrictedCheck]
    .filter((part) => part !== '')
    .join(' ');
}

const filled = (remarks: readonly Remark[]): readonly Remark[] =>
  remarks.filter(({ text }) => text.trim() !== '');

/** Remarks about a knife, in the language of its paper. */
export function knifeRemarks(db: ReadDb, language: string, knife: KnifeAbout): readonly Remark[] {
  const words = wordsFor(language).invoice.notes;
  const materials = materialsIn(db, knife.buildId);
  const own = careOfKnife(db, knife.buildId);
  const flaw = knife.flaw.replace(/[.\s]+$/, '');
  return filled([
    { heading: words.flaw, text: flaw === '' ? '' : words.flawIs(flaw) },
    { heading: words.material, text: materialText(materials) },
    { heading: words.care, text: own === '' ? textOf(db, 'care', language) : own },
    { heading: words.warranty, text: textOf(db, 'warranty', language) },
    { heading: words.returns, text: textOf(db, 'returns', language) },
    {
      heading: words.restricted,
      text: restrictedText(papersInside(db, knife.buildId), textOf(db, 'restricted', language), words),
    },
  ]);
}

/** What is said with a deposit: the rules it was taken under. */
export const depositRemarks = (db: ReadDb, language: string): readonly Remark[] =>
  filled([{ heading: wordsFor(language).invoice.notes.terms, text: textOf(db, 'orderTerms', language) }]);
