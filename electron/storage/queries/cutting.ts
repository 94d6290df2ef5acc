/** Reading what a cutting plan needs: blanks that knives still lack, and the bars and sheets of one item. */
import type { ReadDb, WriteDb } from '../db.ts';
import { partTaken } from './part-taken.ts';

/** Usual parts of open knives that come of one item, with what the knife took of them already, the oldest plan first. */
export const needsOfItem = (db: ReadDb, itemId: string) =>
  db.all(
    db.q
      .selectFrom('builds as b')
      .innerJoin('model_parts as p', 'p.model_id', 'b.model_id')
      .innerJoin('models as m', 'm.id', 'b.model_id')
      .select([
        'b.id as build_id',
        'b.serial',
        'b.title',
        'm.name as model_name',
        'p.label',
        'p.qty',
        partTaken().as('taken'),
      ])
      .where('p.item_id', '=', itemId)
      .where('p.use_as', '=', 'material')
      .where('b.state', 'in', ['planned', 'inWork'])
      .orderBy('b.planned_on')
      .orderBy('b.number')
      .orderBy('p.position'),
  );

/** How the models of some knives share a bar of an item: the blank's length and for how many the bar is planned. */
export const wholeBarParts = (db: ReadDb, itemId: string, buildIds: readonly string[]) =>
  buildIds.length === 0
    ? []
    : db.all(
        db.q
          .selectFrom('builds as b')
          .innerJoin('model_parts as p', 'p.model_id', 'b.model_id')
          .select(['b.id as build_id', 'p.qty', 'p.per_bar'])
          .where('p.item_id', '=', itemId)
          .where('p.use_as', '=', 'material')
          .where('p.per_bar', 'is not', null)
          .where('b.id', 'in', buildIds),
      );

/** What is left of an item, the oldest first, with all that a lot cut from it takes along. */
export const lotsToCut = (db: ReadDb, itemId: string) =>
  db.all(
    db.q
      .selectFrom('lots')
      .selectAll()
      .where('item_id', '=', itemId)
      .where('qty_left', '>', 0)
      .orderBy('received_on')
      .orderBy('number'),
  );

export type LotToCut = ReturnType<typeof lotsToCut>[number];

/** One lot with all its columns. */
export const lotToCut = (db: ReadDb, id: string): LotToCut | undefined =>
  db.one(db.q.selectFrom('lots').selectAll().where('id', '=', id));

/** Writes the size of a sheet on its lot. */
export const writeSheetSize = (db: WriteDb, id: string, size: { length: number; width: number }): number =>
  db.run(db.q.updateTable('lots').set({ length_nm: size.length, width_nm: size.width }).where('id', '=', id));
