/** How papers look and speak: kept, refused with a reason, and seen on the invoices that follow. */
import { deflateSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { renderInvoice } from '../../electron/documents/invoice.ts';
import { checkDigits97 } from '../../electron/domain/mod97.ts';
import type { InvoicePaper } from '../../electron/documents/types.ts';
import { wordsFor, paperLanguages } from '../../electron/workshop/paper-words/index.ts';
import { noPress } from './no-press.ts';
import { openShop, plainKnife, saleOf, type Shop } from './shop.ts';

const printed: InvoicePaper[] = [];
let shop: Shop;
beforeAll(async () => {
  const renderer = noPress('only invoices are printed here', {
    invoice: (data) => {
      printed.push(data);
      return renderInvoice(data);
    },
  });
  shop = await openShop({ currency: 'EUR', renderer });
});
afterAll(async () => {
  expect(shop.log).toEqual([]);
  await shop.close();
});

const tooLong = '3704004405320130001';
const plain = { language: 'en', size: 'A4' } as const;

/** A picture of one dot, as PNG asks for it (ISO/IEC 15948); its checks are right, or the first one is not. */
function png(sound: boolean): string {
  const crcOf = (bytes: Buffer): number => {
    let crc = 0xffffffff;
    for (const byte of bytes) {
      crc ^= byte;
      for (let bit = 0; bit < 8; bit += 1) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
    }
    return (crc ^ 0xffffffff) >>> 0;
  };
  const chunk = (name: string, data: Buffer): Buffer => {
    const body = Buffer.concat([Buffer.from(name, 'latin1'), data]);
    const frame = Buffer.alloc(8);
    frame.writeUInt32BE(data.length, 0);
    frame.writeUInt32BE(crcOf(body), 4);
    return Buffer.concat([frame.subarray(0, 4), body, frame.subarray(4)]);
  };
  const head = Buffer.from([0, 0, 0, 1, 0, 0, 0, 1, 8, 2, 0, 0, 0]);
  const dots = sound ? deflateSync(Buffer.from([0, 31, 78, 121])) : Buffer.from('no picture');
  const parts = [chunk('IHDR', head), chunk('IDAT', dots), chunk('IEND', Buffer.alloc(0))];
  const all = Buffer.concat([Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'), ...parts]);
  return (sound ? all : all.subarray(0, 20)).toString('base64');
}

describe('the look of papers', () => {
  it.each([
    [{ ...plain, language: 'xx' }, 'language', 'not written in this language'],
    [{ ...plain, accent: '#ffd700' }, 'accent', 'too pale to read on white paper'],
    [{ ...plain, accent: 'blue' }, 'accent', '# and six digits'],
    [{ ...plain, iban: 'DE89 3704 0044 0532 0130 01' }, 'iban', 'may be mistyped'],
    // Its check digits fit, but no German number is so long: 18 digits follow them (IBAN registry).
    [{ ...plain, iban: `DE${checkDigits97('DE', tooLong)}${tooLong}` }, 'iban', 'may be mistyped'],
    [{ ...plain, bic: 'COBADE' }, 'bic', '8 or 11'],
  ])('refuses %j and says why', async (input, field, words) => {
    const before = await shop.call('papers.settings', {});
    const fault = await shop.fault('papers.save', input);
    expect(fault).toMatchObject({ kind: 'invalid', field });
    expect(fault.message).toContain(words);
    expect(await shop.call('papers.settings', {})).toEqual(before);
  });

  it('takes a sound logo, refuses what is none, and takes it off again', async () => {
    const pdf = Buffer.from('%PDF-1.7 nothing').toString('base64');
    expect(await shop.fault('papers.setLogo', { name: 'a.pdf', base64: pdf })).toMatchObject({
      field: 'base64',
      message: 'a.pdf is not a PNG or JPEG picture. Save it as one of these first.',
    });
    const broken = await shop.fault('papers.setLogo', { name: 'b.png', base64: png(false) });
    expect(broken.message).toContain('b.png is damaged');
    const kept = await shop.call('papers.setLogo', { name: 'c.png', base64: png(true) });
    expect(kept.logo).toEqual({ mime: 'image/png', base64: png(true) });
    expect((await shop.call('papers.removeLogo', {})).logo).toBeNull();
    await shop.call('papers.setLogo', { name: 'c.png', base64: png(true) });
  });

  it('shows a sample in a look that is not saved', async () => {
    const file = await shop.call('papers.sample', { language: 'de', size: 'A4', accent: '#1f4e79' });
    expect(file.name).toBe('Muster.pdf');
    expect(printed.at(-1)).toMatchObject({ title: 'Rechnung', draftMark: 'Muster', language: 'de' });
    expect(printed.at(-1)?.look?.accent).toBe('#1f4e79');
    expect((await shop.call('papers.settings', {})).accent).toBe('');
  });
});

describe('an invoice after that', () => {
  it('speaks the language of its buyer, asks for payment and says what goes with the knife', async () => {
    await shop.call('papers.save', {
      ...plain,
      accent: '#1F4E79',
      iban: 'de89 3704 0044 0532 0130 00',
      bic: 'cobadeffxxx',
      bankName: 'Bank am Bruch',
    });
    await shop.call('papers.saveTexts', {
      language: 'de',
      texts: [
        { kind: 'care', text: 'Von Hand waschen.' },
        { kind: 'returns', text: 'Vierzehn Tage.' },
      ],
    });
    const buyer = await shop.call('selling.saveBuyer', { name: 'Odile Barrowmint', language: 'de' });
    const knife = await plainKnife(shop);
    const sold = await shop.call('selling.sell', saleOf(shop, knife, { buyerId: buyer.id, invoice: true }));
    const [paper] = printed.slice(-1);
    if (paper === undefined) throw new Error('Nothing was printed');
    expect(paper).toMatchObject({ title: 'Rechnung', language: 'de', folio: 'Seite {page} von {pages}' });
    expect(paper.look?.accent).toBe('#1f4e79');
    expect(paper.look?.logo?.byteLength).toBeGreaterThan(0);
    expect(paper.facts[0]).toMatchObject({ label: 'Rechnungsdatum' });
    expect(paper.facts[0]?.text).toMatch(/^\d\d\.\d\d\.\d{4}$/);
    const texts = Object.fromEntries((paper.payment?.facts ?? []).map((fact) => [fact.label, fact.text]));
    expect(texts['IBAN']).toBe('DE89 3704 0044 0532 0130 00');
    expect(texts['Bank']).toBe('Bank am Bruch');
    expect(texts['Referenz']).toMatch(/^RF\d\d /);
    // EPC069-12: BIC, name, account, amount, purpose, reference; one euro amount, no text beside the reference.
    const code = paper.payment?.code?.text.split('\n') ?? [];
    const total = (await shop.call('selling.invoice', { id: sold.invoiceId ?? '' })).totalMinor;
    expect(code.slice(0, 4)).toEqual(['BCD', '002', '1', 'SCT']);
    expect([code[4], code[6]]).toEqual(['COBADEFFXXX', 'DE89370400440532013000']);
    expect(code[7]).toBe(`EUR${String(total / 100)}`);
    expect(code[9]).toBe(texts['Referenz']?.replaceAll(' ', ''));
    const remarks = Object.fromEntries(paper.remarks.map((one) => [one.heading, one.text]));
    expect(remarks).toMatchObject({ Pflege: 'Von Hand waschen.', Rückgabe: 'Vierzehn Tage.' });
    // What is not written in that language is not said at all.
    expect(remarks).not.toHaveProperty('Gewährleistung');
  });

  it('credits without asking for payment', async () => {
    const [first] = (await shop.call('selling.invoices', { limit: 1 })).rows;
    await shop.call('selling.credit', {
      invoiceId: first?.id ?? '',
      on: '2024-12-31',
      reason: 'Riss im Griff',
      knifeComesBack: true,
    });
    expect(printed.at(-1)).toMatchObject({ title: 'Rechnungskorrektur', payment: null, remarks: [] });
  });
});

describe('the words of papers', () => {
  it('are empty in a language only where English has none either', () => {
    const emptyIn = (value: unknown, path = ''): string[] => {
      if (typeof value === 'string') return value.trim() === '' ? [path] : [];
      if (typeof value !== 'object' || value === null) return [];
      return Object.entries(value).flatMap(([key, part]) => emptyIn(part, `${path}.${key}`));
    };
    for (const language of paperLanguages)
      expect(emptyIn(wordsFor(language))).toEqual(emptyIn(wordsFor('en')));
  });
});
