/** What followed the sales: parcels with their customs words, and knives that came in for sharpening. */
import { addDays } from '../domain/calendar.ts';
import { cents } from './amounts.ts';
import { idOf, type Ledger, type Step } from './ledger.ts';
import { looked, smallBox } from './postage.ts';
import { batches } from './tables/builds.ts';
import type { Variant } from './tables/models.ts';
import { buyers } from './tables/people.ts';
import { sales, type DemoSale } from './tables/sales.ts';
import { parcels, services, type DemoService, weights, wrapping } from './tables/services.ts';

const GRAM = 1_000_000_000;
/** Numbers of service invoices run by themselves, beside those of the sales. */
const pattern = 'S{YYYY}-{NNN}';

/** Words and number for a customs form; the number is what this maker looked up and would look up again. */
const customs = {
  customs: 'Hand-made knife, fixed steel blade, wooden handle',
  tariff: '8211.92',
  origin: 'US',
};

/** Packs a sold knife on the day after its sale. */
async function pack(ledger: Ledger, sale: DemoSale, variant: Variant): Promise<void> {
  const { ask, house } = ledger;
  const abroad = buyers[sale.buyer].where === 'abroad';
  const buildId = idOf(ledger, sale.serial);
  const sold = (await ask('builds.get', { id: buildId })).sale;
  if (sold === null) throw new Error(`${sale.serial} is packed but not sold`);
  const draft = await ask('care.parcelDraft', { saleId: sold.saleId });
  const net = weights[variant] * GRAM;
  const box = wrapping[smallBox.includes(variant) ? 'small' : 'large'] * GRAM;
  await ask('care.pack', {
    saleId: sold.saleId,
    on: addDays(sale.on, 1),
    carrier: abroad ? 'Air mail, insured' : 'Parcel post, signed for',
    weightNg: net + box,
    insuredMinor: sold.priceMinor,
    contents: draft.contents.map((line) => ({ ...line, ...(abroad ? customs : {}), weightNg: net })),
    ticks: await looked(ask, { buildId, buyerId: house.buyers[sale.buyer], abroad }),
  });
}

/** Writes a sharpening down, and its invoice where it was not free. */
async function serve(ledger: Ledger, service: DemoService): Promise<void> {
  const { ask, house } = ledger;
  const { serial, price, knife = '', buyer, receivedOn, doneOn, sentOn, note } = service;
  const made = await ask('care.saveService', {
    ...{ knife, receivedOn, doneOn, sentOn, note },
    kind: 'sharpening',
    buildId: serial === undefined ? null : idOf(ledger, serial),
    buyerId: house.buyers[buyer],
    priceMinor: price === undefined ? 0 : cents(price),
  });
  if (price === undefined) return;
  const taxPlaceId = house.places[buyers[buyer].where];
  await ask('care.invoiceService', { serviceId: made.id, taxPlaceId, issuedOn: doneOn, paidBy: 'transfer' });
}

const parcelStep = (serial: string): Step => {
  const sale = sales.find((one) => one.serial === serial);
  const build = batches.flatMap((batch) => batch.builds).find((one) => one.serial === serial);
  if (sale === undefined || build === undefined) throw new Error(`${serial} is packed but never sold`);
  return { on: addDays(sale.on, 1), order: 7, run: (ledger) => pack(ledger, sale, build.variant) };
};

/** Every parcel and every sharpening. */
export const afterSaleSteps = (): readonly Step[] => [
  {
    on: services[0]?.receivedOn ?? '',
    order: 0,
    run: async ({ ask }) => {
      await ask('billing.setPattern', { kind: 'service', pattern });
    },
  },
  ...parcels.map(parcelStep),
  ...services.map((service): Step => ({
    on: service.sentOn,
    order: 7,
    run: (ledger) => serve(ledger, service),
  })),
];
