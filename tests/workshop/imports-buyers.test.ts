/** Bringing in people, from tables and from address cards. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Input, Output } from '../../electron/api/contract.ts';
import { wholeBooks } from './rig.ts';
import { openShop, type Shop } from './shop.ts';

let shop: Shop;
beforeEach(async () => {
  shop = await openShop();
});
afterEach(() => shop.close());

type Matched = Input<'imports.run'>;

/** A file with its columns matched as the program guesses. */
async function matched(text: string, more: Partial<Matched> = {}): Promise<Matched> {
  const { mapping } = await shop.call('imports.look', { kind: 'buyers', text });
  return { kind: 'buyers', text, mapping, ...more };
}

/** What checking finds, and proof that running the same file books nothing. */
async function refusedFile(input: Matched): Promise<Output<'imports.check'>> {
  const before = wholeBooks(shop.db);
  const check = await shop.call('imports.check', input);
  expect((await shop.fault('imports.run', input)).message).toContain('Nothing was booked.');
  expect(wholeBooks(shop.db)).toEqual(before);
  return check;
}

describe('buyers', () => {
  const head = 'Name,Email,Tel,Street,City,ZIP,Country,First contact,Supporter level,Supporter since';

  it('come with their address, tax place and membership; those known already are named and left out', async () => {
    await shop.call('buyers.saveLevel', { name: 'Supporter', rank: 1, perMonthMinor: 600 });
    const text = [
      head,
      '"Fernshaw, OTTOLINE",,,,,,,,,',
      'Ödön Kővirág,odon@kovirag.example,,Kőris utca 3,Virágmalom,0000,Hungary,5.1.2024,supporter,1.2.2024',
      'O. K.,ODON@kovirag.example,,,,,,,,',
      '霧島 柚葉 🔪,,,,,,jp,,,',
    ].join('\n');
    const input = await matched(text, { dateOrder: 'dmy' });
    const check = await refusedFile(input);
    expect(check.problems.map(({ line, field, message }) => [line, field, message.split('.')[0]])).toEqual([
      [2, 'name', 'This may be Ottoline Fernshaw, by the same name'],
      [4, 'name', 'This may be Ödön Kővirág in line 3, by the same email'],
    ]);
    const left = await shop.call('imports.check', { ...input, leaveOutKnown: true });
    expect([left.good, left.problems, left.leftOut.map(({ line }) => line)]).toEqual([2, [], [2, 4]]);
    expect(await shop.call('imports.run', { ...input, leaveOutKnown: true })).toEqual({ booked: 2, made: 0 });
    const [made] = (await shop.call('selling.buyers', { text: 'kovirag' })).rows;
    expect(made).toMatchObject({
      country: 'HU',
      firstContactOn: '2024-01-05',
      level: 'Supporter',
      taxPlaceId: shop.places[0]?.id,
    });
    expect((await shop.call('selling.buyers', {})).total).toBe(3);
  });

  it('are refused with the field that is wrong', async () => {
    const line = 'A. B.,,,,,,Nowhere,31.12.2099,Patron,1.1.2024';
    const input = await matched(`${head}\n${line}\n,,,,,,,,,1.1.2024`, { dateOrder: 'dmy' });
    const check = await refusedFile(input);
    expect(check.problems.map(({ line: at, field }) => [at, field])).toEqual([
      [2, 'country'],
      [2, 'firstContact'],
      [2, 'level'],
      [2, 'level'],
      [3, 'name'],
      [3, 'level'],
    ]);
  });

  it('come from cards as from a table, and cards bring nothing but buyers', async () => {
    const text =
      'BEGIN:VCARD\r\nVERSION:3.0\r\nN:Tidelatch;Eamon;;;\r\nADR;TYPE=home:;;17 Slipway;Tidelatch;;00678;U.S.A.\r\nEND:VCARD\r\n';
    const input = await matched(text);
    expect(await shop.call('imports.run', input)).toEqual({ booked: 1, made: 0 });
    const [made] = (await shop.call('selling.buyers', { text: 'eamon' })).rows;
    expect(made).toMatchObject({ name: 'Eamon Tidelatch', city: 'Tidelatch', country: 'US' });
    expect((await shop.fault('imports.look', { kind: 'sales', text })).message).toMatch(/under Buyers/);
    expect((await shop.fault('imports.look', { kind: 'buyers', text: 'BEGIN:VCARD\nFN:A' })).message).toMatch(
      /no end/,
    );
  });
});
