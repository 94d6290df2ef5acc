/** What the maker changed on the way: stones for paper, and the price list. */
import { cents } from './amounts.ts';
import type { Ledger, Step } from './ledger.ts';
import { modelInput } from './set-up.ts';
import { stonesFrom } from './tables/builds.ts';
import { changedByStones, models, variants } from './tables/models.ts';
import { newPricesFrom } from './tables/setting.ts';

async function takeUpStones(ledger: Ledger): Promise<void> {
  const changed = { ...ledger.house.models };
  for (const variant of changedByStones) {
    const { id } = ledger.house.models[variant];
    const input = { ...modelInput(variant, ledger.house.items, true), id, method: 'stone' };
    changed[variant] = await ledger.ask('builds.saveModel', input);
  }
  ledger.house = { ...ledger.house, models: changed };
}

async function raisePrices(ledger: Ledger): Promise<void> {
  for (const variant of variants) {
    const { priceLater } = models[variant];
    if (priceLater === null) continue;
    const { id } = ledger.house.models[variant];
    await ledger.ask('builds.setPrice', {
      modelId: id,
      from: newPricesFrom,
      priceMinor: cents(priceLater),
    });
  }
}

export const changeSteps = (): readonly Step[] => [
  { on: stonesFrom, order: 0, run: takeUpStones },
  { on: newPricesFrom, order: 0, run: raisePrices },
];
