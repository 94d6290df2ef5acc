/** Buyers in full, through the real core. */
import { CompiledQuery } from 'kysely';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { buyerPageStatement } from '../../electron/storage/queries/buyers.ts';
import { makeParing, openShop, type Shop, siteOf } from './shop.ts';
import { wholeBooks } from './rig.ts';

let shop: Shop;
beforeEach(async () => {
  shop = await openShop({ now: '2025-06-15' });
});
afterEach(() => shop.close());

const level = async (name: string, rank: number, perMonthMinor: number): Promise<string> =>
  (await shop.call('buyers.saveLevel', { name, rank, perMonthMinor })).id;
const buyer = async (input: Parameters<typeof shop.call<'selling.saveBuyer'>>[1]): Promise<string> =>
  (await shop.call('selling.saveBuyer', input)).id;

describe('a buyer', () => {
  it('is kept in parts, in any script, and found whatever the case, accents or script', async () => {
    const id = await buyer({
      name: 'Ödön Kővirág',
      address: 'Kőris utca 3',
      city: 'Virágmalom',
      postcode: '0000',
      country: 'hu',
      language: 'de',
      taxNumber: 'HU00000000',
      firstContactOn: '2025-01-02',
    });
    await buyer({ name: '霧島 柚葉 🔪', email: 'yuzuha@kirisawa.example' });
    await buyer({ name: 'נועה שדה' });
    const found = async (text: string): Promise<readonly string[]> =>
      (await shop.call('selling.buyers', { text })).rows.map(({ name }) => name);
    expect(await found('ODON kov')).toEqual(['Ödön Kővirág']);
    expect(await found('viragmalom')).toEqual(['Ödön Kővirág']);
    expect(await found('柚葉')).toEqual(['霧島 柚葉 🔪']);
    expect(await found('שדה')).toEqual(['נועה שדה']);
    expect(await found('100%')).toEqual([]);
    expect(await shop.call('selling.buyer', { id })).toMatchObject({
      lines: ['Virágmalom', 'Kőris utca 3', '0000', 'HUNGARY'],
      language: 'de',
      taxNumber: 'HU00000000',
      firstContactOn: '2025-01-02',
      supporter: false,
      level: '',
      owedMinor: 0,
    });
  });

  it('has delivery addresses of their own, and no one else’s', async () => {
    const other = await buyer({ name: 'Bram Larkspindle' });
    const given = { buyerId: shop.buyerId, label: 'At work', recipient: 'Gate 2', city: 'Casklow' };
    const { id } = await shop.call('buyers.saveAddress', { ...given, country: 'GB' });
    const page = await shop.call('selling.buyer', { id: shop.buyerId });
    expect(page.addresses).toMatchObject([{ id, recipient: 'Gate 2', lines: ['Casklow', 'UNITED KINGDOM'] }]);
    expect((await shop.fault('buyers.saveAddress', { buyerId: other, label: 'x', city: 'y', id })).kind).toBe(
      'missing',
    );
    expect(await shop.fault('buyers.saveAddress', { buyerId: other, label: 'Home' })).toMatchObject({
      field: 'address',
    });
  });
});

describe('a long list of buyers', () => {
  it('walks the index of names, sorts nothing, and looks what each bought up by their own key', async () => {
    const filter = { text: '', includeArchived: false };
    const { sql, parameters } = buyerPageStatement(shop.db, filter, {
      limit: 20_000,
      offset: 0,
      today: '2025-06-15',
    }).compile();
    const raw = { compile: () => CompiledQuery.raw(`EXPLAIN QUERY PLAN ${sql}`, [...parameters]) };
    const plan = shop.db.all<{ detail: string }>(raw).map(({ detail }) => detail);
    expect(plan).toContain('SCAN p USING INDEX buyers_by_name');
    expect(plan.filter((step) => step.includes('ORDER BY'))).toEqual([]);
    expect((await shop.call('find.anything', { text: 'FERNSHÁW' })).map(({ id }) => id)).toContain(
      shop.buyerId,
    );
  });
});

describe('support over time', () => {
  it('begins, rises and ends on days that never overlap', async () => {
    const plain = await level('Supporter', 1, 600);
    const patron = await level('Patron', 2, 2500);
    const of = { buyerId: shop.buyerId };
    await shop.call('buyers.support', { ...of, levelId: plain, from: '2025-01-10' });
    await shop.call('buyers.support', { ...of, levelId: patron, from: '2025-03-01' });
    const spans = await shop.call('buyers.endSupport', { ...of, until: '2025-06-30' });
    expect(spans.map(({ levelName, from, until }) => [levelName, from, until])).toEqual([
      ['Supporter', '2025-01-10', '2025-03-01'],
      ['Patron', '2025-03-01', '2025-06-30'],
    ]);
    // A notice given: still a patron today.
    expect((await shop.call('selling.buyer', { id: shop.buyerId })).level).toBe('Patron');
    const before = wholeBooks(shop.db);
    const [first] = spans;
    const bad = [
      ['buyers.support', { ...of, levelId: plain, from: '2025-04-01' }, 'from'],
      ['buyers.support', { ...of, levelId: plain, from: '2025-06-16' }, 'from'],
      [
        'buyers.saveSpan',
        { id: first?.id, levelId: plain, from: '2025-01-10', until: '2025-04-01' },
        'until',
      ],
      [
        'buyers.saveSpan',
        { id: first?.id, levelId: plain, from: '2025-01-10', until: '2025-01-10' },
        'until',
      ],
      ['buyers.saveLevel', { id: plain, name: 'Supporter', rank: 1, perMonthMinor: 700 }, 'perMonthMinor'],
      ['buyers.saveLevel', { name: 'patron', rank: 1, perMonthMinor: 700 }, 'name'],
    ] as const;
    for (const [name, input, field] of bad) expect(await shop.fault(name, input)).toMatchObject({ field });
    expect(wholeBooks(shop.db)).toEqual(before);
  });

  it('counts heads and money at the end of each month', async () => {
    const plain = await level('Supporter', 1, 600);
    const patron = await level('Patron', 2, 2500);
    const other = await buyer({ name: 'Bram Larkspindle' });
    await shop.call('buyers.support', { buyerId: shop.buyerId, levelId: plain, from: '2025-03-31' });
    await shop.call('buyers.support', { buyerId: other, levelId: plain, from: '2025-04-02' });
    await shop.call('buyers.support', { buyerId: other, levelId: patron, from: '2025-05-10' });
    await shop.call('buyers.endSupport', { buyerId: shop.buyerId, until: '2025-05-31' });
    const { months, people } = await shop.call('buyers.supporters', {});
    expect(months.map(({ on, count, minor }) => [on, count, minor])).toEqual([
      ['2025-03-31', 1, 600],
      ['2025-04-30', 2, 1200],
      // Who left on the last day of May is not there at its end.
      ['2025-05-31', 1, 2500],
      ['2025-06-15', 1, 2500],
    ]);
    expect(people.map(({ name, levelName }) => [name, levelName])).toEqual([['Bram Larkspindle', 'Patron']]);
  });
});

describe('two entries of one person', () => {
  it('are suggested by email, telephone, name and address, and stay apart otherwise', async () => {
    const address = { address: '1 Reed Row', city: 'Fernshaw' };
    const twin = await buyer({ name: 'FERNSHAW, Ottoline', ...address, phone: '+1 (202) 555-0143' });
    const third = await buyer({ name: 'O. F.', phone: '202 555 0143', email: 'O.F@fernshaw.example' });
    await buyer({ name: 'Somebody else', email: 'other@fernshaw.example', phone: '555' });
    const pairs = await shop.call('buyers.twins', {});
    expect(pairs.map(({ a, b, why }) => [[a.id, b.id].toSorted(), why])).toEqual([
      [[twin, shop.buyerId].toSorted(), ['name', 'address']],
      [[twin, third].toSorted(), ['phone']],
    ]);
  });

  it('become one: everything of the other shows under the one kept, and nothing counts twice', async () => {
    const plain = await level('Supporter', 1, 600);
    const patron = await level('Patron', 2, 2500);
    const other = await buyer({
      name: 'Ottoline F.',
      email: 'o@fernshaw.example',
      note: 'Likes carbon.',
      firstContactOn: '2024-02-01',
    });
    await shop.call('buyers.support', { buyerId: shop.buyerId, levelId: plain, from: '2025-01-01' });
    await shop.call('buyers.support', { buyerId: other, levelId: patron, from: '2025-02-01' });
    await shop.call('buyers.endSupport', { buyerId: other, until: '2025-03-01' });
    await shop.call('buyers.saveAddress', { buyerId: other, label: 'At work', city: 'Casklow' });
    const asked = { buyerId: other, modelId: shop.modelId, on: '2025-02-01' };
    await shop.call('orders.ask', asked);
    expect(await shop.call('buyers.mergeLook', { keepId: shop.buyerId, otherId: other })).toEqual({
      moves: ['1 wish or order', '1 delivery address', '1 time of support'],
      stays: [],
    });
    const kept = await shop.call('buyers.merge', { keepId: shop.buyerId, otherId: other, take: ['email'] });
    expect(kept).toMatchObject({
      name: 'Ottoline Fernshaw',
      email: 'o@fernshaw.example',
      note: 'Likes carbon.',
      firstContactOn: '2024-02-01',
    });
    const page = await shop.call('selling.buyer', { id: other });
    expect(page.id).toBe(shop.buyerId);
    expect(page.mergedNames).toEqual(['Ottoline F.']);
    expect(page.addresses).toHaveLength(1);
    expect(page.support.map(({ levelName, from, until }) => [levelName, from, until])).toEqual([
      ['Supporter', '2025-01-01', '2025-02-01'],
      ['Patron', '2025-02-01', '2025-03-01'],
      ['Supporter', '2025-03-01', null],
    ]);
    const { months } = await shop.call('buyers.supporters', {});
    expect(months.every(({ count }) => count === 1)).toBe(true);
    expect((await shop.call('selling.buyers', { includeArchived: true })).total).toBe(1);
    expect((await shop.fault('buyers.merge', { keepId: other, otherId: shop.buyerId })).kind).toBe('refused');
    expect((await shop.fault('buyers.merge', { keepId: other, otherId: other })).field).toBe('otherId');
  });
});

describe('a buyer with a knife and an open invoice', () => {
  it('keeps both under the entry that stays, and is not forgotten before the money is settled', async () => {
    const other = await buyer({ name: 'Ottoline F.', country: 'US' });
    const sale = {
      buildId: await makeParing(shop, 'W01'),
      buyerId: other,
      channelId: siteOf(shop),
      taxPlaceId: null,
      priceMinor: 15_000,
      shippingMinor: 1200,
      on: '2025-06-15',
    };
    const { invoiceId } = await shop.call('selling.sell', sale);
    await shop.call('buyers.merge', { keepId: shop.buyerId, otherId: other });
    expect(await shop.call('selling.buyer', { id: shop.buyerId })).toMatchObject({
      bought: 1,
      spentMinor: 16_200,
      owedMinor: 16_200,
      sales: [{ buyerId: shop.buyerId }],
      // The paper keeps the name and the entry it was issued to.
      invoices: [{ id: invoiceId, buyerId: other, buyerName: 'Ottoline F.' }],
    });
    const before = wholeBooks(shop.db);
    expect((await shop.fault('buyers.erase', { id: shop.buyerId })).message).toBe(
      'Not yet. Money is still open on 2025-0001. Settle or credit it first.',
    );
    expect(wholeBooks(shop.db)).toEqual(before);
    const payment = { on: '2025-06-15', amountMinor: 16_200, method: 'transfer' };
    await shop.call('selling.pay', { invoiceId: invoiceId ?? '', ...payment });
    await shop.call('buyers.erase', { id: shop.buyerId });
    const { journal: _, invoices, ...books } = wholeBooks(shop.db);
    expect(JSON.stringify(books)).not.toMatch(/Ottoline/);
    expect(JSON.stringify(invoices)).toMatch(/Ottoline F\./);
    expect((await shop.call('selling.buyer', { id: other })).name).toBe('Forgotten person');
  });
});

describe('a person who asks to be forgotten', () => {
  it('goes from every row that may be rewritten; what stays is said', async () => {
    const plain = await level('Supporter', 1, 600);
    await shop.call('buyers.support', { buyerId: shop.buyerId, levelId: plain, from: '2025-01-01' });
    await shop.call('buyers.saveAddress', { buyerId: shop.buyerId, label: 'At work', city: 'Casklow' });
    const look = await shop.call('buyers.eraseLook', { id: shop.buyerId });
    expect(look.obstacles).toEqual([]);
    expect(look.stays.join(' ')).toMatch(/journal.*Safety copies/);
    await shop.call('buyers.erase', { id: shop.buyerId });
    const { journal, ...books } = wholeBooks(shop.db);
    expect(JSON.stringify(books)).not.toMatch(/Ottoline|Fernshaw|Casklow/);
    // The journal is sealed entry by entry and keeps what was typed.
    expect(JSON.stringify(journal)).toMatch(/Ottoline/);
    expect(await shop.call('selling.buyer', { id: shop.buyerId })).toMatchObject({
      name: 'Forgotten person',
      erasedOn: '2025-06-15',
      country: 'US',
      support: [{ from: '2025-01-01', until: '2025-06-15' }],
    });
    expect(
      (await shop.fault('selling.saveBuyer', { id: shop.buyerId, name: 'Ottoline Fernshaw' })).message,
    ).toMatch(/forgotten on 2025-06-15/);
    expect(await shop.call('buyers.export', { includeArchived: true })).toEqual([]);
  });
});
