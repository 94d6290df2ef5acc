/** Lists of lines a sheet for the preparer can be laid out by. They prepare figures; none of them decides how anything is taxed. */

/** Where a line stands: money in, cost of goods, money out. */
export type SheetPart = 'income' | 'goods' | 'expenses';

/** One term of a line that is reckoned from other lines. */
export interface Term {
  readonly code: string;
  readonly sign: 1 | -1;
}

export interface FormLine {
  readonly code: string;
  readonly label: string;
  readonly part: SheetPart;
  /** The lines this one adds up; left out for a line that takes figures of the books. */
  readonly terms?: readonly Term[];
  /** Share of what is on it that the line may show, parts per million; left out for all of it. */
  readonly sharePpm?: number;
}

export interface TaxForm {
  readonly id: string;
  readonly name: string;
  /** Whose list it is and what it was read from. */
  readonly note: string;
  readonly lines: readonly FormLine[];
  /** Line each source of figures is proposed for, by source. */
  readonly proposals: Readonly<Record<string, string>>;
}

const line = (part: SheetPart, code: string, label: string): FormLine => ({ part, code, label });
/** A line reckoned from others; a minus before a code takes it off. */
const reckoned = (part: SheetPart, code: string, label: string, terms: readonly string[]): FormLine => ({
  ...line(part, code, label),
  terms: terms.map((term) =>
    term.startsWith('-') ? { code: term.slice(1), sign: -1 } : { code: term, sign: 1 },
  ),
});

const scheduleCExpenses: readonly FormLine[] = [
  line('expenses', '8', 'Advertising'),
  line('expenses', '9', 'Car and truck expenses'),
  line('expenses', '10', 'Commissions and fees'),
  line('expenses', '11', 'Contract labor'),
  line('expenses', '12', 'Depletion'),
  line('expenses', '13', 'Depreciation and section 179 expense deduction'),
  line('expenses', '14', 'Employee benefit programs'),
  line('expenses', '15', 'Insurance (other than health)'),
  line('expenses', '16a', 'Interest: mortgage (paid to banks, etc.)'),
  line('expenses', '16b', 'Interest: other'),
  line('expenses', '17', 'Legal and professional services'),
  line('expenses', '18', 'Office expense'),
  line('expenses', '19', 'Pension and profit-sharing plans'),
  line('expenses', '20a', 'Rent or lease: vehicles, machinery, equipment'),
  line('expenses', '20b', 'Rent or lease: other business property'),
  line('expenses', '21', 'Repairs and maintenance'),
  line('expenses', '22', 'Supplies (not included in Part III)'),
  line('expenses', '23', 'Taxes and licenses'),
  line('expenses', '24a', 'Travel'),
  // 2024 instructions: half of the cost of business meals.
  { ...line('expenses', '24b', 'Deductible meals'), sharePpm: 500_000 },
  line('expenses', '25', 'Utilities'),
  line('expenses', '26', 'Wages (less employment credits)'),
  line('expenses', '27a', 'Energy efficient commercial buildings deduction'),
  line('expenses', '27b', 'Other expenses (from line 48)'),
];

/**
 * Schedule C (Form 1040) as it stood for tax year 2024: Parts I, II and III, and line 48 of Part V.
 * Source: copies of the 2024 form (omb.report and others); later forms were not read.
 */
export const scheduleC: TaxForm = {
  id: 'us-c',
  name: 'Schedule C (Form 1040), United States',
  note: 'Read for tax year 2024. Later forms were not read: check each line.',
  lines: [
    line('income', '1', 'Gross receipts or sales'),
    line('income', '2', 'Returns and allowances'),
    reckoned('income', '3', 'Line 1 less line 2', ['1', '-2']),
    reckoned('income', '4', 'Cost of goods sold (from line 42)', ['42']),
    reckoned('income', '5', 'Gross profit', ['3', '-4']),
    line('income', '6', 'Other income'),
    reckoned('income', '7', 'Gross income', ['5', '6']),
    ...scheduleCExpenses,
    reckoned(
      'expenses',
      '28',
      'Total expenses before business use of home',
      scheduleCExpenses.map(({ code }) => code),
    ),
    reckoned('expenses', '29', 'Tentative profit or loss', ['7', '-28']),
    line('expenses', '30', 'Business use of your home'),
    reckoned('expenses', '31', 'Net profit or loss', ['29', '-30']),
    line('goods', '35', 'Inventory at beginning of year'),
    line('goods', '36', 'Purchases less cost of items withdrawn for personal use'),
    line('goods', '37', 'Cost of labor, never your own'),
    line('goods', '38', 'Materials and supplies'),
    line('goods', '39', 'Other costs'),
    reckoned('goods', '40', 'Lines 35 to 39', ['35', '36', '37', '38', '39']),
    line('goods', '41', 'Inventory at end of year'),
    reckoned('goods', '42', 'Cost of goods sold', ['40', '-41']),
    reckoned('expenses', '48', 'Total other expenses (Part V)', ['27b']),
  ],
  proposals: {
    'income.knives': '1',
    'income.shipping': '1',
    'income.service': '1',
    'income.deposits': '1',
    'income.supporters': '1',
    'income.refunds': '2',
    'income.kept': '6',
    'income.content': '6',
    'income.other': '6',
    'goods.opening': '35',
    'goods.materials': '36',
    'goods.consumables': '36',
    'goods.personal': '36',
    'goods.closing': '41',
    'costs.incidental': '22',
    'costs.freight': '27b',
    'costs.postage': '27b',
    'costs.fees': '10',
    'costs.platform': '10',
    'costs.mileage': '9',
    'costs.depreciation': '13',
  },
};

const plainCategories: Readonly<Record<string, string>> = {
  'cat-supplies': 'C1',
  'cat-safety': 'C1',
  'cat-freight': 'C1',
  'cat-outside': 'C2',
  'cat-rent': 'C3',
  'cat-power': 'C3',
  'cat-insurance': 'C4',
  'cat-travel': 'C5',
  'cat-advertising': 'C6',
  'cat-website': 'C6',
  'cat-photo': 'C6',
  'cat-platform': 'C7',
  'cat-bank': 'C7',
  'cat-postage': 'C8',
  'cat-preparer': 'C9',
  'cat-tools': 'C11',
  'cat-licences': 'C12',
  'cat-office': 'C13',
  'cat-learning': 'C13',
  'cat-other': 'C13',
  // Tax handed on to the tax office is no expense.
  'cat-tax-paid': '',
};

/** Totals every list without totals of its own is closed with. */
const plainTotals: readonly FormLine[] = [
  { ...line('income', 'income', 'Income'), terms: [] },
  { ...line('goods', 'goods', 'Cost of goods'), terms: [] },
  { ...line('expenses', 'expenses', 'Expenses'), terms: [] },
  reckoned('expenses', 'result', 'Result: income less cost of goods less expenses', [
    'income',
    '-goods',
    '-expenses',
  ]),
];

/** Puts the totals of its part after the lines of a list that has none. */
export const withTotals = (lines: readonly FormLine[]): readonly FormLine[] => [
  ...lines,
  ...plainTotals.map((total) =>
    total.code === 'result'
      ? total
      : {
          ...total,
          terms: lines.filter(({ part }) => part === total.part).map(({ code }): Term => ({ code, sign: 1 })),
        },
  ),
];

const plainLines: readonly FormLine[] = [
  line('income', 'A1', 'Sales of goods, shipping charged'),
  line('income', 'A2', 'Services'),
  line('income', 'A3', 'Other income'),
  line('goods', 'B1', 'Stock at the beginning of the year'),
  line('goods', 'B2', 'Goods bought, less what was taken for own use'),
  line('goods', 'B3', 'Stock at the end of the year'),
  line('expenses', 'C1', 'Supplies'),
  line('expenses', 'C2', 'Work of others'),
  line('expenses', 'C3', 'Rent and power'),
  line('expenses', 'C4', 'Insurance'),
  line('expenses', 'C5', 'Car and travel'),
  line('expenses', 'C6', 'Advertising and website'),
  line('expenses', 'C7', 'Fees for payments and platforms'),
  line('expenses', 'C8', 'Postage'),
  line('expenses', 'C9', 'Professional help'),
  line('expenses', 'C10', 'Depreciation'),
  line('expenses', 'C11', 'Small tools and repairs'),
  line('expenses', 'C12', 'Taxes and licences'),
  line('expenses', 'C13', 'Other expenses'),
];

/** A plain list for anywhere: it follows no country's form. */
export const plainForm: TaxForm = {
  id: 'plain',
  name: 'Plain list, for any country',
  note: 'Follows no country’s form. Copy it and write the lines of your own form into the copy.',
  lines: withTotals(plainLines),
  proposals: {
    'income.knives': 'A1',
    'income.shipping': 'A1',
    'income.deposits': 'A1',
    'income.refunds': 'A1',
    'income.service': 'A2',
    'income.supporters': 'A3',
    'income.kept': 'A3',
    'income.content': 'A3',
    'income.other': 'A3',
    'goods.opening': 'B1',
    'goods.materials': 'B2',
    'goods.consumables': 'B2',
    'goods.personal': 'B2',
    'goods.closing': 'B3',
    'costs.incidental': 'C1',
    'costs.freight': 'C1',
    'costs.postage': 'C8',
    'costs.fees': 'C7',
    'costs.platform': 'C7',
    'costs.mileage': 'C5',
    'costs.depreciation': 'C10',
    ...Object.fromEntries(Object.entries(plainCategories).map(([id, code]) => [`category:${id}`, code])),
  },
};

/** Lists that come with the house. */
export const houseForms: readonly TaxForm[] = [scheduleC, plainForm];

/** The list proposed for a country (ISO 3166-1 alpha-2). */
export const formFor = (country: string): TaxForm => (country === 'US' ? scheduleC : plainForm);

/** Newest tax year the lines of a form were read for; null for lists that follow no form. */
export const readForYear = (formId: string): number | null => (formId === scheduleC.id ? 2024 : null);
