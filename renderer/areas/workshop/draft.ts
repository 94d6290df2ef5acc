/** The workshop's details while they are being written. */
import type { TaxCategory, Workshop } from '../../../electron/api/workshop.ts';
import { missingNumber } from '../../lib/form.svelte.ts';
import type { Habits } from '../../lib/countries.ts';

export interface DetailsDraft {
  name: string;
  maker: string;
  address: string;
  city: string;
  region: string;
  postcode: string;
  country: string;
  email: string;
  phone: string;
  website: string;
  taxNumber: string;
  registerNumber: string;
  currency: string;
  lengthHabit: 'inch' | 'mm';
  weightHabit: 'oz' | 'g';
  paper: 'A4' | 'Letter';
  invoicePattern: string;
  invoiceTermsDays: number | undefined;
  invoiceNote: string;
}

export interface TaxDraft {
  name: string;
  label: string;
  ratePpm: number | undefined;
  onShipping: boolean;
  inclusive: boolean;
  rounding: 'invoice' | 'line';
  note: string;
  depositTax: 'deposit' | 'balance' | 'delivery';
  forfeitTaxed: boolean;
  category: TaxCategory;
  reasonCode: string;
}

/** A blank sheet with what is usual in a country. */
export const blankDetails = (habits: Habits): DetailsDraft => ({
  name: '',
  maker: '',
  address: '',
  city: '',
  region: '',
  postcode: '',
  country: habits.country,
  email: '',
  phone: '',
  website: '',
  taxNumber: '',
  registerNumber: '',
  currency: habits.currency,
  lengthHabit: habits.lengthHabit,
  weightHabit: habits.weightHabit,
  paper: habits.paper,
  invoicePattern: '{YYYY}-{NNNN}',
  invoiceTermsDays: 14,
  invoiceNote: '',
});

/** The details as they stand in the books, to be changed. */
export const detailsOf = (workshop: Workshop): DetailsDraft => {
  const { homeTaxPlaceId: _home, ...details } = workshop;
  return { ...details };
};

/** What the contract takes. */
export const detailsInput = (draft: DetailsDraft) => ({
  ...draft,
  invoiceTermsDays: draft.invoiceTermsDays ?? missingNumber,
});

export const blankTax = (habits: Pick<Habits, 'taxLabel' | 'inclusive'>): TaxDraft => ({
  name: '',
  label: habits.taxLabel,
  ratePpm: undefined,
  onShipping: true,
  inclusive: habits.inclusive,
  rounding: 'invoice',
  note: '',
  depositTax: 'balance',
  forfeitTaxed: false,
  category: '',
  reasonCode: '',
});

export const taxInput = (draft: TaxDraft) => ({ ...draft, ratePpm: draft.ratePpm ?? missingNumber });
