/** Oil, gas and current in words. */
import type { BathEventKind, Burn } from '../../../electron/api/fires.ts';
import type { ItemRow } from '../../../electron/api/stock.ts';
import { propaneRate } from '../../../electron/domain/energy.ts';
import { ok, refuse } from '../../../electron/domain/outcome.ts';
import type { Outcome } from '../../../electron/domain/outcome.ts';
import { formatQuantity, parseQuantity } from '../../../electron/domain/quantity.ts';
import { shop } from '../../lib/shop.svelte.ts';

export const eventWords: Readonly<Record<BathEventKind, string>> = {
  fill: 'Filled',
  topUp: 'Topped up',
  quench: 'Quenched',
  filter: 'Filtered',
  water: 'Water suspected',
  change: 'Oil changed',
  reversal: 'Taken back',
};

export const burnWords: Readonly<Record<Burn['kind'], string>> = {
  gasByWeight: 'Gas, weighed',
  gasByHours: 'Gas, by time',
  current: 'Current',
};

/** Oil in the habit of the workshop: US gallons or litres. */
export const volume = (nl: number): string => formatQuantity(nl, 'volume', shop.isInch ? 'gal' : 'l');

/** A rate of burning in the habit of the workshop: `3.2 lb/h`. */
export const rate = (ng: number): string => `${formatQuantity(ng, 'weight', shop.isOunce ? 'lb' : 'kg')}/h`;

/** Gas that is kept by weight. */
export const gasOf = (items: readonly ItemRow[]): ItemRow[] =>
  items.filter((item) => item.kind === 'fuel' && item.form === 'weight' && !item.archived);

/** Oil that is kept by volume. */
export const oilOf = (items: readonly ItemRow[]): ItemRow[] =>
  items.filter((item) => item.form === 'volume' && item.kind === 'oil' && !item.archived);

/** A plate's output, such as `100,000 Btu/h`. */
const plate = /^([\d,]+)\s*btu(?:\s*\/\s*h|\s*per\s*hour)?$/i;

/**
 * Reads a rate of burning: `3.2 lb`, `1.5 kg/h`, or the burner's output `100000 Btu/h`, which counts as propane.
 * @returns nanograms an hour
 */
export const readRate = (text: string): Outcome<number> => {
  const output = plate.exec(text.trim())?.[1];
  if (output !== undefined) {
    const btu = Number(output.replaceAll(',', ''));
    return btu > 0 && btu < 1e8 ? ok(propaneRate(btu)) : refuse('Write the burner’s output above zero.');
  }
  const typed = text.trim().replace(/\s*(?:\/\s*h|per hour|an hour)\.?$/i, '');
  const read = parseQuantity(typed, 'weight', shop.isOunce ? 'lb' : 'kg', { zero: false });
  return read.ok ? ok(read.value.base) : read;
};
