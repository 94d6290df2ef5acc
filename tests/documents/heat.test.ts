/** The record of a heat treatment, read back by an independent reader. Invented data. */
import { describe, expect, it } from 'vitest';
import { renderHeat } from '../../electron/documents/heat.ts';
import type { HeatPaper } from '../../electron/documents/types.ts';
import { readBack, textOf } from './read-back.ts';

const paper = (knives: number): HeatPaper => ({
  size: 'Letter',
  language: 'en',
  madeAt: '2024-08-20T12:00:00.000Z',
  workshopName: 'Sedgewarren Edge Shop',
  title: 'Heat treatment',
  tag: 'H-0001',
  name: 'Thin kitchen',
  facts: [{ label: 'Heated in', text: 'Kiln' }],
  steps: [
    { label: 'Soak', note: 'into a hot oven', celsius: '816 °C', fahrenheit: '1500 °F', time: '10 min' },
    { label: 'Temper', note: '', celsius: '204 °C', fahrenheit: '400 °F', time: '2 h' },
  ],
  knives: Array.from({ length: knives }, (_, at) => ({
    serial: `W${String(at + 1)}`,
    name: 'Tessel paring',
  })),
  checks: [
    {
      knife: 'W1',
      on: '2024-08-18',
      what: 'Hardness',
      found: '60.9 HRC (718 HV), mean of 3',
      verdict: 'passed',
    },
  ],
  remarks: ['Tempering parameter 9.839.'],
  cautions: ['Keep the oil under its flash point.'],
});

describe('the record of a heat treatment', () => {
  it('says what was done on both scales, to which knives, and what was found, in that order', async () => {
    const text = textOf(await readBack(await renderHeat(paper(2))));
    const order = [
      'Thin kitchen',
      '816 °C',
      '1500 °F',
      'Knives',
      'W2',
      'Checks after it',
      '60.9 HRC (718 HV)',
    ];
    const places = [...order, 'parameter 9.839', 'flash point'].map((words) => text.indexOf(words));
    expect(places.every((place) => place >= 0)).toBe(true);
    expect(places).toEqual(places.toSorted((a, b) => a - b));
  });

  it('goes on over pages without losing a knife, and is the same for the same data', async () => {
    const bytes = await renderHeat(paper(100));
    const text = textOf(await readBack(bytes));
    for (let at = 1; at <= 100; at += 1) expect(text).toContain(`W${String(at)}`);
    expect(Buffer.compare(await renderHeat(paper(100)), bytes)).toBe(0);
  });
});
