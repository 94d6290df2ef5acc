/** Papers of the invented demo workshop, for the tests of the documents. */
import type { CostSheetPaper, InvoicePaper } from '../../electron/documents/types.ts';

export const invoicePaper: InvoicePaper = {
  size: 'Letter',
  language: 'en',
  madeAt: '2024-08-25T15:30:00.000Z',
  workshopName: 'Sedgewarren Edge Shop',
  title: 'Invoice',
  labels: { to: 'For', what: 'What', quantity: 'Quantity', each: 'Each', tax: 'Tax', amount: 'Amount' },
  draftMark: null,
  number: '2024-0003',
  seller: {
    name: 'Sedgewarren Edge Shop',
    lines: ['Jorun Sedgewarren', '4 Withy Lane', 'Alderholt Ferry'],
    contact: ['bench@sedgewarren.example', '+1 555 0142'],
  },
  buyer: { name: 'Maribel Oxenmoor', lines: ['27 Tannery Row', 'Upper Gosling'] },
  facts: [
    { label: 'Date', text: '2024-08-25' },
    { label: 'Supplied', text: '2024-08-25' },
    { label: 'Due', text: '2024-09-08' },
    { label: 'Currency', text: 'USD' },
    { label: 'Our tax number', text: 'HS-48-20117' },
  ],
  lines: [
    {
      description: 'Tessel paring, full tang',
      detail: 'Serial W03 · walnut, stainless strip',
      qty: '1',
      unitPrice: '150.00',
      tax: '6.5 %',
      amount: '150.00',
    },
    { description: 'Shipping', detail: '', qty: '1', unitPrice: '12.00', tax: '6.5 %', amount: '12.00' },
  ],
  totals: [
    { label: 'Net', amount: '162.00', strong: false },
    { label: 'Sales tax 6.5 % on 162.00', amount: '10.53', strong: false },
    { label: 'Total USD', amount: '172.53', strong: true },
    { label: 'Paid 2024-08-25', amount: '-172.53', strong: false },
    { label: 'Left to pay', amount: '0.00', strong: false },
  ],
  payment: null,
  notes: ['Paid with thanks.'],
  remarks: [
    {
      heading: 'Care',
      text: 'Wash by hand, wipe dry, strop when it drags. The first sharpening is free within a year.',
    },
  ],
};

/** A final invoice in German with everything an invoice can carry. */
export const richInvoice: InvoicePaper = {
  ...invoicePaper,
  size: 'A4',
  language: 'de',
  folio: 'Seite {page} von {pages}',
  title: 'Schlussrechnung',
  labels: { to: 'An', what: 'Was', quantity: 'Menge', each: 'Einzeln', tax: 'Steuer', amount: 'Betrag' },
  totals: [
    { label: 'Netto', amount: '453,78', strong: false },
    { label: 'USt. 19 %', amount: '86,22', strong: false },
    { label: 'Gesamt', amount: '540,00', strong: false },
    {
      label: 'Abzüglich bezahlt, Anzahlungsrechnung A-2024-0013 vom 30.08.2024',
      amount: '-135,00',
      strong: false,
    },
    { label: 'Noch zu zahlen, EUR', amount: '405,00', strong: true },
  ],
  payment: {
    heading: 'So können Sie zahlen',
    facts: [
      { label: 'Kontoinhaber', text: 'Sedgewarren Edge Shop' },
      { label: 'IBAN', text: 'DE89 3704 0044 0532 0130 00' },
      { label: 'BIC', text: 'COBADEFFXXX' },
      { label: 'Referenz', text: 'RF18 5390 0754 7034' },
      { label: 'Betrag', text: '405,00 EUR' },
      { label: 'Bis', text: '24.12.2024' },
    ],
    code: {
      text: 'BCD\n002\n1\nSCT\n\nSedgewarren Edge Shop\nDE89370400440532013000\nEUR405\n\nRF18539007547034',
      caption: 'Mit der Banking-App scannen, dann ist die Überweisung ausgefüllt.',
    },
  },
  remarks: [
    ...invoicePaper.remarks,
    {
      heading: 'Material mit Artenschutzregeln',
      text: 'Griffholz (Dalbergia latifolia), gelistet: CITES II, Nachweis P-118. Die geltende Regel prüfen.',
    },
  ],
};

const section = (heading: string, ...rows: readonly (readonly [string, string, string])[]) => ({
  heading,
  rows: rows.map(([label, detail, amount]) => ({ label, detail, amount, strong: false })),
});
const withSum = (
  part: ReturnType<typeof section>,
  label: string,
  amount: string,
): ReturnType<typeof section> => ({
  ...part,
  rows: [...part.rows, { label, detail: '', amount, strong: true }],
});

const stages = [
  ['Design', '15 min', '8.75'],
  ['Cut and profile', '25 min', '14.58'],
  ['Forge', '2 h 05', '72.92'],
  ['First grind', '1 h 20', '46.67'],
  ['Harden', '30 min', '17.50'],
  ['Straighten', '25 min', '14.58'],
  ['Second grind', '2 h 50', '99.17'],
  ['Hand finish', '5 h 45', '201.25'],
  ['Fittings', '1 h 05', '37.92'],
  ['Handle', '1 h 40', '58.33'],
  ['Finish', '2 h 05', '72.92'],
  ['Sharpen', '45 min', '26.25'],
  ['Photographs', '25 min', '14.58'],
  ['Listing', '25 min', '14.58'],
  ['Packing', '20 min', '11.67'],
  ['Messages', '15 min', '8.75'],
] as const;

export const costSheetPaper: CostSheetPaper = {
  size: 'Letter',
  language: 'en',
  madeAt: '2024-09-24T12:00:00.000Z',
  workshopName: 'Sedgewarren Edge Shop',
  title: 'Cost sheet',
  serial: 'W04',
  knife: 'Quenby chef, forged, hand-finished',
  facts: [
    { label: 'State', text: 'sold' },
    { label: 'Finished', text: '2024-09-21' },
    { label: 'As of', text: '2024-12-31' },
    { label: 'Currency', text: 'USD' },
  ],
  sections: [
    withSum(
      section(
        'Materials',
        ['Steel', '1/6 of a 48 in bar', '5.67'],
        ['Handle', 'burl block', '52.00'],
        ['Pins', '', '4.20'],
        ['Fittings', '', '2.80'],
        ['Epoxy', '0.5 fl oz', '0.88'],
      ),
      'Materials',
      '65.55',
    ),
    withSum(
      section('Used up', ['Consumables', '', '32.73'], ['Energy', '', '3.95'], ['Packaging', '', '6.80']),
      'Direct cost',
      '109.03',
    ),
    withSum(
      section(
        'Sale',
        ['Price', 'Tavish Pennycask, site', '540.00'],
        ['Shipping charged', '', '18.00'],
        ['Postage paid', '', '-23.59'],
        ['Fee', '2.9 % + 0.30', '-16.48'],
      ),
      'Contribution',
      '408.90',
    ),
  ],
  hours: {
    heading: 'Hours',
    rows: [
      ...stages.map(([label, time, amount]) => ({ label, time, amount, strong: false })),
      { label: 'Labour at 35.00/h', time: '20 h 40', amount: '723.33', strong: true },
      { label: 'Overhead at 8.03/h', time: '', amount: '165.95', strong: false },
    ],
  },
  views: [
    { label: 'Money out', meaning: 'What left the pocket for this knife.', amount: '109.03' },
    {
      label: 'At own rate',
      meaning: 'With the maker paid 35.00 an hour and overhead carried.',
      amount: '998.31',
    },
    { label: 'Stock value', meaning: 'What the knife stands at in the books.', amount: '109.03' },
  ],
  remarks: ['Consumables are still the usual amounts for the model, not counted openings.'],
  working: [
    {
      heading: 'Steel',
      rows: [
        {
          on: '2024-08-10',
          label: 'L-0003 52100 3/16',
          how: '1/6 of a 48 in bar at 34.00',
          exact: '5.666667',
        },
      ],
    },
    {
      heading: 'Consumables',
      rows: Array.from({ length: 14 }, (_, at) => ({
        on: '2024-08-10',
        label: `Belt ${at + 36}`,
        how: `0.${at + 10} of a belt at 9.80`,
        exact: `${at}.880000`,
      })),
    },
  ],
};
