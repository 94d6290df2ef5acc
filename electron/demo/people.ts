/** Supporters who come and go, and the table of where parcels are not sent. */
import type { Ledger, Step } from './ledger.ts';
import type { BuyerKey } from './tables/people.ts';
import { buyersSupportFrom, left, shipRules, supporters } from './tables/supporters.ts';

const keys = Object.keys(buyersSupportFrom) as BuyerKey[];

async function join({ ask, house }: Ledger, buyerId: string, from: string): Promise<void> {
  await ask('buyers.support', { buyerId, levelId: house.levelId, from });
}

const buyerJoins = (): readonly Step[] =>
  keys.map((key) => {
    const from = buyersSupportFrom[key] ?? '';
    return { on: from, order: 1, run: (ledger) => join(ledger, ledger.house.buyers[key], from) };
  });

/** A new supporter is written down on the day they join. */
const supporterJoins = (): readonly Step[] =>
  supporters.map(({ from, buyer }) => ({
    on: from,
    order: 1,
    async run(ledger) {
      const { house, ask } = ledger;
      const taxPlaceId = buyer.country === 'US' ? house.places.away : house.places.abroad;
      const { id } = await ask('selling.saveBuyer', { ...buyer, taxPlaceId });
      await join(ledger, id, from);
    },
  }));

const leaving: Step = {
  on: left.on,
  order: 1,
  async run({ ask }) {
    const { rows } = await ask('selling.buyers', { text: left.name });
    const [one] = rows;
    if (one === undefined) throw new Error(`${left.name} never joined`);
    await ask('buyers.endSupport', { buyerId: one.id, until: left.on });
  },
};

const rules = (): readonly Step[] =>
  shipRules.map((rule) => ({
    on: rule.checkedOn,
    order: 0,
    async run({ ask }) {
      await ask('shipping.saveRule', rule);
    },
  }));

export const peopleSteps = (): readonly Step[] => [...buyerJoins(), ...supporterJoins(), leaving, ...rules()];
