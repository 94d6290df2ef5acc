/** Packing slip, list of contents and certificate, read back by an independent reader. Invented data. */
import { describe, expect, it } from 'vitest';
import { renderCertificate } from '../../electron/documents/certificate.ts';
import { renderContentList, renderPackingSlip } from '../../electron/documents/parcel.ts';
import type { CertificatePaper, ContentListPaper, PackingSlipPaper } from '../../electron/documents/types.ts';
import { blankCanvas } from '../../electron/demo/pictures/raster.ts';
import { toPng } from '../../electron/demo/pictures/png.ts';
import { readBack, textOf } from './read-back.ts';

const frame = {
  size: 'A4',
  language: 'en',
  madeAt: '2025-05-30T12:00:00.000Z',
  workshopName: 'Sedgewarren Edge Shop',
} as const;

const certificate = (more: Partial<CertificatePaper> = {}): CertificatePaper => ({
  ...frame,
  title: 'Certificate',
  serial: 'W27',
  name: 'Quenby chef',
  facts: [{ label: 'Finished', text: '24 May 2025' }],
  photo: null,
  groups: [
    { heading: 'Blade', rows: [{ label: 'Hardness', text: '61.5 HRC (733 HV), mean of 2 readings' }] },
    { heading: 'Measured', rows: [{ label: 'Weight', text: '6.3 oz (179 g)' }] },
  ],
  papers: { heading: 'Papers', lines: ['Block: Dalbergia, document 24-118', 'Check the rule in force.'] },
  texts: [{ heading: 'Care', text: 'Wash by hand and dry at once.' }],
  signed: { label: 'Signed', name: 'Jorun Sedgewarren' },
  ...more,
});

describe('a certificate', () => {
  it('stands on one page with its picture, as large as the texts leave it room for', async () => {
    const photo = { bytes: await toPng(blankCanvas(60, 40, [90, 90, 90])), alt: 'Photograph of W27' };
    for (const words of [10, 300]) {
      const texts = [{ heading: 'Care', text: 'Keep it dry and oiled. '.repeat(words) }];
      const read = await readBack(await renderCertificate(certificate({ photo, texts })));
      expect(read.pages).toHaveLength(words > 100 ? 2 : 1);
      expect(read.tags).toContain('Figure');
      const text = textOf(read);
      for (const said of ['Quenby chef', '61.5 HRC (733 HV)', '24-118', 'Jorun Sedgewarren']) {
        expect(text).toContain(said);
      }
    }
  });

  it('does without a picture whose bytes are broken, and is the same for the same data', async () => {
    const photo = { bytes: new Uint8Array([137, 80, 78, 71, 13, 10, 26, 10, 0, 0]), alt: 'Broken' };
    const bytes = await renderCertificate(certificate({ photo }));
    expect((await readBack(bytes)).tags).not.toContain('Figure');
    expect(Buffer.compare(await renderCertificate(certificate({ photo })), bytes)).toBe(0);
  });
});

const slip = (valued: boolean): PackingSlipPaper => ({
  ...frame,
  title: 'Packing slip',
  mark: 'W27',
  sender: ['4 Withy Lane', 'Alderholt Ferry'],
  // A name in another script and a sign no typeface here has: the page must hold all the same.
  recipient: { label: 'For', lines: ['Катя Ferrowind 🔪', 'שדרות הברזל 9', 'UNITED KINGDOM'] },
  facts: [{ label: 'Sent', text: '30 May 2025' }],
  heads: { what: 'In this parcel', quantity: 'Quantity', value: valued ? 'Value' : '' },
  lines: Array.from({ length: 50 }, (_, at) => ({
    what: `Thing ${String(at + 1)}`,
    detail: '',
    quantity: '1',
    value: valued ? '10.00 USD' : '',
  })),
  total: { label: 'Together', value: '500.00 USD' },
  notes: [{ heading: '', text: 'Open with care.' }],
});

describe('the papers of a parcel', () => {
  it('name all that is in it over pages, with values only where they are wanted', async () => {
    for (const valued of [false, true]) {
      const read = await readBack(await renderPackingSlip(slip(valued)));
      const text = textOf(read);
      expect(read.pages.length).toBeGreaterThan(1);
      for (let at = 1; at <= 50; at += 1) expect(text).toContain(`Thing ${String(at)}`);
      expect(text.includes('500.00 USD')).toBe(valued);
      expect(text).toContain('Катя Ferrowind');
    }
  });

  it('keep every figure of the list in its own column, inside the page', async () => {
    const list: ContentListPaper = {
      ...frame,
      title: 'List of contents',
      mark: 'W27',
      sender: { label: 'Sender', lines: ['Sedgewarren Edge Shop', 'UNITED STATES'] },
      recipient: { label: 'Recipient', lines: ['Katya Ferrowind', 'UNITED KINGDOM'] },
      facts: [{ label: 'Gross weight', text: '15.2 oz (431 g)' }],
      heads: ['Description', 'Quantity', 'Net weight', 'Value', 'Tariff number', 'Origin'],
      lines: [
        {
          what: 'Kitchen knife with a fixed blade of steel and a handle of wood (Quenby chef, serial W27)',
          cells: ['1', '6.3 oz (179 g)', '540.00 USD', '8211.92', 'UNITED STATES'],
        },
      ],
      total: ['Together', '1', '6.3 oz (179 g)', '540.00 USD', '', ''],
      declared: { label: 'Declared by', name: 'Jorun Sedgewarren', signature: 'Date and signature' },
      caution: 'Check the rule in force.',
    };
    const [words = []] = (await readBack(await renderContentList(list))).pages;
    // The reader parts figures at their spaces: each column is known by a word of its own.
    const line = words.find((word) => word.text === '8211.92')?.y;
    const row = ['1', '(179', '540.00', '8211.92', 'UNITED'].map((text) => {
      const found = words.find((word) => word.text === text && word.y === line);
      if (found === undefined) throw new Error(`${text} is not on its line`);
      return found;
    });
    for (const [place, word] of row.entries()) {
      expect(word.x).toBeGreaterThan(row[place - 1]?.end ?? 0);
      expect(word.end).toBeLessThan(595.28 - 54);
    }
    expect(words.filter((word) => word.text === '540.00')).toHaveLength(2);
  });
});
