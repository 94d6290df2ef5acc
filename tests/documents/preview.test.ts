/** The preview of a release, read back by an independent reader. Invented data. */
import { describe, expect, it } from 'vitest';
import { renderPreview } from '../../electron/documents/preview.ts';
import type { PreviewPaper } from '../../electron/documents/types.ts';
import { readBack, textOf } from './read-back.ts';

/** A picture of one pixel (PNG, ISO/IEC 15948). */
const pixel = Uint8Array.from(
  Buffer.from(
    'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==',
    'base64',
  ),
);

const paper = (knives: number, photo: Uint8Array | null = pixel): PreviewPaper => ({
  size: 'A4',
  language: 'en',
  madeAt: '2025-03-11T12:00:00.000Z',
  workshopName: 'Sedgewarren Edge Shop',
  title: 'First look',
  mark: 'R1',
  name: 'Nine for the spring',
  intro: ['From the winter’s bench.', 'Who asks first has the knife.'],
  facts: [{ label: 'Opens', text: '14 Mar 2025, 18:00 (UTC)' }],
  knives: Array.from({ length: knives }, (_, at) => ({
    serial: `W${String(at + 1)}`,
    title: 'Quenby chef',
    state: at === 0 ? 'sold' : '',
    price: '540.00 USD',
    shipping: 'Shipping 18.00',
    words: '220 mm blade.',
    remarks: at === 1 ? [{ heading: 'Sold as a second', text: 'A gap of 0.3 mm' }] : [],
    figures: [
      { label: 'Hardness', text: '61.8 HRC (741 HV)' },
      { label: 'Behind the edge', text: `heel 0.15 of ${String(at + 1)}` },
    ],
    photo,
    photoWords: photo === null ? 'No photo yet' : `W${String(at + 1)}, Quenby chef`,
  })),
  notes: [{ heading: 'Where these cannot be sent', text: 'Not sent to: Australia.' }],
});

describe('the preview of a release', () => {
  it('says of every knife what it is, what is wrong with it and what it costs, in that order', async () => {
    const text = textOf(await readBack(await renderPreview(paper(2))));
    const order = [
      'Nine for the spring',
      'W1 · sold',
      '61.8 HRC (741 HV)',
      'W2',
      'Sold as a second: A gap of 0.3 mm',
      'Not sent to: Australia.',
    ].map((part) => text.indexOf(part));
    expect(order).toEqual(order.toSorted((a, b) => a - b));
    expect(order[0]).toBeGreaterThanOrEqual(0);
  });

  it('keeps each knife whole on one page, with a picture, without one, and with a broken one', async () => {
    for (const photo of [pixel, null, Uint8Array.from([1, 2, 3])]) {
      const read = await readBack(await renderPreview(paper(9, photo)));
      expect(read.pages.length).toBeGreaterThan(1);
      for (let at = 1; at <= 9; at += 1) {
        const on = (part: string): number =>
          read.pages.findIndex((page) =>
            page
              .map((word) => word.text)
              .join(' ')
              .includes(part),
          );
        expect(on(`of ${String(at)}`)).toBe(on(`W${String(at)}`));
      }
    }
    expect(await renderPreview(paper(1))).toEqual(await renderPreview(paper(1)));
  });
});
