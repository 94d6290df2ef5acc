/** A cost sheet in the shape of the tables. */
import type { CostSheet } from '../../electron/api/costs.ts';
import type { Expected } from './table.ts';

const money = (minor: number): string => (minor / 100).toFixed(2);

/** The figures of a cost sheet in the shape of the table. */
export const figuresOfSheet = (sheet: CostSheet): Expected => {
  const { sale } = sheet;
  return {
    serial: sheet.serial,
    minutes: sheet.minutes,
    mat: money(sheet.materialsMinor),
    cons: money(sheet.consumables.amountMinor),
    energy: money(sheet.energy.amountMinor),
    pack: money(sheet.packaging.amountMinor),
    sale:
      sale === null
        ? null
        : {
            on: sale.on,
            price: money(sale.priceMinor),
            charged: money(sale.shippingMinor),
            paid: money(Math.abs(sale.postage.amountMinor)),
            tax: money(sale.taxMinor),
            fee: money(Math.abs(sale.fee.amountMinor)),
            direct: money(sheet.directMinor),
            contribution: money(sale.contributionMinor),
            perHour: sale.contributionPerHourMinor === null ? '' : money(sale.contributionPerHourMinor),
          },
  };
};
