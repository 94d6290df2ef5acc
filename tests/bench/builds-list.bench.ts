/** The list of knives over the contract against the same list read with bare better-sqlite3. */
import assert from 'node:assert/strict';
import Database from 'better-sqlite3';
import type { BuildRow } from '../../electron/api/builds.ts';
import { call, freshFolder, openBooks, planManyKnives, removeFolder } from './books.ts';
import { compare } from './pairs.ts';

type Progress = Readonly<{
  build_id: string;
  stage_code: string;
  stages_all: number;
  stages_done: number;
  next_position: number | null;
}>;

/** What a person would write by hand: the same three questions, prepared once. */
const bareList = (file: string) => {
  const db = new Database(file, { readonly: true });
  const page = db.prepare<[number, number], Omit<BuildRow, 'stagesDone'>>(
    `SELECT b.id, b.serial, b.title, b.model_id AS modelId, m.code AS modelCode, m.name AS modelName, b.state, b.method,
       b.batch, b.planned_on AS plannedOn, b.started_on AS startedOn, b.finished_on AS finishedOn, b.minutes,
       b.cost_micro AS costMicro
     FROM builds b JOIN models m ON m.id = b.model_id ORDER BY b.number DESC LIMIT ? OFFSET ?`,
  );
  const progress = db.prepare<[string], Progress>(
    `SELECT build_id, stage_code, count(*) AS stages_all, count(done_on) AS stages_done,
       min(CASE WHEN done_on IS NULL THEN position END) AS next_position
     FROM build_stages WHERE build_id IN (SELECT value FROM json_each(?)) GROUP BY build_id`,
  );
  const photos = db.prepare<[string], { owner_id: string; id: string }>(
    `SELECT owner_id, id, min(added_at) FROM attachments WHERE owner_kind = 'build' AND role = 'photo'
       AND removed_at IS NULL AND owner_id IN (SELECT value FROM json_each(?)) GROUP BY owner_id`,
  );
  const names = db.prepare<[], { code: string; name: string }>('SELECT code, name FROM stages');
  const count = db.prepare<[], { n: number }>('SELECT count(*) AS n FROM builds');
  const list = (limit: number) => {
    const rows = page.all(limit, 0);
    const ids = JSON.stringify(rows.map((row) => row.id));
    const along = new Map(progress.all(ids).map((row) => [row.build_id, row]));
    const photo = new Map(photos.all(ids).map((row) => [row.owner_id, row.id]));
    const stage = new Map(names.all().map((row) => [row.code, row.name]));
    return {
      rows: rows.map((row) => {
        const at = along.get(row.id);
        const next = at?.next_position == null ? null : at.stage_code;
        return {
          ...row,
          stagesDone: at?.stages_done ?? 0,
          stagesAll: at?.stages_all ?? 0,
          nextStageCode: next,
          nextStageName: next === null ? null : (stage.get(next) ?? null),
          photoId: photo.get(row.id) ?? null,
        };
      }),
      total: count.get()?.n ?? 0,
    };
  };
  return { list, close: () => db.close() };
};

const folder = freshFolder();
const core = await openBooks(folder);
await planManyKnives(core);
const bare = bareList(`${folder}/workshop.db`);
for (const [limit, times] of [
  [200, 20],
  [10_000, 1],
] as const) {
  assert.deepEqual(await call(core, 'builds.list', { limit }), bare.list(limit));
  await compare({
    name: `list of knives, ${limit.toLocaleString('en')} of 10,000`,
    limit: 1.5,
    times,
    floorIs: 'the same list read with bare better-sqlite3, its statements prepared once',
    ours: { run: () => core.call('builds.list', { limit }) },
    floor: { run: () => bare.list(limit) },
  });
}
bare.close();
await core.close();
removeFolder(folder);
