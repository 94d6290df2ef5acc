/** Labels for the rack: which sheets there are, and how to get them printed. */
import type { Input } from '../../../electron/api/contract.ts';

/** One of the sheets labels can be set on. */
export type LabelSheet = Input<'rack.labels'>['sheet'];

/** The sheets labels can be set on, with how many one page holds. */
export const labelSheets: readonly {
  readonly value: LabelSheet;
  readonly label: string;
  readonly perPage: number;
}[] = [
  { value: 'roll62x29', label: 'Roll, 62 × 29 mm', perPage: 1 },
  { value: 'a4of24', label: 'A4 sheet of 24, 70 × 37 mm', perPage: 24 },
  { value: 'letterOf30', label: 'Letter sheet of 30, 2 5/8 × 1 in', perPage: 30 },
];
