/** Use-cases: things that last for years, what is taken of them each year, and what becomes of them. */
import type { Asset, AssetList, Disposal } from '../../api/money.ts';
import type { Parsed } from '../../api/contract.ts';
import { invalid, missing, refused } from '../../api/errors.ts';
import { basisOf, schedule } from '../../domain/depreciation.ts';
import { sumOf } from '../../domain/integers.ts';
import { yearName } from '../../domain/fiscal-year.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  type AssetRow,
  assetRows,
  insertAsset,
  nextAssetNumber,
  updateAsset,
} from '../../storage/queries/money.ts';
import type { CommandContext, QueryContext } from '../context.ts';
import { needWorkshop } from '../workshop/need.ts';
import { demandSound } from './checks.ts';
import { depreciable, ownYears, tableWarnings } from './depreciation.ts';
import { settingsOf } from './settings.ts';

/** Years up to the last that has anything in it; at least the first. */
const withoutTail = <Y extends { readonly minor: number; readonly gainMinor: number | null }>(
  years: readonly Y[],
): readonly Y[] =>
  years.slice(0, Math.max(1, years.findLastIndex((year) => year.minor !== 0 || year.gainMinor !== null) + 1));

function toAsset(db: ReadDb, row: AssetRow, today: string): Asset {
  const thing = depreciable(row);
  const names = ownYears(db, thing);
  const years = schedule(thing, names).map((year, at) => {
    const named = names[at];
    return { ...year, name: named === undefined ? year.from : yearName(named) };
  });
  const basisMinor = basisOf(thing);
  const now = years.findLast((year) => year.from <= today);
  return {
    id: row.id,
    number: row.number,
    name: row.name,
    supplier: row.supplier,
    boughtOn: row.bought_on,
    inServiceOn: row.in_service_on,
    costMinor: row.cost_minor,
    sharePpm: row.share_ppm,
    residualMinor: row.residual_minor,
    method: row.method as Asset['method'],
    lifeMonths: row.life_months,
    classYears: row.class_years as Asset['classYears'],
    convention: row.convention as Asset['convention'],
    note: row.note,
    disposedOn: row.disposed_on,
    disposedHow: row.disposed_how as Disposal | null,
    proceedsMinor: row.proceeds_minor,
    disposalNote: row.disposal_note,
    files: row.files,
    basisMinor,
    leftMinor: now?.leftMinor ?? basisMinor,
    schedule: withoutTail(years),
  };
}

function together(assets: readonly Asset[]): AssetList['years'] {
  const spans = new Map(
    assets.flatMap((asset) => asset.schedule.map(({ from, to, name }) => [from, { from, to, name }])),
  );
  const sums = [...spans.values()].map((span) => {
    const mine = assets.flatMap((asset) => asset.schedule.filter((year) => year.from === span.from));
    return {
      ...span,
      minor: sumOf(mine, (year) => year.minor),
      gainMinor: sumOf(mine, (year) => year.gainMinor ?? 0),
    };
  });
  return sums.toSorted((a, b) => (a.from < b.from ? -1 : 1));
}

/** Every asset with its schedule, and all of them together by fiscal year. */
export function assets(ctx: QueryContext): AssetList {
  const rows = assetRows(ctx.db);
  const today = ctx.clock.today();
  const all = rows.map((row) => toAsset(ctx.db, row, today));
  return {
    assets: all,
    years: together(all),
    warnings: tableWarnings(ctx.db, rows),
    smallToolMinor: settingsOf(ctx.db).smallToolMinor,
  };
}

function needAsset(db: ReadDb, id: string): AssetRow {
  const row = assetRows(db).find((one) => one.id === id);
  if (row === undefined) throw missing('This is not in the books any more. Reload the page.');
  return row;
}

function columnsOf(input: Parsed<'money.saveAsset'>) {
  const { method } = input;
  return {
    name: input.name,
    supplier: input.supplier,
    bought_on: input.boughtOn,
    in_service_on: input.inServiceOn,
    cost_minor: input.costMinor,
    share_ppm: input.sharePpm,
    residual_minor: method.kind === 'months' ? input.residualMinor : 0,
    method: method.kind,
    life_months: method.kind === 'months' ? method.lifeMonths : null,
    class_years: method.kind === 'table' ? method.classYears : null,
    convention: method.kind === 'table' ? method.convention : null,
    note: input.note,
  };
}

/** Writes an asset down, or mends what was written wrong. */
export function saveAsset(ctx: CommandContext, input: Parsed<'money.saveAsset'>): Asset {
  needWorkshop(ctx.db);
  const { boughtOn, inServiceOn, costMinor, residualMinor } = input;
  demandSound(ctx, { boughtOn, inServiceOn }, { costMinor });
  if (inServiceOn < boughtOn)
    throw invalid('It cannot be in use before it was bought. Change one of the days.', 'inServiceOn');
  if (residualMinor > costMinor)
    throw invalid('It cannot be worth more at the end than it cost. Check both.', 'residualMinor');
  const before = input.id === undefined ? undefined : needAsset(ctx.db, input.id);
  const disposed = before?.disposed_on ?? null;
  if (disposed !== null && inServiceOn > disposed)
    throw invalid(`It went on ${disposed}. It cannot have been put into use later.`, 'inServiceOn');
  const id = before?.id ?? ctx.newId();
  if (before === undefined)
    insertAsset(ctx.db, {
      id,
      number: nextAssetNumber(ctx.db),
      ...columnsOf(input),
      disposed_on: null,
      disposed_how: null,
    });
  else updateAsset(ctx.db, id, columnsOf(input));
  return toAsset(ctx.db, needAsset(ctx.db, id), ctx.clock.today());
}

/** Says what became of an asset. */
export function dispose(ctx: CommandContext, input: Parsed<'money.dispose'>): Asset {
  const row = needAsset(ctx.db, input.id);
  demandSound(ctx, { on: input.on }, { proceedsMinor: input.proceedsMinor });
  if (row.disposed_on !== null) throw refused(`${row.name} went on ${row.disposed_on} already.`);
  if (input.on < row.bought_on)
    throw invalid(`It was bought on ${row.bought_on}; it cannot go before.`, 'on');
  if (input.on < row.in_service_on)
    throw invalid(`It was put into use on ${row.in_service_on}; it cannot go before.`, 'on');
  if (input.how !== 'sold' && input.how !== 'lost' && input.proceedsMinor > 0)
    throw invalid('Nothing comes in for what was given away or scrapped. If it was sold, say so.', 'how');
  updateAsset(ctx.db, row.id, {
    disposed_on: input.on,
    disposed_how: input.how,
    proceeds_minor: input.proceedsMinor,
    disposal_note: input.note,
  });
  return toAsset(ctx.db, needAsset(ctx.db, row.id), ctx.clock.today());
}

/** Takes a disposal back: the thing is still there. The reason stays in the history. */
export function keepAsset(ctx: CommandContext, { id }: Parsed<'money.keepAsset'>): Asset {
  const row = needAsset(ctx.db, id);
  if (row.disposed_on === null) throw refused(`${row.name} is still there.`);
  updateAsset(ctx.db, id, {
    disposed_on: null,
    disposed_how: null,
    proceeds_minor: 0,
    disposal_note: '',
  });
  return toAsset(ctx.db, needAsset(ctx.db, id), ctx.clock.today());
}
