import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { countryLine } from '../../electron/domain/country-names.ts';
import { idOf, openShop, plainKnife, saleOf, type Shop } from './shop.ts';

let shop: Shop;
beforeAll(async () => {
  shop = await openShop();
});
afterAll(async () => {
  expect(shop.log).toEqual([]);
  await shop.close();
});

/** Address lines on the invoice of a buyer who lives there. */
async function printed(address: string, country: string): Promise<readonly string[]> {
  const buyer = await shop.call('selling.saveBuyer', { name: 'Ottoline Fernshaw', address, country });
  const knife = await plainKnife(shop);
  await shop.call(
    'selling.sell',
    saleOf(shop, knife, { buyerId: buyer.id, invoice: true, ticks: ['law', 'age'] }),
  );
  return shop.press.invoices.at(-1)?.buyer.lines ?? [];
}

describe('the buyer’s address on an invoice', () => {
  it('leaves out the workshop’s own country', async () => {
    expect(await printed('1 Reed Row\nFernshaw', 'US')).toEqual(['1 Reed Row', 'Fernshaw']);
    expect(await printed('', 'US')).toEqual([]);
    expect(await printed('1 Reed Row\nFernshaw', '')).toEqual(['1 Reed Row', 'Fernshaw']);
  });

  it('writes another country by name, in capitals, once', async () => {
    expect(await printed('1 Reed Row\nFernshaw', 'GB')).toEqual(['1 Reed Row', 'Fernshaw', 'UNITED KINGDOM']);
    expect(await printed('Rohrweg 1\nSchilfau\nGermany', 'DE')).toEqual(['Rohrweg 1', 'Schilfau', 'Germany']);
    expect(await printed('', 'CH')).toEqual(['SWITZERLAND']);
  });

  it('falls back on the code where a country has no name', () => {
    expect(countryLine('QQ')).toBe('QQ');
  });
});

describe('the model on a printed cost sheet', () => {
  it('is named beside its code only where the knife has another name', async () => {
    const buildId = idOf(shop.knives, 'W01');
    const facts: (string | undefined)[] = [];
    const names: (string | undefined)[] = [];
    for (const title of ['', 'Tessel paring', 'Wedding set, small']) {
      await shop.call('builds.update', {
        id: buildId,
        serial: 'W01',
        title,
        method: '',
        batch: '',
        note: '',
      });
      await shop.call('costs.sheetPdf', { buildId });
      const sheet = shop.press.sheets.at(-1);
      facts.push(sheet?.facts.find((fact) => fact.label === 'Model')?.text);
      names.push(sheet?.knife);
    }
    expect(names).toEqual(['Tessel paring', 'Tessel paring', 'Wedding set, small']);
    expect(facts).toEqual(['PAR', 'PAR', 'PAR, Tessel paring']);
  });
});
