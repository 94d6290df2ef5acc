/** Lists of a workshop with ten thousand knives and twenty thousand lots are answered through indexes. */
import type { Compilable } from 'kysely';
import { CompiledQuery } from 'kysely';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildPageStatement, firstPhotos, stageProgress } from '../../electron/storage/queries/builds.ts';
import { invoicePageStatement } from '../../electron/storage/queries/selling-invoices.ts';
import { lotPageStatement } from '../../electron/storage/queries/lots.ts';
import type { ReadDb } from '../../electron/storage/db.ts';
import { openRig, type Rig } from './rig.ts';
import { type Shelf, stockShelf } from './shelf.ts';

let rig: Rig;
let shelf: Shelf;
beforeAll(async () => {
  rig = await openRig();
  shelf = await stockShelf(rig);
});
afterAll(() => rig.close());

/** How SQLite would answer a statement, one step a line. */
function planOf(db: ReadDb, statement: Compilable): string {
  const { sql, parameters } = statement.compile();
  const steps = db.all<{ detail: string }>({
    compile: () => CompiledQuery.raw(`EXPLAIN QUERY PLAN ${sql}`, [...parameters]),
  });
  return steps.map((step) => step.detail).join('\n');
}

const page = { limit: 200, offset: 0 };

describe('the lists', () => {
  it.each([
    ['newest first', {}, 'SCAN builds USING INDEX sqlite_autoindex_builds_2'],
    ['by serial', { sort: 'serial' as const }, 'SCAN builds USING INDEX sqlite_autoindex_builds_3'],
    ['in one state', { states: ['inWork'] }, 'SEARCH builds USING INDEX builds_by_state (state=?)'],
    ['of one model', { modelId: 'm' }, 'SEARCH builds USING INDEX builds_by_model (model_id=?)'],
  ])('of knives %s walks an index and sorts nothing', (_, filter, step) => {
    const plan = planOf(rig.db, buildPageStatement(rig.db, { ...filter, ...page }));
    expect([plan.includes(step), plan.includes('TEMP B-TREE'), plan]).toEqual([true, false, plan]);
  });

  it('of knives look up progress and photos through the keys of the page alone', () => {
    const seen: string[] = [];
    const spy: ReadDb = { ...rig.db, all: (statement) => (seen.push(planOf(rig.db, statement)), []) };
    for (const query of [stageProgress, firstPhotos]) query(spy, ['a', 'b']);
    expect(seen.map((plan) => /SCAN (?!json_each)/.test(plan))).toEqual([false, false]);
    expect(seen.every((plan) => /SEARCH (build_stages|attachments) USING (COVERING )?INDEX/.test(plan))).toBe(
      true,
    );
  });

  it.each([
    ['newest first', { onlyLeft: true }, 'SCAN lots USING INDEX sqlite_autoindex_lots_2'],
    ['of one item', { itemId: 'i', onlyLeft: false }, 'SEARCH lots USING INDEX lots_by_item (item_id=?)'],
    ['of one item with something left', { itemId: 'i', onlyLeft: true }, 'SEARCH lots USING INDEX lots_'],
  ])('of lots %s walks an index and sorts nothing', (_, filter, step) => {
    const plan = planOf(rig.db, lotPageStatement(rig.db, { ...filter, ...page }));
    expect([plan.includes(step), plan.includes('TEMP B-TREE'), plan]).toEqual([true, false, plan]);
  });
});

describe('the list of invoices', () => {
  it('walks the days backwards without sorting, and adds up payments and credits through their indexes', () => {
    const plan = planOf(rig.db, invoicePageStatement(rig.db, { today: '2024-07-06' }, 200, 0));
    expect([
      plan.includes('SCAN i USING INDEX invoices_by_date'),
      plan.includes('TEMP B-TREE'),
      plan,
    ]).toEqual([true, false, plan]);
    expect(plan).toMatch(/SEARCH y USING INDEX payments_by_invoice/);
    expect(plan).toMatch(/SEARCH c USING INDEX invoices_by_credited/);
  });
});

describe('a large workshop', () => {
  it('lists its first page, counts the rest and finds one knife among thousands', async () => {
    const line = {
      itemId: shelf.itemIds.bar,
      pieces: 500,
      qtyEach: 48 * 25_400_000,
      priceMicro: 12_000_000_000,
    };
    for (let at = 0; at < 10; at += 1) {
      await rig.call('stock.buy', {
        supplierId: shelf.supplierId,
        on: '2024-07-02',
        lines: [line, line, line, line],
      });
    }
    for (let at = 0; at < 200; at += 1) await shelf.plan(50);
    const lots = await rig.call('stock.lots', {});
    const builds = await rig.call('builds.list', {});
    const items = await rig.call('stock.items', {});
    const hits = await rig.call('find.anything', { text: 'w1999' });
    const bench = await rig.call('bench.today', {});
    expect([lots.total, lots.rows.length, builds.total, builds.rows.length, items.length]).toEqual([
      20_000, 200, 10_000, 200, 7,
    ]);
    expect([hits[0]?.title, bench.planned.total, bench.planned.rows.length]).toEqual(['W1999', 10_000, 8]);
  }, 120_000);
});
