import { describe, expect, it } from 'vitest';
import { standingOf } from '../../renderer/areas/invoices/invoice-words.ts';
import {
  blankSale,
  figuresInput,
  sellInput,
  usualChannel,
} from '../../renderer/areas/invoices/sale-draft.ts';

const drafted = () => ({ ...blankSale('2024-08-02', 'knife', 'home'), channelId: 'site', price: 28_500 });

describe('a sale while it is being written', () => {
  it('begins with the workshop’s own tax place, and with none where there is none', () => {
    expect([blankSale('2024-08-02', '', 'home').place, blankSale('2024-08-02', '', '').place]).toEqual([
      'home',
      'none',
    ]);
  });

  it('asks for figures only once knife, channel and price are there', () => {
    expect(figuresInput({ ...drafted(), price: undefined })).toBeUndefined();
    expect(figuresInput({ ...drafted(), channelId: '' })).toBeUndefined();
    expect(figuresInput(drafted())).toEqual({
      buildId: 'knife',
      channelId: 'site',
      taxPlaceId: 'home',
      abroad: false,
      priceMinor: 28_500,
      shippingMinor: 0,
      postagePaidMinor: 0,
    });
  });

  it('sends no payment and no due day with a sale that gets no invoice', () => {
    const draft = {
      ...drafted(),
      buyerId: 'tarn',
      place: 'none',
      paidBy: 'Cash',
      dueOn: '2024-08-16',
      ticks: ['law'],
    };
    const terms = {
      buildId: 'knife',
      channelId: 'site',
      taxPlaceId: null,
      abroad: false,
      buyerId: 'tarn',
      on: '2024-08-02',
      priceMinor: 28_500,
      shippingMinor: 0,
      postagePaidMinor: 0,
      ticks: ['law'],
    };
    expect(sellInput({ ...draft, invoice: false })).toEqual({ ...terms, invoice: false, paidBy: '' });
    expect(sellInput(draft)).toEqual({ ...terms, invoice: true, paidBy: 'Cash', dueOn: '2024-08-16' });
  });

  it('begins with the channel of the last sale, and with none before the first', () => {
    const offered = [
      { id: 'hand', name: 'Cash by hand' },
      { id: 'site', name: 'Own website' },
    ];
    expect(usualChannel(offered, undefined)).toBe('');
    expect(usualChannel(offered, 'Own website')).toBe('site');
    expect(usualChannel(offered, 'A show given up')).toBe('');
  });

  it('takes the packaging with it only where that is ticked', () => {
    const packaging = { partIds: ['box'], flatIds: [] };
    expect(sellInput(drafted(), packaging).packaging).toEqual(packaging);
    expect(sellInput(drafted())).not.toHaveProperty('packaging');
    expect(sellInput({ ...drafted(), packaging: false }, packaging)).not.toHaveProperty('packaging');
  });

  it('leaves an amount that cannot be read for the contract to refuse', () => {
    expect(sellInput({ ...drafted(), shipping: undefined }).shippingMinor).toBeNaN();
  });
});

describe('the standing of an invoice in words', () => {
  it('says overdue first, and that a part was paid', () => {
    const words = (
      [
        'open',
        'partPaid',
        'paid',
        'overpaid',
        'credited',
        'creditedOver',
        'creditedOpen',
        'partCreditedOver',
        'credit',
      ] as const
    ).map((state) => standingOf({ state, overdue: false }).text);
    expect(words).toEqual([
      'To be paid',
      'Paid in part',
      'Paid',
      'Paid too much',
      'Taken back',
      'Taken back, refund due',
      'Taken back, buyer owes',
      'Part taken back, refund due',
      'Credit note',
    ]);
    expect((['open', 'partPaid'] as const).map((state) => standingOf({ state, overdue: true }).text)).toEqual(
      ['Overdue', 'Overdue, paid in part'],
    );
  });
});
