/** What was bought, and what had been used before it came. */
import { amount, micro, microTimes } from './amounts.ts';
import { type Ledger, type Step } from './ledger.ts';
import { incidental, items, type DemoItem, type ItemKey } from './tables/items.ts';
import { purchases, type DemoPurchase } from './tables/purchases.ts';

const tableItem = (key: ItemKey): DemoItem => items[key];

type Line = DemoPurchase['lines'][number];

function lineInput(ledger: Ledger, [pieces, key, price, size]: Line) {
  const { item, each, place } = tableItem(key);
  // An assortment is measured by what it is worth.
  const qtyEach = item.form === 'worth' ? micro(price) : amount(size ?? each, item.unit);
  return { itemId: ledger.house.items[key], pieces, qtyEach, priceMicro: microTimes(pieces, price), place };
}

/** Takes off a new lot what went into knives before it came. */
async function settle(ledger: Ledger, key: ItemKey, lotId: string, qty: number, on: string): Promise<number> {
  if (incidental.includes(key)) {
    const reason = 'For the whole shop: each knife carries a usual flat cost instead.';
    await ledger.ask('stock.count', { lotId, countedQty: 0, reason, on });
    return 0;
  }
  const owed = ledger.owed.get(key) ?? 0;
  if (owed === 0) return qty;
  const reason = 'Borrowed from the supplier’s sample drawer before; it went into knives already.';
  await ledger.ask('stock.count', { lotId, countedQty: qty - owed, reason, on });
  ledger.owed.set(key, 0);
  return qty - owed;
}

async function buy(ledger: Ledger, purchase: DemoPurchase): Promise<void> {
  const lines = purchase.lines.map((line) => lineInput(ledger, line));
  const bought = await ledger.ask('stock.buy', {
    supplierId: ledger.house.suppliers[purchase.supplier],
    on: purchase.on,
    lines,
  });
  const lots = [...bought.lotIds];
  for (const [at, [pieces, key]] of purchase.lines.entries()) {
    const { form } = tableItem(key).item;
    // Bars and sheets lie one by one.
    const count = form === 'length' || form === 'area' ? pieces : 1;
    for (const lotId of lots.splice(0, count)) {
      const qty = (lines[at]?.qtyEach ?? 0) * (count === 1 ? pieces : 1);
      ledger.lotIds.set(key, [...(ledger.lotIds.get(key) ?? []), lotId]);
      const kept = await settle(ledger, key, lotId, qty, purchase.on);
      ledger.left.set(key, (ledger.left.get(key) ?? 0) + kept);
    }
  }
}

/** Every purchase. */
export const buyingSteps = (): readonly Step[] =>
  purchases.map((purchase) => ({
    on: purchase.on,
    order: 0,
    run: (ledger: Ledger) => buy(ledger, purchase),
  }));
