/** What is being written about a parcel. */
import type { Input } from '../../../electron/api/contract.ts';
import type { ParcelLine } from '../../../electron/api/care.ts';
import { missingNumber } from '../../lib/form.svelte.ts';

export interface LineDraft {
  readonly key: number;
  what: string;
  customs: string;
  qty: number | undefined;
  weightNg: number | undefined;
  valueMinor: number | undefined;
  tariff: string;
  origin: string;
}

/** A line to write on, empty or as proposed. */
export const lineDraft = (key: number, line?: ParcelLine): LineDraft => ({
  key,
  what: line?.what ?? '',
  customs: line?.customs ?? '',
  qty: line?.qty ?? 1,
  weightNg: line?.weightNg ?? undefined,
  valueMinor: line?.valueMinor,
  tariff: line?.tariff ?? '',
  origin: line?.origin ?? '',
});

/** The line as the books take it. */
export const lineInput = ({
  what,
  customs,
  qty,
  weightNg,
  valueMinor,
  tariff,
  origin,
}: LineDraft): Input<'care.pack'>['contents'][number] => ({
  what,
  customs,
  qty: qty ?? missingNumber,
  weightNg: weightNg ?? null,
  valueMinor: valueMinor ?? missingNumber,
  tariff,
  origin,
});
