/** Rules for deposits: which are in force on a day, and how they were agreed. */
import { invalid, missing } from '../../api/errors.ts';
import type { Parsed } from '../../api/contract.ts';
import type { DepositPolicy } from '../../api/orders.ts';
import { type AgreedTerms, refundableRules, type RefundableRule, usualTerms } from '../../domain/deposits.ts';
import type { ReadDb } from '../../storage/db.ts';
import { insertPolicy, type PolicyRecord, policyRows, updatePolicy } from '../../storage/queries/orders.ts';
import type { CommandContext } from '../context.ts';
import type { HandlerFor } from '../handlers.ts';
import { needWorkshop } from '../workshop/need.ts';

const refundableOf = (text: string): RefundableRule =>
  refundableRules.find((rule) => rule === text) ?? 'untilWork';

/** A rule as it would be agreed now. */
const termsOf = (row: PolicyRecord): AgreedTerms => ({
  name: row.name,
  percentPpm: row.percent_ppm,
  leastMinor: row.least_minor,
  specialPpm: row.special_ppm,
  refundable: refundableOf(row.refundable),
  keptPpm: row.kept_ppm,
  depositDays: row.deposit_days,
  balanceDays: row.balance_days,
});

/** Of each name, the rule that began last on or before the day. */
function inForce(rows: readonly PolicyRecord[], day: string): ReadonlySet<string> {
  const latest = new Map<string, PolicyRecord>();
  for (const row of rows) {
    if (row.archived === 1 || row.from_date > day) continue;
    const known = latest.get(row.name);
    if (known === undefined || row.from_date > known.from_date) latest.set(row.name, row);
  }
  return new Set([...latest.values()].map((row) => row.id));
}

/** The rule offered first on a day; undefined where none is in force. */
export function firstInForce(rows: readonly PolicyRecord[], day: string): AgreedTerms | undefined {
  const force = inForce(rows, day);
  const first = rows.find((row) => force.has(row.id));
  return first && termsOf(first);
}

const toPolicy = (row: PolicyRecord, force: ReadonlySet<string>): DepositPolicy => ({
  id: row.id,
  from: row.from_date,
  ...termsOf(row),
  note: row.note,
  archived: row.archived === 1,
  inForce: force.has(row.id),
  agreedOrders: row.agreed,
});

/** Every rule, with those in force on a day. */
export const policies: HandlerFor<'orders.policies'> = (ctx, input) => {
  const rows = policyRows(ctx.db);
  const force = inForce(rows, input.on ?? ctx.clock.today());
  return { rows: rows.map((row) => toPolicy(row, force)), usual: usualTerms };
};

/**
 * The terms of a rule on the day of an agreement.
 * @throws FaultError of the field `policyId` when it was not in force then
 */
export function termsOn(db: ReadDb, policyId: string, day: string): AgreedTerms {
  const rows = policyRows(db);
  const row = rows.find((one) => one.id === policyId);
  if (row === undefined)
    throw invalid('This rule for deposits is not in the books. Choose another.', 'policyId');
  if (!inForce(rows, day).has(policyId))
    throw invalid(
      `The rule “${row.name}” from ${row.from_date} was not in force on ${day}. Choose another rule or day.`,
      'policyId',
    );
  return termsOf(row);
}

/** The terms an order was agreed by; undefined where none were. They were written by this program. */
export const agreedTerms = (text: string): AgreedTerms | undefined =>
  text === '' ? undefined : (JSON.parse(text) as AgreedTerms);

function demandNoTwin(rows: readonly PolicyRecord[], input: Parsed<'orders.savePolicy'>): void {
  const twin = rows.find(
    (row) => row.id !== input.id && row.name === input.name && row.from_date === input.from,
  );
  if (twin !== undefined)
    throw invalid(
      `There is a rule “${input.name}” from ${input.from} already. Change that one, or choose another day.`,
      'from',
    );
}

/** Adds a rule or changes one. Orders agreed before keep the terms they were agreed by. */
export function savePolicy(ctx: CommandContext, input: Parsed<'orders.savePolicy'>): DepositPolicy {
  needWorkshop(ctx.db);
  demandNoTwin(policyRows(ctx.db), input);
  const row = {
    name: input.name,
    from_date: input.from,
    percent_ppm: input.percentPpm,
    least_minor: input.leastMinor,
    special_ppm: input.specialPpm,
    refundable: input.refundable,
    kept_ppm: input.keptPpm,
    deposit_days: input.depositDays,
    balance_days: input.balanceDays,
    note: input.note,
    archived: input.archived ? 1 : 0,
  };
  const id = input.id ?? ctx.newId();
  if (input.id === undefined) insertPolicy(ctx.db, { id, ...row });
  else if (updatePolicy(ctx.db, id, row) === 0) throw missing('This rule for deposits is not in the books.');
  const rows = policyRows(ctx.db);
  const saved = rows.find((one) => one.id === id);
  if (saved === undefined) throw missing('This rule for deposits is not in the books.');
  return toPolicy(saved, inForce(rows, ctx.clock.today()));
}
