/** What the stock was worth on a past day, over the contract, against the bare SQL aggregate. */
import assert from 'node:assert/strict';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { call, freshFolder, openBooks, removeFolder } from './books.ts';
import { compare } from './pairs.ts';
import { fillRack, LOTS } from './rack-books.ts';

const folder = freshFolder();
await fillRack(folder);
const core = await openBooks(folder);
const bare = new Database(join(folder, 'workshop.db'), { readonly: true });
const aggregate = bare.prepare<[string], { id: string; qty: number; value: number }>(
  `SELECT l.item_id AS id, sum(m.qty) AS qty, sum(m.value_micro) AS value
   FROM movements m JOIN lots l ON l.id = m.lot_id WHERE m.on_date <= ? GROUP BY l.item_id`,
);
for (const on of ['2021-06-30', '2024-12-31']) {
  const ours = await call(core, 'rack.valueOn', { on });
  const floor = new Map(aggregate.all(on).map((row) => [row.id, row]));
  assert.ok(ours.rows.length > 400);
  for (const row of ours.rows)
    assert.deepEqual([row.qty, row.valueMicro], [floor.get(row.itemId)?.qty, floor.get(row.itemId)?.value]);
  await compare({
    name: `stock on ${on}, ${LOTS.toLocaleString('en')} lots and ${(LOTS * 10).toLocaleString('en')} movements`,
    limit: 1.5,
    pairs: 7,
    floorIs: 'the same sums by item with bare better-sqlite3, the statement prepared once',
    ours: { run: () => core.call('rack.valueOn', { on }) },
    floor: { run: () => aggregate.all(on) },
  });
}
bare.close();
await core.close();
removeFolder(folder);
