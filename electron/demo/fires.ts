/**
 * What stands in the shop for heat: the oven, the forge, the oil, and what current costs. The tables give each knife a
 * usual sum for oil, gas and current, so nothing is poured or burnt here: it would be paid for twice.
 */
import { amount, micro } from './amounts.ts';
import type { Ask } from './desk.ts';
import type { ItemKey } from './tables/items.ts';
import { workshop } from './tables/setting.ts';

/** Watts of a 240 V oven and its share of time under load: common practice, no source. */
const oven = { watts: 3_500, dutyPpm: 600_000 };

/** Enters them; the books hold no cost of any of it. */
export async function setUpFires(ask: Ask, items: Readonly<Record<ItemKey, string>>): Promise<void> {
  await ask('fires.save', { name: 'Heat-treat oven, 22 in deep', kind: 'oven', ...oven, note: '240 V' });
  await ask('fires.save', {
    name: 'Single-burner forge',
    kind: 'forge',
    burnRateNg: amount('3.2', 'lb'),
    gasItemId: items.propane,
    note: 'Weighed over the fires of PW-01: 3.2 lb an hour',
  });
  const note = 'From the bill of the summer';
  await ask('fires.setTariff', { from: workshop.labourFrom, perKwhMicro: micro('0.1725'), note });
  await ask('baths.save', {
    name: 'Quench tank, 5 gal',
    itemId: items.oil,
    note: 'The oil was spent whole when it was bought and each knife carries a usual sum for it. Fill the tank here when the next oil comes; each blade then pays its share.',
  });
}
