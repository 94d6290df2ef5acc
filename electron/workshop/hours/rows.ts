/** Sessions as the contract shows them. */
import type { SessionRow, SessionShare, SessionSource, SessionVersion, WorkKind } from '../../api/hours.ts';
import type { ReadDb } from '../../storage/db.ts';
import { type SessionRecord, type ShareRecord, sharesOf } from '../../storage/queries/hours.ts';

const toShare = (share: ShareRecord): SessionShare => ({
  buildId: share.build_id,
  serial: share.serial,
  title: share.title,
  minutes: share.minutes,
  weight: share.weight,
});

const toRow = (record: SessionRecord, shares: readonly ShareRecord[]): SessionRow => ({
  id: record.root_id,
  on: record.on_date,
  startedAt: record.started_at,
  endedAt: record.ended_at,
  minutes: record.minutes,
  stageCode: record.stage_code,
  stageName: record.stage_name,
  workKind: record.work_kind as WorkKind | null,
  source: record.source as SessionSource,
  note: record.note,
  shares: shares.map(toShare),
  personId: record.person_id,
  personName: record.person_name,
  makingId: record.making_id,
  makingTitle: record.making_title,
  setupMinutes: record.setup_minutes,
  corrections: record.version - 1,
});

function sharesBySession(db: ReadDb, records: readonly SessionRecord[]): Map<string, ShareRecord[]> {
  const byId = new Map<string, ShareRecord[]>(records.map((record) => [record.id, []]));
  for (const share of sharesOf(db, [...byId.keys()])) byId.get(share.session_id)?.push(share);
  return byId;
}

/** Rows with their shares, fetched together. */
export function sessionRows(db: ReadDb, records: readonly SessionRecord[]): SessionRow[] {
  const shares = sharesBySession(db, records);
  return records.map((record) => toRow(record, shares.get(record.id) ?? []));
}

/** Versions of one session; each is named by its own id. */
export function versionRows(db: ReadDb, records: readonly SessionRecord[]): SessionVersion[] {
  const shares = sharesBySession(db, records);
  return records.map((record) => ({
    ...toRow(record, shares.get(record.id) ?? []),
    id: record.id,
    recordedAt: record.recorded_at,
    reason: record.reason,
    cancelled: record.cancelled === 1,
  }));
}
