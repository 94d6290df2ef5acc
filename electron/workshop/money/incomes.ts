/** Use-cases: income that is on no invoice. Never rewritten; a mistake is taken back by a row of the opposite sum. */
import type { Income, IncomeKind, IncomeList, LevelHeads } from '../../api/money.ts';
import type { Parsed } from '../../api/contract.ts';
import { invalid, missing, refused } from '../../api/errors.ts';
import { sumOf } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  incomeReceived,
  type IncomeRow,
  incomeRow,
  incomeRows,
  insertIncome,
} from '../../storage/queries/money.ts';
import type { CommandContext, QueryContext } from '../context.ts';
import { notInFuture } from '../selling/sale.ts';
import { demandSound, demandStanding } from './checks.ts';

/** Heads by level as a row keeps them. */
export const headsOf = (row: IncomeRow): readonly LevelHeads[] =>
  row.heads === null ? [] : (JSON.parse(row.heads) as readonly LevelHeads[]);

const toIncome = (row: IncomeRow): Income => ({
  id: row.id,
  kind: row.kind as IncomeKind,
  earnedOn: row.earned_on,
  receivedOn: row.received_on,
  payer: row.payer,
  grossMinor: row.gross_minor,
  feeMinor: row.fee_minor,
  note: row.note,
  month: row.month,
  heads: headsOf(row),
  files: row.files,
  reason: row.reason,
  reversesId: row.reverses_id,
  reversedById: row.reversed_by_id,
});

/** Income of a span of days, the latest first. */
export function incomes(ctx: QueryContext, { from, to }: Parsed<'money.incomes'>): IncomeList {
  const rows = incomeRows(ctx.db, { from: from ?? '0000-00-00', to: to ?? '9999-99-99' }).map(toIncome);
  return {
    rows,
    grossMinor: sumOf(rows, (row) => row.grossMinor),
    feeMinor: sumOf(rows, (row) => row.feeMinor),
  };
}

function needIncome(db: ReadDb, id: string): IncomeRow {
  const row = incomeRow(db, id);
  if (row === undefined) throw missing('This income is not in the books.');
  return row;
}

/** Income as one row. */
export interface Earned {
  readonly kind: IncomeKind;
  readonly earnedOn: string;
  readonly receivedOn: string | null;
  readonly payer: string;
  readonly grossMinor: number;
  readonly feeMinor: number;
  readonly note: string;
  readonly month?: string;
  readonly heads?: readonly LevelHeads[];
}

/** Books income. @throws FaultError naming the field that is wrong */
export function bookIncome(ctx: CommandContext, earned: Earned): Income {
  const { earnedOn, receivedOn, grossMinor, feeMinor } = earned;
  demandSound(ctx, { earnedOn, receivedOn }, { grossMinor });
  if (feeMinor > grossMinor)
    throw invalid('The fee cannot be more than what came in. Check both.', 'feeMinor');
  const id = ctx.newId();
  insertIncome(ctx.db, {
    id,
    kind: earned.kind,
    earned_on: earnedOn,
    received_on: receivedOn,
    payer: earned.payer,
    gross_minor: grossMinor,
    fee_minor: feeMinor,
    note: earned.note,
    month: earned.month ?? null,
    heads: earned.heads === undefined ? null : JSON.stringify(earned.heads),
    reason: '',
    reverses_id: null,
  });
  return toIncome(needIncome(ctx.db, id));
}

/** Says when awaited money came. */
export function received(ctx: CommandContext, { id, on }: Parsed<'money.received'>): Income {
  const row = needIncome(ctx.db, id);
  if (row.reverses_id !== null || row.reversed_by_id !== null)
    throw refused('This income was taken back; nothing is awaited on it.');
  if (row.received_on !== null) throw refused(`This came on ${row.received_on} already.`);
  notInFuture(ctx, on, 'on');
  incomeReceived(ctx.db, id, on);
  return toIncome(needIncome(ctx.db, id));
}

/** Takes income back by a row of the opposite sum; a month of supporters can then be booked anew. */
export function takeBackIncome(ctx: CommandContext, input: Parsed<'money.takeBackIncome'>): Income {
  const before = needIncome(ctx.db, input.id);
  demandStanding(ctx, before, { of: before.earned_on, on: input.on });
  const id = ctx.newId();
  const later = before.received_on !== null && input.on < before.received_on ? before.received_on : input.on;
  insertIncome(ctx.db, {
    id,
    kind: before.kind,
    earned_on: input.on,
    received_on: before.received_on === null ? null : later,
    payer: before.payer,
    gross_minor: -before.gross_minor,
    fee_minor: 0 - before.fee_minor,
    note: before.note,
    month: before.month,
    heads: before.heads,
    reason: input.reason,
    reverses_id: before.id,
  });
  return toIncome(needIncome(ctx.db, id));
}
