/** What was spent beside purchases, trips, tools that last, and what supporters paid, as the days went by. */
import { daysDue } from '../domain/expenses.ts';
import { monthEnd, monthsBetween } from '../domain/calendar.ts';
import { cents, micro } from './amounts.ts';
import type { Ledger, Step } from './ledger.ts';
import {
  assets,
  category,
  type DemoExpense,
  type DemoRepeat,
  expenses,
  mileRate,
  repeats,
  trips,
} from './tables/money.ts';

const LAST = '2025-12-31';

/** The repeat is written down on its first day and booked each time it falls due. */
function repeatSteps(repeat: DemoRepeat): readonly Step[] {
  const { amounts, payee, everyMonths, from, note } = repeat;
  const categoryId = category[repeat.category];
  const amountOn = (on: string): number => cents(amounts.findLast((one) => one.from <= on)?.amount ?? '0');
  let repeatId = '';
  const write = async ({ ask }: Ledger, on: string): Promise<void> => {
    const made = await ask('money.saveRepeat', {
      ...(repeatId === '' ? {} : { id: repeatId }),
      ...{ categoryId, payee, everyMonths, from, note },
      amountMinor: amountOn(on),
    });
    repeatId = made.id;
  };
  const days = daysDue({ from, until: null, everyMonths }, LAST, new Set());
  return days.map((on, at): Step => ({
    on,
    order: 2,
    async run(ledger) {
      const before = days[at - 1];
      if (before === undefined || amountOn(before) !== amountOn(on)) await write(ledger, on);
      await ledger.ask('money.bookDue', {
        ...{ repeatId, on, paidOn: on, receipt: true },
        amountMinor: amountOn(on),
      });
    },
  }));
}

const expenseStep = ({ on, payee, amount, note, lost, ...spent }: DemoExpense): Step => ({
  on,
  order: 2,
  async run({ ask }) {
    await ask('money.addExpense', {
      categoryId: category[spent.category],
      costOn: on,
      paidOn: on,
      payee,
      amountMinor: cents(amount),
      receipt: lost !== true,
      note,
    });
  },
});

const rateStep: Step = {
  on: mileRate.from,
  order: 0,
  async run({ ask }) {
    const { from, perMile, note } = mileRate;
    await ask('money.setMileageRate', { from, unit: 'mi', perUnitMicro: micro(perMile), note });
  },
};

const tripSteps = (): readonly Step[] =>
  trips.map(({ on, miles, purpose }) => ({
    on,
    order: 8,
    async run({ ask }) {
      await ask('money.addTrip', { on, distanceMilli: miles * 1000, unit: 'mi', purpose });
    },
  }));

const assetSteps = (): readonly Step[] =>
  assets.map(({ boughtOn, cost, lifeMonths, ...about }) => ({
    on: boughtOn,
    order: 1,
    async run({ ask }) {
      await ask('money.saveAsset', {
        ...about,
        boughtOn,
        inServiceOn: boughtOn,
        costMinor: cents(cost),
        method: { kind: 'months', lifeMonths },
      });
    },
  }));

/** The platform pays out on the last day of the month, after everybody who joined or left. */
const supporterSteps = (): readonly Step[] =>
  monthsBetween(rateStep.on, LAST).map((month) => ({
    on: monthEnd(month),
    order: 9,
    async run({ ask }) {
      const months = await ask('money.supporterMonths', {});
      const found = months.find((one) => one.month === month);
      if (found === undefined) throw new Error(`No supporters in ${month}`);
      const { grossMinor, feeMinor, on } = found;
      await ask('money.bookSupporters', { month, grossMinor, feeMinor, receivedOn: on });
    },
  }));

/** Every step of money beside purchases and sales. */
export const moneySteps = (): readonly Step[] => [
  rateStep,
  ...assetSteps(),
  ...repeats.flatMap(repeatSteps),
  ...expenses.map(expenseStep),
  ...tripSteps(),
  ...supporterSteps(),
];
