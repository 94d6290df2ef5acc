/** What a making cost, line by line: one for each thing that went in, one for each kind of charge. */
import type { Working } from '../../api/costs.ts';
import type { MakingLine } from '../../api/makings.ts';
import { microToMinor } from '../../domain/money.ts';
import type { InputRecord, MakingChargeRecord } from '../../storage/queries/makings.ts';
import { inputWords } from './words.ts';

interface Entry {
  readonly key: string;
  readonly label: string;
  readonly working: Working;
}

const ofInput = (input: InputRecord, currency: string): Entry => ({
  key: `item:${input.item_id}`,
  label: input.item_name,
  working: {
    on: input.on_date,
    label: input.part_label === '' ? input.item_name : input.part_label,
    how: inputWords(input, currency),
    exactMicro: input.value_micro,
    rung: null,
    source:
      input.from_making_id === null
        ? { kind: 'lot', id: input.lot_id }
        : { kind: 'making', id: input.from_making_id },
  },
});

const ofCharge = (charge: MakingChargeRecord): Entry => ({
  key: `charge:${charge.label}`,
  label: charge.label,
  working: {
    on: charge.on_date,
    label: charge.label,
    how: charge.burn_id === null ? 'entered as an amount' : 'its part of a firing',
    exactMicro: charge.amount_micro,
    rung: null,
    source: { kind: 'charge', id: charge.id },
  },
});

const standing = (charge: MakingChargeRecord): boolean =>
  charge.reverses_id === null && charge.reversed_by_id === null;

/**
 * Lines in the order they first come; each is rounded once.
 * @param decimals of the currency's minor unit
 */
export function makingLines(
  inputs: readonly InputRecord[],
  charges: readonly MakingChargeRecord[],
  house: { readonly currency: string; readonly decimals: number },
): MakingLine[] {
  const lines = new Map<string, { label: string; working: Working[] }>();
  const entries = [
    ...inputs.map((input) => ofInput(input, house.currency)),
    ...charges.filter(standing).map(ofCharge),
  ];
  for (const { key, label, working } of entries) {
    const line = lines.get(key) ?? { label, working: [] };
    line.working.push(working);
    lines.set(key, line);
  }
  return [...lines].map(([key, { label, working }]) => {
    const exactMicro = working.reduce((so, one) => so + one.exactMicro, 0);
    return { key, label, exactMicro, amountMinor: microToMinor(exactMicro, house.decimals), working };
  });
}
