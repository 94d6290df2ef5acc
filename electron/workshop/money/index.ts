/** Use-cases of expenses, mileage, assets and other income: which one answers which call. */
import type { moneyEndpoints } from '../../api/money.ts';
import type { Handlers } from '../handlers.ts';
import { assets, dispose, keepAsset, saveAsset } from './assets.ts';
import { categories, saveCategory } from './categories.ts';
import { addExpense, expenses, paid, payees, receiptKept, takeBack } from './expenses.ts';
import { bookIncome, incomes, received, takeBackIncome } from './incomes.ts';
import { addTrip, mileage, setMileageRate, takeBackTrip } from './mileage.ts';
import { bookDue, passDue, repeats, saveRepeat } from './repeats.ts';
import { saveSettings, settingsOf } from './settings.ts';
import { bookSupporters, supporterMonths } from './supporters.ts';

export const moneyHandlers: Pick<Handlers, keyof typeof moneyEndpoints> = {
  'money.categories': (ctx) => categories(ctx.db, ctx.clock.today()),
  'money.saveCategory': { run: saveCategory },
  'money.expenses': expenses,
  'money.payees': (ctx) => payees(ctx.db),
  'money.addExpense': { run: addExpense },
  'money.paid': { run: paid },
  'money.receiptKept': { run: receiptKept },
  'money.takeBack': { run: takeBack },
  'money.repeats': repeats,
  'money.saveRepeat': { run: saveRepeat },
  'money.bookDue': { run: bookDue },
  'money.passDue': { run: passDue },
  'money.mileage': mileage,
  'money.addTrip': { run: addTrip },
  'money.takeBackTrip': { run: takeBackTrip },
  'money.setMileageRate': { run: setMileageRate },
  'money.assets': assets,
  'money.saveAsset': { run: saveAsset },
  'money.dispose': { run: dispose },
  'money.keepAsset': { run: keepAsset },
  'money.incomes': incomes,
  'money.supporterMonths': supporterMonths,
  'money.bookSupporters': { run: bookSupporters },
  'money.addIncome': { run: (ctx, input) => bookIncome(ctx, input) },
  'money.received': { run: received },
  'money.takeBackIncome': { run: takeBackIncome },
  'money.settings': (ctx) => settingsOf(ctx.db),
  'money.saveSettings': { run: saveSettings },
};
