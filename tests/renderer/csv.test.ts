import { describe, expect, it } from 'vitest';
import { base64Of, csvText } from '../../renderer/lib/csv.ts';

describe('lists as CSV (RFC 4180)', () => {
  it('quotes commas, quotes and line ends, and doubles quotes', () => {
    expect(
      csvText([
        ['Item', 'Note'],
        ['Strip, 1/8 in', 'called “thin”\nby "us"'],
      ]),
    ).toBe('Item,Note\r\n"Strip, 1/8 in","called “thin”\nby ""us"""\r\n');
  });

  it('keeps numbers as they are and leaves nothing empty', () => {
    expect(csvText([[12, -3.5, null, undefined, '-3.5']])).toBe('12,-3.5,,,-3.5\r\n');
  });

  it('marks text that a spreadsheet would run as a formula', () => {
    expect(csvText([['=1+1', '+A1', '@SUM(A1)', '-cmd', '-1+A1']])).toBe(
      "'=1+1,'+A1,'@SUM(A1),'-cmd,'-1+A1\r\n",
    );
  });

  it('carries letters of every language as UTF-8', () => {
    const text = 'Größe ½ – 刃'.repeat(2000);
    expect(Buffer.from(base64Of(text), 'base64').toString('utf8')).toBe(text);
  });
});
