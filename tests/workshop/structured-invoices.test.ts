/**
 * Structured invoices: read back out of the file by another library than made it (pdfjs-dist, fast-xml-parser), held
 * against the published schema, and their totals against the rules of EN 16931.
 */
import { Buffer } from 'node:buffer';
import { XMLParser } from 'fast-xml-parser';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { renderInvoice } from '../../electron/documents/invoice.ts';
import { renderStructured, xmlOf } from '../../electron/documents/structured.ts';
import type { InvoiceLinesTable, InvoicesTable } from '../../electron/storage/schema-selling.ts';
import { ciiTree } from '../../electron/workshop/papers/structured/cii.ts';
import { missingIn } from '../../electron/workshop/papers/structured/missing.ts';
import { statementOf } from '../../electron/workshop/papers/structured/statement.ts';
import { schemaErrors } from '../documents/en16931-schema.ts';
import { noPress } from './no-press.ts';
import { openShop, plainKnife, saleOf, type Shop } from './shop.ts';

interface Inside {
  readonly xml: string;
  readonly pdf: string;
}

/** The one file inside a PDF, and the PDF as text. */
async function inside(base64: string): Promise<Inside> {
  const bytes = Buffer.from(base64, 'base64');
  const task = getDocument({ data: new Uint8Array(bytes), verbosity: 0 });
  const document = await task.promise;
  const files = (await document.getAttachments()) as ReadonlyMap<string, unknown>;
  expect([...files.keys()]).toEqual(['factur-x.xml']);
  const content = (await document.getAttachmentContent('factur-x.xml')) as Uint8Array;
  await task.destroy();
  return { xml: Buffer.from(content).toString('utf8'), pdf: bytes.toString('latin1') };
}

const parser = new XMLParser({
  removeNSPrefix: true,
  ignoreAttributes: false,
  parseTagValue: false,
  isArray: (name) =>
    ['IncludedSupplyChainTradeLineItem', 'ApplicableTradeTax', 'InvoiceReferencedDocument'].includes(name),
});

type Tree = Record<string, unknown>;
const at = (tree: unknown, ...path: readonly string[]): unknown =>
  path.reduce<unknown>((so, key) => (so as Tree | undefined)?.[key], tree);

const transaction = (xml: string): unknown =>
  at(parser.parse(xml), 'CrossIndustryInvoice', 'SupplyChainTradeTransaction');
const sums = (xml: string): Tree =>
  at(
    transaction(xml),
    'ApplicableHeaderTradeSettlement',
    'SpecifiedTradeSettlementHeaderMonetarySummation',
  ) as Tree;

const cents = (text: unknown): number => {
  const plain = typeof text === 'object' ? at(text, '#text') : text;
  return Math.round(Number(plain) * 100);
};

/** BR-CO-10, 13, 14, 15, 16 and BR-S-08 on what the file says (source: EN 16931 model rules, see check values D1). */
function expectTotalsHold(xml: string): void {
  const lines = at(transaction(xml), 'IncludedSupplyChainTradeLineItem') as readonly unknown[];
  const nets = lines.map((line) =>
    cents(
      at(
        line,
        'SpecifiedLineTradeSettlement',
        'SpecifiedTradeSettlementLineMonetarySummation',
        'LineTotalAmount',
      ),
    ),
  );
  const groups = at(
    transaction(xml),
    'ApplicableHeaderTradeSettlement',
    'ApplicableTradeTax',
  ) as readonly unknown[];
  const sum = sums(xml);
  const add = (values: readonly number[]): number => values.reduce((so, value) => so + value, 0);
  expect(cents(sum['LineTotalAmount'])).toBe(add(nets));
  expect(cents(sum['TaxBasisTotalAmount'])).toBe(add(nets));
  expect(cents(sum['TaxTotalAmount'])).toBe(add(groups.map((group) => cents(at(group, 'CalculatedAmount')))));
  expect(add(groups.map((group) => cents(at(group, 'BasisAmount'))))).toBe(add(nets));
  expect(cents(sum['GrandTotalAmount'])).toBe(add(nets) + cents(sum['TaxTotalAmount']));
  expect(cents(sum['DuePayableAmount'])).toBe(
    cents(sum['GrandTotalAmount']) - cents(sum['TotalPrepaidAmount'] ?? '0'),
  );
}

let shop: Shop;
let placeId: string;
beforeAll(async () => {
  const renderer = noPress('only invoices are printed here', {
    invoice: renderInvoice,
    structured: renderStructured,
  });
  shop = await openShop({ currency: 'EUR', renderer });
});
afterAll(async () => {
  expect(shop.log).toEqual([]);
  await shop.close();
});

async function sell(buyerId: string): Promise<string> {
  const knife = await plainKnife(shop);
  const sold = await shop.call(
    'selling.sell',
    saleOf(shop, knife, { buyerId, taxPlaceId: placeId, invoice: true }),
  );
  return sold.invoiceId ?? '';
}

describe('a structured invoice', () => {
  let buyerId: string;
  it('is refused with all that is missing, and changes nothing', async () => {
    placeId = (
      await shop.call('workshop.saveTaxPlace', {
        name: 'Inland',
        label: 'USt.',
        ratePpm: 190_000,
        onShipping: true,
        inclusive: true,
        rounding: 'invoice',
      })
    ).id;
    const bare = await shop.call('selling.saveBuyer', { name: 'Odile Barrowmint' });
    const invoiceId = await sell(bare.id);
    const state = await shop.call('papers.structuredState', { invoiceId });
    expect(state.madeAt).toBeNull();
    expect(state.missing).toHaveLength(3);
    const fault = await shop.fault('papers.structured', { invoiceId });
    expect(fault).toMatchObject({ kind: 'refused', field: 'invoiceId' });
    expect(fault.message).toContain('The buyer’s address is not on it.');
    expect(fault.message).toContain('Neither a tax number nor a registration');
    expect(await shop.call('papers.structuredState', { invoiceId })).toEqual(state);
  });

  it('holds the invoice as the schema asks, is PDF/A-3 by its own word, and is kept byte for byte', async () => {
    const state = await shop.call('workshop.state', {});
    if (state.workshop === null) throw new Error('the workshop is set up');
    await shop.call('workshop.update', {
      ...state.workshop,
      address: 'Am Steinbruch 4',
      city: 'Schilfau',
      postcode: '01234',
      country: 'DE',
      email: 'werkstatt@sedgewarren.example',
      taxNumber: 'DE 123 456 789',
    });
    await shop.call('papers.save', {
      language: 'de',
      size: 'A4',
      accent: '#1F4E79',
      iban: 'DE89 3704 0044 0532 0130 00',
      bic: 'cobadeffxxx',
      bankName: '',
    });
    buyerId = (
      await shop.call('selling.saveBuyer', {
        name: 'Łucja & Söhne <刀> 😀 \u202eשלום',
        address: 'Rohrweg 1\nHinterhaus',
        city: 'Schilfau',
        postcode: '01234',
        country: 'DE',
      })
    ).id;
    const invoiceId = await sell(buyerId);
    const made = await shop.call('papers.structured', { invoiceId });
    const { xml, pdf } = await inside(made.base64);
    expect(await schemaErrors(xml)).toEqual([]);
    expectTotalsHold(xml);
    expect(xml).toContain('<ram:ID schemeID="VA">DE123456789</ram:ID>');
    expect(xml).toContain('<ram:IBANID>DE89370400440532013000</ram:IBANID>');
    expect(at(transaction(xml), 'ApplicableHeaderTradeAgreement', 'BuyerTradeParty', 'Name')).toBe(
      'Łucja & Söhne <刀> 😀 \u202eשלום',
    );
    // ISO 19005-3 and Factur-X 1.0: what the metadata must say, the colours, the relationship, fonts inside.
    for (const word of [
      '<pdfaid:part>3</pdfaid:part>',
      '<pdfaid:conformance>A</pdfaid:conformance>',
      '<fx:ConformanceLevel>EN 16931</fx:ConformanceLevel>',
      '<fx:DocumentFileName>factur-x.xml</fx:DocumentFileName>',
      'http://www.aiim.org/pdfa/ns/extension/',
      '/GTS_PDFA1',
      '/AFRelationship /Alternative',
      '/Subtype /text#2Fxml',
    ])
      expect(pdf).toContain(word);
    expect(pdf).not.toContain('/Encrypt');
    const faces = new Set([...pdf.matchAll(/\/BaseFont \/([\w+-]+)/g)].map(([, name]) => name));
    expect([...faces].every((name) => /^[A-Z]{6}\+/.test(name ?? ''))).toBe(true);
    // Later the very same file, whatever has changed since.
    await shop.call('papers.save', { language: 'en', size: 'Letter' });
    expect((await shop.call('papers.structured', { invoiceId })).base64).toBe(made.base64);
    expect((await shop.call('papers.structuredState', { invoiceId })).madeAt).toContain('2024-12-31');
  });

  it('of a credit is of type 381 with positive amounts, and names what it takes back', async () => {
    shop.clock.set('2025-01-02');
    const invoiceId = await sell(buyerId);
    const { number } = await shop.call('selling.invoice', { id: invoiceId });
    const credited = await shop.call('selling.credit', {
      invoiceId,
      on: '2025-01-02',
      reason: 'Loose ferrule',
      knifeComesBack: true,
    });
    const { xml } = await inside(
      (await shop.call('papers.structured', { invoiceId: credited.invoiceId })).base64,
    );
    expect(await schemaErrors(xml)).toEqual([]);
    expectTotalsHold(xml);
    expect(xml).toContain('<ram:TypeCode>381</ram:TypeCode>');
    expect(cents(sums(xml)['GrandTotalAmount'])).toBeGreaterThan(0);
    expect(xml).toContain(`<ram:IssuerAssignedID>${number}</ram:IssuerAssignedID>`);
  });
});

const party = (name: string, country: string, taxNumber: string) => ({
  name,
  street: '4 Quarry Lane',
  city: 'Thistlemere',
  region: '',
  postcode: '1234',
  country,
  taxNumber,
  registerNumber: '',
  email: '',
  phone: '',
  website: '',
});

type Change = Partial<InvoicesTable> & { readonly buyerTax?: string; readonly sellerTax?: string };

/** An issued invoice of 540.00 without tax, changed where a case needs it. */
function issued({ buyerTax = '', sellerTax = 'DE123456789', ...change }: Change) {
  const row = {
    number: '2025-0007',
    kind: 'sale',
    issued_on: '2025-03-01',
    supply_on: '2025-03-01',
    due_on: '2025-03-15',
    currency: 'EUR',
    net_minor: 54_000,
    tax_minor: 0,
    tax_rate_ppm: 0,
    tax_category: 'G',
    tax_reason: 'Export',
    total_minor: 54_000,
    prepaid_minor: 0,
    note: '',
    particulars: JSON.stringify({
      seller: party('Sedgewarren Edge Shop', 'DE', sellerTax),
      buyer: party('Emeric Salthollow', 'FR', buyerTax),
      deposits: change.prepaid_minor === undefined ? [] : [{ number: 'A-0003', issuedOn: '2024-08-30' }],
    }),
    ...change,
  } as unknown as InvoicesTable;
  const line = {
    description: 'Quenby chef',
    detail: '',
    qty: 1,
    qty_scale: 0,
    unit_code: 'C62',
    unit_price_minor: row.net_minor,
    net_minor: row.net_minor,
    tax_rate_ppm: row.tax_rate_ppm,
    tax_category: '',
  } as unknown as InvoiceLinesTable;
  const of = statementOf({ row, lines: [line], credited: null });
  return { missing: missingIn(of), xml: xmlOf(ciiTree(of)) };
}

const taxed = {
  net_minor: 45_378,
  tax_minor: 8622,
  tax_rate_ppm: 190_000,
  tax_category: 'S',
  tax_reason: '',
};

describe('every kind of tax', () => {
  // Sources: code lists UNTDID 5305 and VATEX; rules BR-G, BR-AE, BR-IC, BR-E, BR-O of EN 16931-1.
  it.each([
    ['export', {}, ['VATEX-EU-G', '>G<']],
    ['reverse charge', { tax_category: 'AE', buyerTax: 'FR12345678901' }, ['VATEX-EU-AE', '>FR12345678901<']],
    [
      'to a business in the Union',
      { tax_category: 'K', buyerTax: 'FR12345678901' },
      ['VATEX-EU-IC', 'ShipToTradeParty'],
    ],
    ['exempt', { tax_category: 'E', tax_reason: 'Kleinunternehmer' }, ['>Kleinunternehmer<', '>E<']],
    [
      'outside its scope',
      { tax_category: 'O', sellerTax: '48/201/17' },
      ['VATEX-EU-O', '<ram:ID>48/201/17<'],
    ],
    ['taxed, with a local number', { ...taxed, sellerTax: '48/201/17' }, ['schemeID="FC"', '>86.22<']],
    ['a prepayment', { ...taxed, kind: 'deposit' }, ['<ram:TypeCode>386<']],
    [
      'a final invoice',
      { ...taxed, kind: 'balance', prepaid_minor: 13_500 },
      ['>A-0003<', '>135.00<', '>405.00<'],
    ],
  ] as const)('%s passes the schema and says so', async (_name, change, words) => {
    const { xml, missing } = issued(change);
    expect(missing).toEqual([]);
    expect(await schemaErrors(xml)).toEqual([]);
    expectTotalsHold(xml);
    for (const word of words) expect(xml).toContain(word);
    // BR-O-02 and BR-O-05: neither a tax registration nor a rate outside the scope of tax.
    if ('tax_category' in change && change.tax_category === 'O') {
      expect(xml).not.toContain('SpecifiedTaxRegistration');
      expect(xml).not.toContain('RateApplicablePercent');
    }
    // Article 226 (7): a prepayment has no day of supply yet.
    expect(xml.includes('OccurrenceDateTime')).toBe(!('kind' in change && change.kind === 'deposit'));
  });

  it.each([
    ['a business abroad without its number', { tax_category: 'AE' }, 'their tax number is not on it'],
    ['an export under a local number', { sellerTax: '48/201/17' }, 'value added tax'],
    ['an exemption without a reason', { tax_category: 'E', tax_reason: '' }, 'no reason is on it'],
    ['amounts of three decimals', { currency: 'KWD' }, 'two decimals'],
  ] as const)('%s is named', (_name, change, words) => {
    expect(issued(change).missing.join(' ')).toContain(words);
  });
});
