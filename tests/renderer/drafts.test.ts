import { describe, expect, it } from 'vitest';
import { blankItem, itemInput, unitOptions, withKind } from '../../renderer/areas/stock/item-draft.ts';
import { blankLine, isTouched, lineInput } from '../../renderer/areas/stock/purchase-draft.ts';
import { stockEndpoints } from '../../electron/api/stock.ts';
import { consumableKinds, optionsOf, kindWords } from '../../renderer/lib/words.ts';
import { consumableKinds as contractKinds, itemKinds } from '../../electron/api/stock.ts';

describe('an item while it is written', () => {
  it('begins as a bar in inches for steel, and becomes belts by the piece for belts', () => {
    const steel = blankItem('steel', 'Strip', true, true);
    expect([steel.form, steel.unit, steel.pieceWord]).toEqual(['length', 'in', 'bar']);
    const belt = withKind({ ...steel, kind: 'belt' }, true, true);
    // One new belt on is one belt less; steel goes by what knives take.
    expect([steel.consumedBy, belt.consumedBy]).toEqual(['use', 'opening']);
    expect([belt.name, belt.form, belt.unit, belt.pieceWord]).toEqual(['Strip', 'piece', 'piece', 'belt']);
  });

  it('is taken by the contract for every kind, in both habits', () => {
    for (const kind of itemKinds) {
      for (const metric of [true, false]) {
        const draft = blankItem(kind, 'Thing', !metric, !metric);
        expect(unitOptions(draft.form).map((unit) => unit.value)).toContain(draft.unit);
        expect(stockEndpoints['stock.saveItem'].input.safeParse(itemInput(draft)).success).toBe(true);
      }
    }
  });
});

describe('a purchase while it is written', () => {
  it('leaves out lines nobody has touched', () => {
    expect([
      isTouched(blankLine(0)),
      isTouched(blankLine(1, 'an item')),
      isTouched({ ...blankLine(2), priceMicro: 0 }),
    ]).toEqual([false, true, true]);
  });

  it('is refused with a sentence at the field that was left empty', () => {
    const input = { supplierId: 's', on: '2024-07-06', lines: [lineInput(blankLine(0, 'i'))] };
    const read = stockEndpoints['stock.buy'].input.safeParse(input);
    const faults = read.error?.issues.map((issue) => [issue.path.join('.'), issue.message]);
    expect(faults).toEqual([
      ['lines.0.qtyEach', 'Write a quantity, for example 48 in or 1/2.'],
      ['lines.0.priceMicro', 'Write an amount of money.'],
    ]);
  });
});

describe('words on the screen', () => {
  it('name the same consumables as the contract', () => {
    expect(consumableKinds).toEqual(contractKinds);
  });

  it('name every kind of item', () => {
    expect(optionsOf(kindWords).map((option) => option.value)).toEqual(itemKinds);
  });
});
