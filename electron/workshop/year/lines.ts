/** The figures of one year as lines, from what was gathered. */
import { microToMinor } from '../../domain/money.ts';
import { perHour } from '../../domain/earnings.ts';
import { sumOf } from '../../domain/integers.ts';
import { type Line, sumLines } from '../../domain/year-lines.ts';
import { groupRows, sumSold } from '../../domain/year-sales.ts';
import type { WorkKind } from '../../api/hours.ts';
import type { YearFacts } from './gather.ts';

const money = (key: string, label: string, value: number, opens = true): Line => ({
  key,
  label,
  unit: 'money',
  value,
  opens,
});
const minutes = (key: string, label: string, value: number, opens = true): Line => ({
  key,
  label,
  unit: 'minutes',
  value,
  opens,
});

const workWords: Readonly<Record<WorkKind, string>> = {
  content: 'Content',
  messages: 'Admin and messages',
  cleaning: 'Cleaning',
  machines: 'Care of machines',
  service: 'Service',
  buying: 'Buying',
  other: 'Other work',
};

const incomeOf = (facts: YearFacts, kind: string): number =>
  sumOf(
    facts.incomes.filter((row) => row.kind === kind),
    (row) => row.gross_minor,
  );

/** Earned: on the day of the sale. */
export function incomeLines(facts: YearFacts): Line[] {
  const sold = sumSold(facts.sold);
  return [
    money('income.knives', 'Knife sales', sold.salesMinor),
    money('income.shipping', 'Shipping charged', sold.shippingMinor),
    money('income.supporters', 'Supporters', incomeOf(facts, 'supporters')),
    money(
      'income.service',
      'Service',
      sumOf(facts.cash.service, (one) => one.netMinor),
    ),
    money(
      'income.kept',
      'Deposits kept',
      sumOf(facts.cash.kept, (one) => one.netMinor),
    ),
    money('income.content', 'Content', incomeOf(facts, 'content')),
    money('income.other', 'Other income', incomeOf(facts, 'other')),
  ];
}

/** Income of knives, shipping in it, by channel. */
export const channelLines = (facts: YearFacts): Line[] =>
  [...groupRows(facts.sold, ({ sale }) => sale.channel_id)].map(([id, rows]) => {
    const { salesMinor, shippingMinor } = sumSold(rows);
    return money(`channel.${id}`, rows[0]?.sale.channel_name ?? id, salesMinor + shippingMinor);
  });

const spentOn = (facts: YearFacts, kind: string): number =>
  sumOf(
    facts.expenses.filter((row) => row.kind === kind),
    (row) => row.cost_minor,
  );

/** What the channel kept: of sales on the day of the sale, of deposits and services on the day they were paid. */
export const feesOf = (facts: YearFacts): number =>
  sumOf(facts.sold, ({ ownFeeMinor }) => ownFeeMinor) + sumOf(facts.fees, (row) => row.fee_minor);

/** Cost of what was scrapped: knives and makings. */
const scrapOf = (facts: YearFacts): number =>
  sumOf(
    facts.ended.filter((knife) => knife.state === 'scrapped'),
    (knife) => knife.directMinor,
  ) + sumOf(facts.makings, (making) => microToMinor(making.value_micro, facts.decimals));

function directLines(facts: YearFacts): Line[] {
  const of = (use: 'materials' | 'consumables' | 'energy' | 'packaging'): number =>
    sumOf(facts.sold, (one) => one.costs[use]);
  return [
    money('costs.materials', 'Materials', of('materials')),
    money('costs.consumables', 'Consumables', of('consumables')),
    money('costs.energy', 'Fuel and current', of('energy')),
    money('costs.packaging', 'Packaging', of('packaging')),
  ];
}

export function costLines(facts: YearFacts): Line[] {
  const postage = sumOf(facts.sold, ({ delta }) => delta.postageMinor);
  const service = sumOf(facts.servicePostage, (row) => row.postage_paid_minor);
  const platform = sumOf(facts.incomes, (row) => row.fee_minor) + spentOn(facts, 'platformFee');
  return [
    ...directLines(facts),
    money('costs.postage', 'Postage paid', postage + service + spentOn(facts, 'postage')),
    money('costs.fees', 'Payment fees', feesOf(facts)),
    money('costs.platform', 'Fees of the supporters’ platform', platform),
    money('costs.scrap', 'Scrapped or lost', scrapOf(facts)),
  ];
}

export function overheadLines(facts: YearFacts): Line[] {
  const categories = facts.expenses
    .filter((row) => row.kind === 'overhead' || row.kind === 'supplies')
    .map((row) => money(`overhead.${row.category_id}`, row.name, row.cost_minor));
  const written = sumOf(facts.depreciation, (row) => row.minor);
  const freight = sumOf(facts.freight, (row) => row.minor);
  const gained = sumOf(facts.depreciation, (row) => row.gainMinor ?? 0);
  return [
    ...categories,
    ...(freight === 0 ? [] : [money('overhead.freight', 'Freight kept out of stock', freight)]),
    ...(facts.mileageMinor === 0 ? [] : [money('overhead.mileage', 'Mileage', facts.mileageMinor)]),
    ...(written === 0 ? [] : [money('overhead.depreciation', 'Depreciation', written)]),
    ...(gained === 0 ? [] : [money('overhead.disposal', 'Loss on tools sold or lost, less gains', -gained)]),
  ];
}

const booked = (facts: YearFacts, pick: (row: YearFacts['hours'][number]) => boolean): number =>
  sumOf(facts.hours.filter(pick), (row) => row.minutes);
const onMakings = (row: YearFacts['hours'][number]): boolean => row.making === 1;
const onKnives = (row: YearFacts['hours'][number]): boolean => row.making === 0 && row.work_kind === null;

const otherLines = (facts: YearFacts): Line[] =>
  [
    ...groupRows(
      facts.hours.filter((row) => row.making === 0 && row.work_kind !== null),
      (row) => row.work_kind ?? '',
    ),
  ]
    .map(([kind, rows]) =>
      minutes(
        `hours.other.${kind}`,
        workWords[kind as WorkKind],
        sumOf(rows, (row) => row.minutes),
      ),
    )
    .toSorted((a, b) => (b.value ?? 0) - (a.value ?? 0));

/** Hours worked, those at the bench on knives begun in the year. */
export const hourLines = (facts: YearFacts): Line[] => [
  minutes('hours.bench', 'At the bench, on knives begun in the year', facts.minutesBegun),
  minutes('hours.makings', 'On shop-made goods', booked(facts, onMakings)),
  ...otherLines(facts),
];

/** Hours by the day they were worked. */
export const workedLines = (facts: YearFacts): Line[] => [
  minutes('worked.bench', 'At the bench, worked in the year', booked(facts, onKnives)),
  minutes('worked.makings', 'On shop-made goods', booked(facts, onMakings)),
  minutes(
    'worked.other',
    'Other work',
    booked(facts, (row) => row.making === 0 && row.work_kind !== null),
  ),
];

/** Where the booked hours went: stages, shop-made goods, other work; the longest first. */
export function wentLines(facts: YearFacts): Line[] {
  const names = new Map(facts.stages.map((stage) => [stage.code, stage.name]));
  const stages = [...groupRows(facts.hours.filter(onKnives), (row) => row.stage_code ?? '')].map(
    ([code, rows]) =>
      minutes(
        `went.stage.${code}`,
        names.get(code) ?? code,
        sumOf(rows, (row) => row.minutes),
      ),
  );
  const made = booked(facts, onMakings);
  const making = made === 0 ? [] : [minutes('went.makings', 'Shop-made goods', made)];
  const other = otherLines(facts).map((line) => ({ ...line, key: line.key.replace('hours.', 'went.') }));
  return [...stages, ...making, ...other].toSorted((a, b) => (b.value ?? 0) - (a.value ?? 0));
}

/** By the day of payment. */
export function cashLinesOf(facts: YearFacts): Line[] {
  const of = (kind: string): number =>
    sumOf(
      facts.cash.receipts.filter((one) => one.kind === kind),
      (one) => one.netMinor,
    );
  const received = (kind: string): number =>
    sumOf(
      facts.receivedIncomes.filter((row) => row.kind === kind),
      (row) => row.gross_minor,
    );
  return [
    money('cash.knives', 'Knives and shipping', of('knives')),
    money('cash.deposits', 'Deposits', of('deposits')),
    money('cash.service', 'Service', of('service')),
    money('cash.supporters', 'Supporters', received('supporters')),
    money('cash.content', 'Content', received('content')),
    money('cash.other', 'Other income', received('other')),
  ];
}

const total = (key: string, label: string, lines: readonly Line[]): Line => ({
  key,
  label,
  unit: lines[0]?.unit ?? 'money',
  value: sumLines(lines),
  opens: false,
});

/** Sums and rates of a year. */
export function headLines(facts: YearFacts) {
  const income = total('income.total', 'Income', incomeLines(facts));
  const costs = total('costs.total', 'Costs', costLines(facts));
  const overhead = total('overhead.total', 'Overhead', overheadLines(facts));
  const left = (income.value ?? 0) - (costs.value ?? 0) - (overhead.value ?? 0);
  const hours = total('hours.total', 'Hours worked', hourLines(facts));
  const worked = total('worked.total', 'Hours worked, by day', workedLines(facts));
  const sold = sumSold(facts.sold);
  const tax = taxRows(facts);
  const hourly = (key: string, label: string, amount: number, over: number): Line => ({
    key,
    label,
    unit: 'perHour',
    value: perHour(amount, over),
    opens: false,
  });
  return {
    ...{ income, costs, overhead, hours, worked, tax },
    direct: total('costs.direct', 'Direct cost of knives sold', directLines(facts)),
    cash: total('cash.total', 'Received', cashLinesOf(facts)),
    left: money('left', 'Left before labour and own taxes', left, false),
    contribution: money('contribution', 'Contribution of knives sold', sold.contributionMinor),
    perHour: hourly('rates.perHour', 'For each hour worked', left, hours.value ?? 0),
    perHourWorked: hourly('rates.perHourWorked', 'For each hour worked, by day', left, worked.value ?? 0),
    overheadPerBenchHour: hourly(
      'rates.overhead',
      'Overhead for each bench hour',
      overhead.value ?? 0,
      facts.minutesBegun,
    ),
    sold: {
      key: 'rates.sold',
      label: 'Knives sold',
      unit: 'count',
      value: sold.count,
      opens: true,
    } satisfies Line,
    soldMinutes: minutes('rates.soldMinutes', 'Build hours of knives sold', sold.minutes),
    taxDue: money(
      'tax.due',
      'Sales tax due',
      sumOf(tax, (row) => row.dueMinor),
      false,
    ),
  };
}

interface TaxRow {
  readonly key: string;
  readonly place: string;
  readonly label: string;
  readonly ratePpm: number;
  readonly baseMinor: number;
  readonly dueMinor: number;
  readonly collectedMinor: number;
}

type TaxAt = (place: string, label: string, ratePpm: number) => { base: number; due: number; got: number };

/** Tax due by the day it counts, as the sheet for the preparer has it; of sales without a paper, by their own day. */
function addDue(at: TaxAt, facts: YearFacts): void {
  for (const one of facts.taxDue) {
    const row = at(one.place, one.label, one.rate_ppm);
    row.due += one.due_minor;
    row.base += one.base_minor;
  }
  for (const { invoiceId, tax, taxMinor, taxBaseMinor } of facts.cash.receipts) {
    if (invoiceId !== null || taxMinor === 0) continue;
    const row = at(tax.place, tax.label, tax.ratePpm);
    row.due += taxMinor;
    row.base += taxBaseMinor;
  }
}

/** Names a row of tax. What has no place goes by what its tax is called, as on the sheet. */
export const taxKeyOf = (told: string, label: string, ratePpm: number): string =>
  `${told === '' ? label : told}|${label}|${String(ratePpm)}`;

/** Tax by place and rate: due by the day it counts, collected with the payment. */
function taxRows(facts: YearFacts): readonly TaxRow[] {
  const rows = new Map<
    string,
    Omit<TaxRow, 'key' | 'baseMinor' | 'dueMinor' | 'collectedMinor'> & ReturnType<TaxAt>
  >();
  const at = (told: string, label: string, ratePpm: number) => {
    const place = told === '' ? label : told;
    const key = taxKeyOf(told, label, ratePpm);
    const row = rows.get(key) ?? { place, label, ratePpm, base: 0, due: 0, got: 0 };
    rows.set(key, row);
    return row;
  };
  addDue(at, facts);
  for (const { tax, taxMinor } of facts.cash.receipts)
    if (taxMinor !== 0) at(tax.place, tax.label, tax.ratePpm).got += taxMinor;
  return [...rows].map(([key, row]) => ({
    key,
    place: row.place === '' ? 'No place told' : row.place,
    label: row.label,
    ratePpm: row.ratePpm,
    baseMinor: row.base,
    dueMinor: row.due,
    collectedMinor: row.got,
  }));
}
