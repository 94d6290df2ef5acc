/** What other areas may do to a knife: look it up, and start it when work or material first goes into it. */
import { missing, refused } from '../../api/errors.ts';
import type { Use } from '../../api/stock.ts';
import type { ReadDb, WriteDb } from '../../storage/db.ts';
import { buildRow } from '../../storage/queries/builds.ts';

/** A knife. @throws FaultError `missing` for an unknown id */
export function needBuild(db: ReadDb, id: string) {
  const build = buildRow(db, id);
  if (build === undefined) throw missing('This knife does not exist any more. Go back to the list.');
  return build;
}

export type NeededBuild = ReturnType<typeof needBuild>;

/**
 * Notes that work or material went into a knife on a day: a planned one is in work from then on, and one started
 * later than that day was started on it.
 * @throws FaultError `missing` for an unknown id
 */
export function touchBuild(db: WriteDb, id: string, on: string): void {
  const build = needBuild(db, id);
  const update = db.q.updateTable('builds').where('id', '=', id);
  if (build.state === 'planned') db.run(update.set({ state: 'inWork', started_on: on }));
  else if (build.started_on !== null && on < build.started_on) db.run(update.set({ started_on: on }));
}

const ended: Readonly<Record<string, string>> = {
  sold: 'is sold; only packaging can still go into it',
  scrapped: 'is scrapped; take it back to the bench first',
  kept: 'is kept out of sale; take it back to the bench first',
};

/** @throws FaultError `refused` when nothing more may go into the knife; a sold one still takes its packaging */
export function demandOpenFor(build: NeededBuild, use: Use): void {
  const why = ended[build.state];
  if (why === undefined || (build.state === 'sold' && use === 'packaging')) return;
  throw refused(`${build.serial} ${why}.`);
}

const closed: Readonly<Record<string, string>> = {
  sold: 'is sold, so what it cost stays as it is. If it comes back, take this back then.',
  scrapped: 'is scrapped, so what it cost stays as it is. Take it back to the bench first.',
  kept: 'is kept out of sale, so what it cost stays as it is. Take it back to the bench first.',
};

/**
 * The one rule for taking back what a knife was charged with or took off the rack: the figures of a knife that has
 * ended have been given out. What may still go into it, the packaging of a sold one, may also come out again.
 * @throws FaultError `refused` when the knife has ended
 */
export function demandOpenToTakeBack(build: NeededBuild, use: Use): void {
  const why = closed[build.state];
  if (why === undefined || (build.state === 'sold' && use === 'packaging')) return;
  throw refused(`${build.serial} ${why}`);
}
