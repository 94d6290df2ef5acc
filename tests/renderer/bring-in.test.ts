import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { ImportKind } from '../../electron/api/imports.ts';
import { exampleRows, exampleText } from '../../renderer/areas/imports/examples.ts';
import { guessDateOrder, guessDecimalMark } from '../../renderer/areas/imports/guess.ts';
import { textOfFile } from '../../renderer/areas/imports/read-file.ts';
import { idOf, openShop, type Shop } from '../workshop/shop.ts';

const days = (...cells: readonly string[]) => cells.map((cell) => [cell]);

describe('the first guess about a file', () => {
  it('reads the order of the days from whatever cannot be a month', () => {
    const orders = [
      days('2024-07-06'),
      days('6.7.2024', '13.7.2024'),
      days('07/06/2024', '13/07/2024'),
      days('07/06/2024', '07/13/2024'),
    ].map((sample) => guessDateOrder(sample, { date: 0 }, 'US'));
    expect(orders).toEqual(['ymd', 'dmy', 'dmy', 'mdy']);
  });

  it('takes the order usual in the country where both would fit', () => {
    expect(['US', 'GB'].map((country) => guessDateOrder(days('07/06/2024'), { date: 0 }, country))).toEqual([
      'mdy',
      'dmy',
    ]);
    expect(guessDateOrder(days('6.7.2024'), { date: 0 }, 'US')).toBe('dmy');
  });

  it('takes year, month and day where no column holds the day yet', () => {
    expect(guessDateOrder(days('13.7.2024'), { date: -1 }, 'DE')).toBe('ymd');
  });

  it('takes a comma for decimals only where one or two digits follow it at the end', () => {
    const marks = ['24,00', '1.234,5', '1,234', '24.00', '1,234.50', '1,5 h'].map((cell) =>
      guessDecimalMark([[cell]], { price: 0 }),
    );
    expect(marks).toEqual([',', ',', '.', '.', '.', ',']);
  });
});

describe('reading a file', () => {
  it('reads UTF-8, and the older Western encoding where that fails', async () => {
    const older = new Uint8Array([0x47, 0x72, 0xf6, 0xdf, 0x65]);
    expect([await textOfFile(new Blob(['Größe'])), await textOfFile(new Blob([older]))]).toEqual([
      'Größe',
      'Größe',
    ]);
  });
});

describe('the example files', () => {
  let shop: Shop;
  beforeEach(async () => {
    shop = await openShop();
  });
  afterEach(async () => {
    await shop.close();
  });

  /** The example with its columns matched as the program guesses, unknown names made. */
  const order = async (kind: ImportKind) => {
    const text = exampleText(kind);
    const look = await shop.call('imports.look', { kind, text });
    const columns = Object.fromEntries(
      look.fields.map(({ key, label }) => [key, look.columns.indexOf(label)]),
    );
    expect(look.mapping).toEqual(columns);
    return { kind, text, mapping: look.mapping, makeMissing: true };
  };
  const bring = async (kind: ImportKind) => {
    const input = await order(kind);
    const { problems, good } = await shop.call('imports.check', input);
    expect({ problems, good }).toEqual({ problems: [], good: exampleRows(kind).length - 1 });
    return shop.call('imports.run', input);
  };

  it('show every column the program knows, and book every line of purchases and hours', async () => {
    expect(await bring('purchases')).toEqual({ booked: 4, made: 5 });
    expect(await bring('hours')).toEqual({ booked: 4, made: 0 });
  });

  it('book the sales once their knives are finished', async () => {
    for (const serial of ['W01', 'W02']) {
      await shop.call('builds.start', { id: idOf(shop.knives, serial), on: '2024-07-10' });
      await shop.call('builds.finish', { id: idOf(shop.knives, serial), on: '2024-08-01' });
    }
    expect(await bring('sales')).toEqual({ booked: 2, made: 2 });
    const { rows } = await shop.call('selling.invoices', {});
    expect(rows.map((row) => [row.number, row.buyerName, row.totalMinor, row.state])).toEqual([
      ['2024-0002', 'L. Ashby', 33_015, 'paid'],
      ['2024-0001', 'M. Tarn', 29_700, 'paid'],
    ]);
  });
});
