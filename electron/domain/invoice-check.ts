/** Checks totals that came from outside against EN 16931. Nothing is mended: each difference is named. */
import { sum, sumOf } from './integers.ts';
import { lineNet, vatGroups, vatOn } from './invoice-totals.ts';
import type { DocumentAmount, InvoiceLine, InvoiceTotals, VatGroup } from './invoice-totals.ts';
import { decimalText } from './rational.ts';

/** An invoice as given: every figure as printed on it. Leave out what it does not state. */
export interface GivenInvoice extends Omit<InvoiceTotals, 'lineNetMinor'> {
  readonly decimals: number;
  readonly lines: readonly GivenLine[];
  readonly allowances?: readonly DocumentAmount[];
  readonly charges?: readonly DocumentAmount[];
}

export interface GivenLine extends InvoiceLine {
  /** BT-131 as printed. */
  readonly netMinor: number;
}

export interface Finding {
  /** Rule of the standard, or `line-net` for a line whose net is not price × quantity. */
  readonly rule: string;
  /** `fail`: the standard forbids it. `warn`: allowed, but look at it. */
  readonly severity: 'fail' | 'warn';
  readonly message: string;
  readonly expectedMinor: number;
  readonly givenMinor: number;
}

type Rule = readonly [rule: string, what: string, expected: number, given: number];

const finding = (severity: 'fail' | 'warn', rule: Rule, decimals: number): Finding => {
  const [name, what, expectedMinor, givenMinor] = rule;
  const message = `${what} is ${decimalText(givenMinor, decimals)}, but works out as ${decimalText(expectedMinor, decimals)}.`;
  return { rule: name, severity, message, expectedMinor, givenMinor };
};

const failing = (rules: readonly Rule[], decimals: number): Finding[] =>
  rules.filter(([, , expected, given]) => expected !== given).map((rule) => finding('fail', rule, decimals));

const totalRules = (given: GivenInvoice): Rule[] => {
  const amounts = (parts: readonly DocumentAmount[] | undefined): number =>
    sumOf(parts ?? [], (part) => part.amountMinor);
  return [
    ['BR-CO-10', 'The sum of the lines', sum(given.lines.map((line) => line.netMinor)), given.linesMinor],
    ['BR-CO-11', 'The sum of the allowances', amounts(given.allowances), given.allowancesMinor],
    ['BR-CO-12', 'The sum of the charges', amounts(given.charges), given.chargesMinor],
    [
      'BR-CO-13',
      'The total without tax',
      given.linesMinor - given.allowancesMinor + given.chargesMinor,
      given.exTaxMinor,
    ],
    ['BR-CO-14', 'The total tax', sumOf(given.groups, (group) => group.taxMinor), given.taxMinor],
    ['BR-CO-15', 'The total with tax', given.exTaxMinor + given.taxMinor, given.incTaxMinor],
    [
      'BR-CO-16',
      'The amount due',
      given.incTaxMinor - given.prepaidMinor + given.roundingMinor,
      given.dueMinor,
    ],
  ];
};

const UNTAXED = new Set(['Z', 'E', 'AE', 'O']);

/** The standard's own test tolerates a difference below one whole currency unit; an inexact figure is still worth a look. */
const checkGroupTax = (group: VatGroup, decimals: number): Finding[] => {
  if (UNTAXED.has(group.category)) {
    return failing(
      [[`BR-${group.category}-09`, `The tax of category ${group.category}`, 0, group.taxMinor]],
      decimals,
    );
  }
  const expected = vatOn(group.taxableMinor, group.ratePpm);
  const gap = Math.abs(expected - group.taxMinor);
  if (gap === 0) return [];
  const what = `The tax on ${decimalText(group.taxableMinor, decimals)}`;
  return [
    finding(gap < 10 ** decimals ? 'warn' : 'fail', ['BR-CO-17', what, expected, group.taxMinor], decimals),
  ];
};

const givenParts = (given: GivenInvoice): DocumentAmount[] => [
  ...given.lines.map((line) => ({
    category: line.category,
    ratePpm: line.ratePpm,
    amountMinor: line.netMinor,
  })),
  ...(given.charges ?? []),
  ...(given.allowances ?? []).map((part) => ({ ...part, amountMinor: -part.amountMinor })),
];

const sameKey =
  (a: VatGroup) =>
  (b: VatGroup): boolean =>
    a.category === b.category && a.ratePpm === b.ratePpm;

const groupRules = (given: GivenInvoice): Rule[] => {
  const wanted = vatGroups(givenParts(given));
  const unknown = given.groups.filter((group) => !wanted.some(sameKey(group)));
  const rule = (group: VatGroup, expected: number, stated: number): Rule => [
    `BR-${group.category}-08`,
    `The taxable amount of category ${group.category} at ${decimalText(group.ratePpm, 4)} %`,
    expected,
    stated,
  ];
  return [
    ...wanted.map((group) =>
      rule(group, group.taxableMinor, given.groups.find(sameKey(group))?.taxableMinor ?? 0),
    ),
    ...unknown.map((group) => rule(group, 0, group.taxableMinor)),
  ];
};

const checkLines = (given: GivenInvoice): Finding[] =>
  given.lines.flatMap((line, at) => {
    const expected = lineNet(line, given.decimals);
    if (expected === line.netMinor) return [];
    return [
      finding(
        'warn',
        ['line-net', `The net of line ${String(at + 1)}`, expected, line.netMinor],
        given.decimals,
      ),
    ];
  });

const checkBreakdown = (given: GivenInvoice): Finding[] =>
  given.groups.length > 0
    ? []
    : [
        {
          rule: 'BR-CO-18',
          severity: 'fail',
          message: 'The invoice has no tax breakdown. It needs at least one group, even where no tax is due.',
          expectedMinor: 0,
          givenMinor: 0,
        },
      ];

/** Everything that does not add up, in the order of the rules; an empty list means the totals hold. */
export const checkTotals = (given: GivenInvoice): Finding[] => [
  ...checkLines(given),
  ...failing(totalRules(given), given.decimals),
  ...given.groups.flatMap((group) => checkGroupTax(group, given.decimals)),
  ...checkBreakdown(given),
  ...failing(groupRules(given), given.decimals),
];
