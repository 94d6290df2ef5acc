/** The sheet of a making, read back by an independent reader. Invented data. */
import { describe, expect, it } from 'vitest';
import { renderMaking } from '../../electron/documents/making.ts';
import type { MakingPaper } from '../../electron/documents/types.ts';
import { readBack, textOf } from './read-back.ts';

const step = (at: number): MakingPaper['steps'][number] => ({
  on: '2025-05-03',
  label: `Weld and draw ${at}`,
  detail: at % 2 === 0 ? 'cut into 4 and stacked' : '',
  weight: `${String(2000 - at * 10)} g`,
  loss: '0.5 %',
  layers: '60',
  part: 1 - at / 100,
});

const paper = (steps: number, more: Partial<MakingPaper> = {}): MakingPaper => ({
  size: 'Letter',
  language: 'en',
  madeAt: '2025-05-12T09:00:00.000Z',
  workshopName: 'Sedgewarren Edge Shop',
  title: 'Making',
  tag: 'M-0001',
  name: 'PW-01',
  facts: [
    { label: 'Begun', text: '2025-05-03' },
    { label: 'Ended', text: '2025-05-11' },
  ],
  steps: Array.from({ length: steps }, (_, at) => step(at)),
  sections: [
    {
      heading: 'What it cost',
      rows: [
        { label: 'Flux', detail: 'entered as an amount', amount: '6.01', strong: false },
        { label: 'Together', detail: '', amount: '6.01', strong: true },
      ],
    },
  ],
  outputs: [{ lot: 'L-0002', name: 'Good bar', amount: '380 g', value: '6.01', time: '45 min', detail: '' }],
  remarks: ['A remark.'],
  working: [{ heading: 'Flux', rows: [{ on: '2025-05-03', label: 'Flux', how: 'twice', exact: '3.00' }] }],
  ...more,
});

describe('the sheet of a making', () => {
  it('says what was done, what it cost and what came out, in that order', async () => {
    const read = await readBack(await renderMaking(paper(3)));
    const text = textOf(read);
    const order = [
      'PW-01',
      'Steps',
      'Weld and draw 0',
      'What it cost',
      'Together',
      'What came out of it',
      'L-0002',
    ];
    const places = order.map((words) => text.indexOf(words));
    expect(places.every((place) => place >= 0)).toBe(true);
    expect(places).toEqual(places.toSorted((a, b) => a - b));
    expect([read.marked, read.language, read.title]).toEqual([true, 'en', 'Making M-0001, PW-01']);
    expect(read.tags).toEqual(expect.arrayContaining(['H1', 'H2', 'Table', 'TR', 'TH', 'TD', 'P']));
  });

  it('repeats the headings of a long table on each page and loses no step', async () => {
    const read = await readBack(await renderMaking(paper(90)));
    expect(read.pages.length).toBeGreaterThan(2);
    const text = textOf(read);
    for (let at = 0; at < 90; at += 1) expect(text).toContain(`Weld and draw ${at}`);
    const first = read.pages[0]?.filter((word) => word.text === 'Weight').length;
    const second = read.pages[1]?.filter((word) => word.text === 'Weight').length;
    expect([first, second]).toEqual([1, 1]);
  });

  it('keeps every word inside the frame, on either size of sheet', async () => {
    const long = 'Clean both faces on the grinder, crop the ends, saw through and stack again '.repeat(3);
    const steps = [{ ...step(1), label: long, detail: long }];
    for (const [size, width] of [
      ['A4', 595.28],
      ['Letter', 612],
    ] as const) {
      const read = await readBack(await renderMaking(paper(0, { size, steps, name: long })));
      expect(read.pages.flat().length).toBeGreaterThan(20);
      for (const word of read.pages.flat()) {
        expect(word.x).toBeGreaterThanOrEqual(30);
        expect(word.end).toBeLessThanOrEqual(width - 30);
      }
    }
  });

  it('stands without steps, outputs and working, and is the same twice', async () => {
    const bare = paper(0, { outputs: [], working: [], remarks: [] });
    const [one, two] = [await renderMaking(bare), await renderMaking(bare)];
    expect(Buffer.from(one).equals(Buffer.from(two))).toBe(true);
    expect(textOf(await readBack(one))).not.toContain('Steps');
  });
});
