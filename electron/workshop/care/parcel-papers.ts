/** The papers of a parcel: the slip that lies in it, and the list a customs form is filled in from. */
import type { Parcel } from '../../api/care.ts';
import type { ContentListPaper, PackingSlipPaper, PaperFrame } from '../../documents/types.ts';
import { addressLines } from '../../domain/addresses.ts';
import { countryLine } from '../../domain/country-names.ts';
import { sumOf } from '../../domain/integers.ts';
import { careOfKnife } from '../../storage/queries/papers.ts';
import type { QueryContext } from '../context.ts';
import { pdfOut } from '../costs/files.ts';
import { houseOf, type House } from '../costs/house.ts';
import type { HandlerFor } from '../handlers.ts';
import { dateIn, moneyIn, type PaperWords, wordsFor } from '../paper-words/index.ts';
import { dressed, frameOf } from '../papers/look.ts';
import { textOf } from '../papers/texts.ts';
import { needSale } from '../selling/sale-rows.ts';
import { weightText } from './certificate-facts.ts';
import { languageOf } from './paper-habits.ts';
import { needParcel } from './parcels.ts';

/** A parcel with what its papers are written in. */
interface Telling {
  readonly parcel: Parcel;
  readonly house: House;
  readonly language: string;
  readonly words: PaperWords['parcel'];
  readonly invoiceNumber: string;
  readonly frame: PaperFrame;
  readonly money: (minor: number) => string;
  readonly weight: (ng: number) => string;
}

function tellingOf(ctx: QueryContext, id: string): Telling {
  const parcel = needParcel(ctx.db, id);
  const house = houseOf(ctx.db);
  const { shop, currency } = house;
  const language = languageOf(ctx.db, parcel.buyerId);
  return {
    parcel,
    house,
    language,
    words: wordsFor(language).parcel,
    invoiceNumber: needSale(ctx.db, parcel.saleId).invoice_number ?? '',
    frame: frameOf(house, language, ctx.clock.now()),
    money: (minor) => `${moneyIn(language, minor, currency)} ${currency}`,
    weight: (ng) => weightText(ng, { language, ounce: shop.weight_habit === 'oz' }),
  };
}

/** The workshop's own address; its country too where the parcel leaves it. */
const senderLines = ({ house, parcel }: Telling): readonly string[] =>
  addressLines(house.shop, parcel.abroad ? '' : house.shop.country);

const filled = (facts: readonly { label: string; text: string }[]) =>
  facts.filter((fact) => fact.text !== '');

const lineWeight = (telling: Telling, ng: number | null): string => (ng === null ? '' : telling.weight(ng));

/** The packing slip of a parcel; without values unless they are wanted. */
export const packingSlipPdf: HandlerFor<'care.packingSlipPdf'> = async (ctx, { id, withPrices }) => {
  const telling = tellingOf(ctx, id);
  const { parcel, language, money } = telling;
  const { slip } = telling.words;
  const together = sumOf(parcel.contents, (line) => line.valueMinor);
  const paper: PackingSlipPaper = {
    ...telling.frame,
    title: slip.title,
    mark: parcel.serial,
    sender: senderLines(telling),
    recipient: { label: slip.to, lines: parcel.address.split('\n') },
    facts: filled([
      { label: slip.facts.sent, text: dateIn(language, parcel.on) },
      { label: slip.facts.invoice, text: telling.invoiceNumber },
      { label: slip.facts.carrier, text: parcel.carrier },
      { label: slip.facts.tracking, text: parcel.tracking },
    ]),
    heads: {
      what: slip.columns.what,
      quantity: slip.columns.quantity,
      value: withPrices ? slip.columns.value : '',
    },
    lines: parcel.contents.map((line) => ({
      what: line.what,
      detail: '',
      quantity: String(line.qty),
      value: withPrices ? money(line.valueMinor) : '',
    })),
    total: parcel.contents.length > 1 ? { label: slip.together, value: money(together) } : null,
    notes: [
      { heading: '', text: slip.open },
      {
        heading: slip.care,
        text: careOfKnife(ctx.db, parcel.buildId) || textOf(ctx.db, 'care', language),
      },
      { heading: slip.returns, text: textOf(ctx.db, 'returns', language) },
    ].filter((note) => note.text !== ''),
  };
  return pdfOut(`${slip.title} ${parcel.serial}`, await ctx.renderer.packingSlip(dressed(ctx, paper)));
};

/** The weight over all, or that one of the things was not weighed. */
function netText(telling: Telling): string {
  const { contents } = telling.parcel;
  if (contents.some((line) => line.weightNg === null)) return telling.words.list.notWeighed;
  return telling.weight(sumOf(contents, (line) => line.weightNg ?? 0));
}

const listFacts = (telling: Telling): ContentListPaper['facts'] => {
  const { parcel, language } = telling;
  const { facts } = telling.words.list;
  return filled([
    { label: facts.sent, text: dateIn(language, parcel.on) },
    { label: facts.reason, text: facts.sale },
    { label: facts.gross, text: lineWeight(telling, parcel.weightNg) },
    { label: facts.insured, text: parcel.insuredMinor === 0 ? '' : telling.money(parcel.insuredMinor) },
    { label: facts.invoice, text: telling.invoiceNumber },
    { label: facts.carrier, text: parcel.carrier },
    { label: facts.tracking, text: parcel.tracking },
  ]);
};

/** The list of contents in the order a customs form asks for them. */
export const contentListPdf: HandlerFor<'care.contentListPdf'> = async (ctx, { id }) => {
  const telling = tellingOf(ctx, id);
  const { parcel, house, money } = telling;
  const { list } = telling.words;
  const { what, quantity, weight, value, tariff, origin } = list.columns;
  const paper: ContentListPaper = {
    ...telling.frame,
    title: list.title,
    mark: parcel.serial,
    sender: { label: list.from, lines: [house.shop.name, ...senderLines(telling)] },
    recipient: { label: list.to, lines: parcel.address.split('\n') },
    facts: listFacts(telling),
    heads: [what, quantity, weight, value, tariff, origin],
    lines: parcel.contents.map((line) => ({
      what: line.customs === '' ? line.what : `${line.customs} (${line.what})`,
      cells: [
        String(line.qty),
        lineWeight(telling, line.weightNg) || list.notWeighed,
        money(line.valueMinor),
        line.tariff,
        line.origin === '' ? '' : countryLine(line.origin),
      ],
    })),
    total: [
      list.together,
      String(sumOf(parcel.contents, (line) => line.qty)),
      netText(telling),
      money(sumOf(parcel.contents, (line) => line.valueMinor)),
      '',
      '',
    ],
    declared: { label: list.declared, name: house.shop.maker, signature: list.signature },
    caution: list.caution,
  };
  return pdfOut(`${list.title} ${parcel.serial}`, await ctx.renderer.contentList(dressed(ctx, paper)));
};
